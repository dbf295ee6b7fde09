"""Outlines with as many corners as one likes, as bad drawings and traces have them."""

from collections.abc import Callable
from typing import Any

import numpy as np
import shapely
from shapely import Polygon


def jagged(corners: int, radius: float = 40.0, depth: float = 0.6) -> Polygon:
    """A disc whose edge runs in and out at random."""
    turns = np.linspace(0, 2 * np.pi, corners, endpoint=False)
    radii = radius - depth * np.random.default_rng(corners).random(corners)
    return Polygon(np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))


def comb(teeth: int, width: float = 200.0, deep: float = 20.0) -> Polygon:
    """A bar with thin teeth, all of one width and as far apart."""
    pitch = width / teeth
    points = [(width, 10.0), (width, 0.0), (0.0, 0.0)]
    for k in range(teeth):
        x = k * pitch
        points += [(x, 10.0), (x, 10 + deep), (x + pitch / 2, 10 + deep), (x + pitch / 2, 10.0)]
    return Polygon(points)


def spiral(corners: int, width: float = 1.0, rounds: int = 12) -> Polygon:
    """A strip of one width rolled up."""
    turns = np.linspace(0.6, 2 * np.pi * rounds, corners // 2)
    radii = 3 + 2 * width * turns / (2 * np.pi)
    sides = [
        np.column_stack([r * np.cos(turns), r * np.sin(turns)]) for r in (radii, radii + width)
    ]
    return Polygon(np.concatenate([sides[0], sides[1][::-1]]))


def rough(shape: Polygon, corners: int, noise: float) -> Polygon:
    """A shape with many corners along its edge, each moved at random; the largest part of it."""
    random = np.random.default_rng(corners)
    rings = [
        np.asarray(ring.coords)[:-1]
        for ring in _rings(shapely.segmentize(shape, shape.length / corners))
    ]
    moved = [ring + noise * (random.random(ring.shape) - 0.5) for ring in rings]
    whole = shapely.make_valid(Polygon(moved[0], moved[1:]), method="structure")
    return max(
        (part for part in shapely.get_parts(whole) if isinstance(part, Polygon)),
        key=lambda part: part.area,
    )


def _rings(shape: Polygon) -> list[shapely.LinearRing]:
    return [shape.exterior, *shape.interiors]


def plain(function: Callable[..., Any]) -> Callable[..., Any]:
    """A compiled function as plain Python, in which work can be counted."""
    found: Callable[..., Any] = getattr(function, "py_func", function)
    return found

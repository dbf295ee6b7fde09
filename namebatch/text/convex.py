"""Convex pieces: what ink is fitted with, and what an area has in its way."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from namebatch.template.guide import Floats

FLAT = 1e-9
"""Share by which a convex hull may be larger than a shape that counts as convex."""

SPECK_MM2 = 1e-12
"""Triangles of no more are lines."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A convex piece.

    Attributes:
        corners: (n, 2), counter-clockwise.
        normals: (n, 2), of length 1, outwards from each side.
        reaches: (n,), how far the piece reaches that way from the origin.
    """

    corners: Floats
    normals: Floats
    reaches: Floats

    def placed(self, size: float, x: float, y: float) -> "Piece":
        """The piece scaled, then moved."""
        shift = np.array([x, y])
        return Piece(
            self.corners * size + shift, self.normals, self.reaches * size + self.normals @ shift
        )


def piece_round(points: Floats, cut: float) -> Piece:
    """A convex piece round points, with few sides; it reaches past them by about `cut`."""
    hull = shapely.convex_hull(shapely.multipoints(points))
    plain = shapely.simplify(hull, cut).convex_hull
    if not isinstance(plain, Polygon):
        plain = shapely.box(*hull.buffer(cut).bounds)
    corners = corners_of(plain)
    normals = normals_of(corners)
    reaches = (points @ normals.T).max(axis=0)
    # each corner is where the lines of two sides meet
    matrices = np.stack([np.roll(normals, 1, axis=0), normals], axis=1)
    limits = np.stack([np.roll(reaches, 1), reaches], axis=1)
    return Piece(np.linalg.solve(matrices, limits[:, :, None])[:, :, 0], normals, reaches)


def piece_of(polygon: Polygon) -> Piece:
    """A convex polygon as it is."""
    corners = corners_of(polygon)
    normals = normals_of(corners)
    return Piece(corners, normals, (corners @ normals.T).max(axis=0))


def corners_of(polygon: Polygon) -> Floats:
    """Corners of an outer ring, (n, 2), counter-clockwise, none twice."""
    found: Floats = shapely.get_coordinates(shapely.orient_polygons(polygon).exterior)[:-1]
    return found


def normals_of(corners: Floats) -> Floats:
    """Outwards from each side of a ring of corners, (n, 2), of length 1."""
    steps = np.roll(corners, -1, axis=0) - corners
    normals = np.column_stack([steps[:, 1], -steps[:, 0]])
    found: Floats = normals / np.hypot(normals[:, 0], normals[:, 1])[:, None]
    return found


def is_convex(polygon: Polygon) -> bool:
    """Whether a polygon has neither bays nor holes."""
    return bool(polygon.convex_hull.area <= polygon.area * (1 + FLAT))


def convex_parts(polygon: Polygon) -> tuple[Polygon, ...]:
    """Convex polygons that make up a polygon; few of them.

    Triangles of its corners are put together again as long as what comes out is convex.
    """
    if is_convex(polygon):
        return (polygon,)
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(polygon))
    parts = [part for part in _polygons(triangles) if part.area > SPECK_MM2]
    merged: list[Polygon] = []
    while parts:
        part = parts.pop(0)
        while (pair := _partner(part, parts)) is not None:
            index, part = pair
            del parts[index]
        merged.append(part)
    return tuple(merged)


def _partner(part: Polygon, others: list[Polygon]) -> tuple[int, Polygon] | None:
    """Another part that is convex together with this one: its index, and both in one."""
    for index, other in enumerate(others):
        if part.intersects(other):
            # round the corners, not round the union: that of two slivers may be lost
            corners = np.concatenate([corners_of(part), corners_of(other)])
            both = shapely.convex_hull(shapely.multipoints(corners))
            if isinstance(both, Polygon) and both.area <= (part.area + other.area) * (1 + FLAT):
                return index, both
    return None


def _polygons(shapes: Iterable[shapely.Geometry]) -> list[Polygon]:
    return [shape for shape in shapes if isinstance(shape, Polygon) and not shape.is_empty]

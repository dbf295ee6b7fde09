"""What rings of arcs measure: length, area, and points along them. mm.

A ring is its points and one bulge a point: the tangent of a quarter of the included angle of
the arc to the next point, counter-clockwise positive, 0 for a straight line. No bulges at all
mean that every line is straight.
"""

from collections.abc import Sequence
from math import pi

import numpy as np
from numpy.typing import ArrayLike

from namebatch.curves import Point
from namebatch.outline.arrays import Floats

FLAT = 1e-9
FINE_MM = 0.0005
"""Chords of points along arcs are no farther from them than this, unless told otherwise."""


def ring_length(points: ArrayLike, bulges: ArrayLike) -> float:
    """Length of a closed ring."""
    xy, quarter, chord = _parts(points, bulges)
    turn = np.abs(2.0 * quarter)
    # chord · θ/sin θ, θ half the included angle; np.sinc is sin(πx)/(πx)
    return float(np.sum(chord / np.sinc(turn / pi))) if len(xy) else 0.0


def ring_area(points: ArrayLike, bulges: ArrayLike) -> float:
    """Signed area of a closed ring, counter-clockwise positive.

    The polygon's by the shoelace formula, and to it the segments: r²/2·(α − sin α) for an
    included angle α.
    """
    xy, quarter, chord = _parts(points, bulges)
    if not len(xy):
        return 0.0
    ahead = np.roll(xy, -1, axis=0)
    polygon = np.sum(xy[:, 0] * ahead[:, 1] - xy[:, 1] * ahead[:, 0]) / 2.0
    curved = np.abs(quarter) > FLAT
    angle = 4.0 * quarter[curved]
    radius = chord[curved] / (2.0 * np.sin(angle / 2.0))
    return float(polygon + np.sum(radius * radius * (angle - np.sin(angle))) / 2.0)


def along_ring(points: ArrayLike, bulges: ArrayLike, chord_mm: float = FINE_MM) -> Floats:
    """Points along a closed ring: all its own, and as many on arcs as its chords need.

    Args:
        points: x and y, the first not repeated.
        bulges: one a point, or none.
        chord_mm: largest distance of a chord from its arc.

    Returns:
        x and y, the first not repeated.
    """
    xy, quarter, chord = _parts(points, bulges)
    if not np.any(np.abs(quarter) > FLAT):
        return xy
    theta = np.where(np.abs(quarter) > FLAT, quarter, 1.0)
    radius = chord / (2.0 * np.abs(np.sin(2.0 * theta)))
    # a chord that turns by δ stands off by r·(1 − cos(δ/2)) ≤ r·δ²/8
    step = np.sqrt(8.0 * chord_mm / np.maximum(radius, chord_mm))
    count = np.where(np.abs(quarter) > FLAT, np.ceil(np.abs(4.0 * quarter) / step), 1).astype(int)
    count = np.maximum(count, 1)
    owner = np.repeat(np.arange(len(xy)), count)
    start = np.repeat(np.cumsum(count) - count, count)
    t = (np.arange(len(owner)) - start) / count[owner]
    half = 2.0 * theta[owner]
    curved = np.abs(quarter[owner]) > FLAT
    scale = np.where(curved, np.sin(half * t) / np.sin(half), t)
    angle = np.where(curved, half * (t - 1.0), 0.0)
    way = (np.roll(xy, -1, axis=0) - xy)[owner]
    c, s = scale * np.cos(angle), scale * np.sin(angle)
    along: Floats = xy[owner] + np.column_stack(
        [way[:, 0] * c - way[:, 1] * s, way[:, 0] * s + way[:, 1] * c]
    )
    return along


def turned_round(
    points: Sequence[Point], bulges: Sequence[float]
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """The same ring run the other way round, from the same point."""
    back = (points[0], *reversed(points[1:])) if points else ()
    return tuple(back), tuple(-bulge for bulge in reversed(bulges))


def _parts(points: ArrayLike, bulges: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """Points, a quarter of each included angle, and lengths of the chords."""
    xy = np.asarray(points, dtype=float).reshape(-1, 2)
    bulge = np.asarray(bulges, dtype=float)
    quarter = np.arctan(bulge) if bulge.size else np.zeros(len(xy))
    way = np.roll(xy, -1, axis=0) - xy
    return xy, quarter, np.hypot(way[:, 0], way[:, 1])

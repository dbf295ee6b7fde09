"""What rings of arcs measure: length, area, and points along them. mm.

A ring is its points and one bulge a point: the tangent of a quarter of the included angle of
the arc to the next point, counter-clockwise positive, 0 for a straight line. No bulges at all
mean that every line is straight.
"""

from collections.abc import Sequence
from math import atan, ceil, cos, hypot, pi, sin, sqrt

import numpy as np
from numpy.typing import ArrayLike

from namebatch.curves import Point
from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled

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
    xy = np.asarray(points, dtype=float).reshape(-1, 2)
    bulge = np.asarray(bulges, dtype=float)
    if not np.any(np.abs(bulge) > FLAT):
        return xy
    along: Floats = _along(np.ascontiguousarray(xy), bulge, chord_mm)
    return along


@compiled
def _along(xy: Floats, bulges: Floats, chord_mm: float) -> Floats:
    """As `along_ring`, of a ring of which at least one line is an arc."""
    count = np.ones(len(xy), np.int64)
    for k in range(len(xy)):
        quarter = abs(atan(bulges[k]))
        if quarter > FLAT:
            x, y = xy[(k + 1) % len(xy)] - xy[k]
            radius = hypot(x, y) / (2.0 * abs(sin(2.0 * quarter)))
            # a chord that turns by δ stands off by r·(1 − cos(δ/2)) ≤ r·δ²/8
            step = sqrt(8.0 * chord_mm / max(radius, chord_mm))
            count[k] = max(1, ceil(4.0 * quarter / step))
    along = np.empty((count.sum(), 2))
    n = 0
    for k in range(len(xy)):
        along[n] = xy[k]
        x, y = xy[(k + 1) % len(xy)] - xy[k]
        half = 2.0 * atan(bulges[k])
        for i in range(1, count[k]):
            t = i / count[k]
            angle, scale = half * (t - 1.0), sin(half * t) / sin(half)
            c, s = scale * cos(angle), scale * sin(angle)
            along[n + i] = xy[k, 0] + x * c - y * s, xy[k, 1] + x * s + y * c
        n += count[k]
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

"""Polygons become arcs and lines again: fewer points, smooth where the letter is. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arc_cross import crossing_arcs
from namebatch.outline.arc_measure import farthest_from, samples_of
from namebatch.outline.arc_ring import fit_ring, telling, with_edges
from namebatch.outline.arrays import Flags, Floats, Ints

ARC_MM = 0.01
"""Arcs stay this near to the polygon that they replace."""
SHARE = 0.97
"""Arcs are asked for within this much of it: the rest is for rounding to four decimals."""
REPAIRS = 4
ON_EDGES, ON_ARCS = 4, 16
"""Points on each edge and each arc at which distances are measured."""


@dataclass(frozen=True, slots=True, eq=False)
class ArcRing:
    """A closed line of arcs and straight lines.

    Attributes:
        points: x and y of every node, two columns, the first not repeated.
        bulges: one a node: the tangent of a quarter of the included angle of the arc to the
            next node, counter-clockwise positive; 0 for a straight line.
    """

    points: Floats
    bulges: Floats


@dataclass(slots=True)
class _Fit:
    """A ring while it is fitted: its telling vertices and what stands for them."""

    x: Floats
    y: Floats
    points: Floats
    bulges: Floats
    marks: Ints

    def keep_edges(self, plain: Flags) -> None:
        """Give up some arcs for the polygon's edges."""
        self.points, self.bulges, self.marks = with_edges(
            self.x, self.y, self.points, self.bulges, self.marks, plain
        )

    def keep_polygon(self) -> None:
        """Give up all arcs."""
        self.points = np.column_stack([self.x, self.y])
        self.bulges = np.zeros(len(self.x))
        self.marks = 2 * np.arange(len(self.x))


def fit_arcs(ring: Floats, tolerance_mm: float = ARC_MM) -> ArcRing:
    """Fit arcs and lines to one closed polygon.

    Corners and straight edges that no curve within the tolerance explains stay as they are,
    to the last digit; everything between becomes arcs that meet without a kink, in so far as
    the tolerance lets them. A full circle becomes two halves. A ring that would cross itself
    keeps its edges there.

    Args:
        ring: x and y of at least three vertices in two columns; whether the first is repeated
            at the end does not matter. Chords of curves should be no farther than the
            tolerance from them; half of it gives far fewer arcs.
        tolerance_mm: largest distance between arcs and polygon, either way.

    Returns:
        The same way round as the ring.
    """
    return _fit([ring], tolerance_mm)[0]


def fit_outline(outline: Polygon, tolerance_mm: float = ARC_MM) -> tuple[ArcRing, ...]:
    """Fit arcs and lines to a polygon's rings, so that none touches another.

    Returns:
        The outer ring, then the inner ones in their order.
    """
    rings = [shapely.get_coordinates(ring) for ring in (outline.exterior, *outline.interiors)]
    return tuple(_fit(rings, tolerance_mm))


def deviation_mm(ring: Floats, fitted: ArcRing) -> float:
    """The largest distance between a polygon and the arcs that stand for it, either way.

    Measured afresh: vertices and points along edges to the nearest arc, and points along arcs
    to the nearest edge, each distance exactly.
    """
    xy = _open(ring)
    ahead = np.roll(xy, -1, axis=0)
    share = np.arange(ON_EDGES)[None, :, None] / ON_EDGES
    asked = (xy[:, None, :] + (ahead - xy)[:, None, :] * share).reshape(-1, 2)
    edges = np.column_stack([xy, ahead])
    arcs = _ends(fitted.points)
    px, py = samples_of(arcs, fitted.bulges, ON_ARCS)
    there = farthest_from(arcs, fitted.bulges, asked[:, 0].copy(), asked[:, 1].copy())
    back = farthest_from(edges, np.zeros(len(xy)), px, py)
    return max(there, back)


def _fit(rings: Sequence[Floats], tolerance_mm: float) -> list[ArcRing]:
    fits = [_fit_one(_open(ring), tolerance_mm) for ring in rings]
    for _ in range(REPAIRS):
        crossed = _crossed(fits)
        if not any(flags.any() for flags in crossed):
            break
        for fit, flags in zip(fits, crossed, strict=True):
            if np.any(flags & (fit.bulges == 0.0)):
                fit.keep_polygon()
            elif flags.any():
                fit.keep_edges(flags)
    else:
        for fit, flags in zip(fits, _crossed(fits), strict=True):
            if flags.any():
                fit.keep_polygon()
    return [_without_wide(ArcRing(fit.points, fit.bulges)) for fit in fits]


def _without_wide(ring: ArcRing) -> ArcRing:
    """Arcs above half a circle in two: some readers of bulges cannot tell them."""
    wide = np.abs(ring.bulges) > 1.0
    if not wide.any():
        return ring
    # the middle lies right of the chord by bulge · half of the chord (left for clockwise arcs)
    way = np.roll(ring.points, -1, axis=0) - ring.points
    middle = (
        ring.points
        + way / 2
        + np.column_stack([way[:, 1], -way[:, 0]]) * (ring.bulges[:, None] / 2)
    )
    half = np.where(wide, np.tan(np.arctan(ring.bulges) / 2), ring.bulges)
    at = np.flatnonzero(wide) + 1
    return ArcRing(
        np.insert(ring.points, at, middle[wide], axis=0), np.insert(half, at, half[wide])
    )


def _fit_one(xy: Floats, tolerance_mm: float) -> _Fit:
    kept = telling(xy[:, 0].copy(), xy[:, 1].copy())
    if len(kept) < 3:
        kept = np.arange(len(xy))
    x, y = xy[kept, 0].copy(), xy[kept, 1].copy()
    if len(kept) < 4:
        fit = _Fit(x, y, np.empty((0, 2)), np.empty(0), np.empty(0, dtype=np.int64))
        fit.keep_polygon()
        return fit
    return _Fit(x, y, *fit_ring(x, y, SHARE * tolerance_mm))


def _crossed(fits: Sequence[_Fit]) -> list[Flags]:
    """For each ring, which arcs meet others where they should not."""
    ends = np.concatenate([_ends(fit.points) for fit in fits])
    bulges = np.concatenate([fit.bulges for fit in fits])
    following = np.arange(1, len(bulges) + 1)
    starts = np.cumsum([0, *(len(fit.bulges) for fit in fits)])
    following[starts[1:] - 1] = starts[:-1]
    flags = crossing_arcs(ends, bulges, following)
    return [flags[a:b] for a, b in pairwise(starts)]


def _ends(points: Floats) -> Floats:
    """Start and end of every arc of a ring, four columns."""
    return np.column_stack([points, np.roll(points, -1, axis=0)])


def _open(ring: Floats) -> Floats:
    """The ring without a repeated first vertex."""
    xy = np.asarray(ring, dtype=np.float64)
    return xy[:-1] if len(xy) > 1 and np.array_equal(xy[0], xy[-1]) else xy

"""Polygons become arcs and lines again: fewer points, smooth where the letter is. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arc_cross import crossing_arcs
from namebatch.outline.arc_edges import farthest_from, with_edges
from namebatch.outline.arc_ring import SPECK_MM, fit_ring, telling
from namebatch.outline.arrays import Flags, Floats, Ints

ARC_MM = 0.01
"""Arcs stay this near to the polygon that they replace."""
SHARE = 0.97
"""Arcs are asked for within this much of it: the rest is for vertices too near to each other
to tell a direction, and for rounding to four decimals."""
REPAIRS = 8


@dataclass(frozen=True, slots=True, eq=False)
class ArcRing:
    """A closed line of arcs and straight lines.

    Attributes:
        points: x and y of every node, two columns, the first not repeated.
        bulges: one a node: the tangent of a quarter of the included angle of the arc to the
            next node, counter-clockwise positive; 0 for a straight line.
        deviation_mm: largest distance from the polygon, either way, as measured.
    """

    points: Floats
    bulges: Floats
    deviation_mm: float


@dataclass(slots=True)
class _Fit:
    """A ring while it is fitted: its telling vertices and what stands for them.

    Attributes:
        x: of the vertices.
        y: the same.
        nodes: of the arcs as fitted.
        bends: their bulges.
        marks: twice the vertex at each node.
        plain: which arcs give way to the polygon's edges.
        points: of the ring as it is with those edges.
        bulges: the same.
        owner: number of the arc to which each of them belongs.
    """

    x: Floats
    y: Floats
    nodes: Floats
    bends: Floats
    marks: Ints
    plain: Flags
    points: Floats
    bulges: Floats
    owner: Ints

    def build(self) -> None:
        """Put edges in place of the arcs that give way."""
        if self.plain.any():
            self.points, self.bulges, self.owner = with_edges(
                self.x, self.y, self.nodes, self.bends, self.marks, self.plain
            )

    def give_way(self, crossed: Flags) -> None:
        """Give up arcs that cross something; where they had given way already, those beside."""
        arcs = self.owner[crossed]
        again = arcs[self.plain[arcs]]
        self.plain[arcs] = True
        self.plain[again - 1] = True
        self.plain[(again + 1) % len(self.plain)] = True
        self.build()

    def give_up(self) -> None:
        """The polygon as it was."""
        self.plain[:] = True
        self.build()

    def ring(self) -> ArcRing:
        """What has come of it."""
        away = farthest_from(self.x, self.y, self.nodes, self.bends, self.marks, self.plain)
        return _without_wide(ArcRing(self.points, self.bulges, away + SPECK_MM))


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


def _fit(rings: Sequence[Floats], tolerance_mm: float) -> list[ArcRing]:
    fits = [_fit_one(_open(ring), tolerance_mm) for ring in rings]
    for _ in range(REPAIRS):
        crossed = _crossed(fits)
        if not any(flags.any() for flags in crossed):
            break
        for fit, flags in zip(fits, crossed, strict=True):
            if flags.any():
                fit.give_way(flags)
    else:
        for fit, flags in zip(fits, _crossed(fits), strict=True):
            if flags.any():
                fit.give_up()
    return [fit.ring() for fit in fits]


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
        np.insert(ring.points, at, middle[wide], axis=0),
        np.insert(half, at, half[wide]),
        ring.deviation_mm,
    )


def _fit_one(xy: Floats, tolerance_mm: float) -> _Fit:
    x, y = xy[:, 0].copy(), xy[:, 1].copy()
    kept = telling(x, y)
    if len(kept) >= 3:
        x, y = x[kept], y[kept]
    n = len(x)
    if n < 4:
        nodes, bends, marks = np.column_stack([x, y]), np.zeros(n), 2 * np.arange(n)
        plain = np.zeros(n, dtype=np.bool_)
    else:
        nodes, bends, marks, plain = fit_ring(x, y, SHARE * tolerance_mm)
    owner = np.arange(len(bends))
    fit = _Fit(x, y, nodes, bends, marks, plain, nodes, bends, owner)
    fit.build()
    return fit


def _crossed(fits: Sequence[_Fit]) -> list[Flags]:
    """For each ring, which of its arcs and lines meet others where they should not."""
    points = np.concatenate([fit.points for fit in fits])
    bulges = np.concatenate([fit.bulges for fit in fits])
    starts = np.cumsum([0, *(len(fit.bulges) for fit in fits)])
    flags = crossing_arcs(points, bulges, starts)
    return [flags[a:b] for a, b in pairwise(starts)]


def _open(ring: Floats) -> Floats:
    """The ring without a repeated first vertex."""
    xy = np.asarray(ring, dtype=np.float64)
    return xy[:-1] if len(xy) > 1 and np.array_equal(xy[0], xy[-1]) else xy

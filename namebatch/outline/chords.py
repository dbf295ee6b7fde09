"""Chords that are necks, from the boundary alone. Lengths in mm.

`facing.py` finds the chords. One is a neck if it joins two rings, or if both sides of it hold a
circle wider than itself; else one side is a tail that hangs by one end.
"""

from math import ceil, pi
from typing import Any

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.outline.boundary import Boundary, nearest_edge
from namebatch.outline.compiled import compiled
from namebatch.outline.facing import MANY, chords_below

BULGE_MM = 0.02
"""What hangs at a neck is a part of its own if it is wider than the neck by this much.

Chords of curves feign bulges of a few µm at the end of any stroke with parallel sides."""

COARSE = 0.5
"""Circles are tried so many widths apart first, which soon finds the body of a piece."""
FINE_MM = 0.06
"""Then so far apart: a small bulge holds its circle over a short way along the boundary only."""

NEARBY = 4.0
"""For circles of a radius beyond so many cells the edges beside their foot are asked first."""


def necks_below(
    b: Boundary, width_mm: float, only_first: bool = False, bulge_mm: float = BULGE_MM
) -> Floats:
    """All necks narrower than a width, the narrowest first; or that one alone.

    Args:
        b: the boundary.
        width_mm: what is wider is not looked for.
        only_first: the narrowest will do.
        bulge_mm: how much wider than the neck a part is that hangs at it.

    Returns:
        Rows of width, x and y of the middle, and the edges at its two ends.
    """
    found: Floats = _necks(b, width_mm, bulge_mm, only_first)
    return found


@compiled
def _necks(b: Boundary, below: float, bulge: float, only_first: bool) -> Any:
    """Chords that are necks, ascending: rows of width, middle and the edges at its ends."""
    chords = chords_below(b, below, MANY)
    order = np.argsort(chords[:, 0])
    coarse, fine = _samples(b, max(COARSE * below, 0.5)), _samples(b, FINE_MM)
    swept = _swept(b)
    found = np.empty((order.size, 5))
    count = 0
    for k in order:
        width, x, y = chords[k, 0], chords[k, 1], chords[k, 2]
        i, j, t = int(chords[k, 3]), int(chords[k, 4]), chords[k, 5]
        if b.ring[i] == b.ring[j] and width > 0.0:
            radius = (width + bulge) / 2
            one, other = _sides(b, coarse, i, j, t), _sides(b, fine, i, j, t)
            # the shorter side first: a tail is soon walked round
            back = (other[1] - other[0]) % (other[3] - other[2]) > (other[3] - other[2]) // 2
            area = _area_ahead(b, swept, i, j, t)
            whole = swept[b.first[b.ring[i] + 1]] - swept[b.first[b.ring[i]]]
            if not _holds(b, coarse, one, fine, other, back, area, whole, radius):
                continue
            if not _holds(b, coarse, one, fine, other, not back, area, whole, radius):
                continue
        found[count, 0], found[count, 1], found[count, 2] = width, x, y
        found[count, 3], found[count, 4] = i, j
        count += 1
        if only_first:
            break
    return found[:count]


@compiled
def _samples(b: Boundary, spacing: float) -> Any:
    """Middles of equal pieces of every edge: edge, how far along, each edge's first; who follows.

    The last array leads from a sample to the next one that has not failed, itself if it has not.
    """
    n = b.x.size
    first = np.zeros(n + 1, np.int64)
    for i in range(n):
        first[i + 1] = first[i] + max(ceil(b.length[i] / spacing), 1)
    edge = np.empty(first[n], np.int64)
    along = np.empty(first[n])
    for i in range(n):
        pieces = first[i + 1] - first[i]
        for k in range(pieces):
            edge[first[i] + k] = i
            along[first[i] + k] = (k + 0.5) * b.length[i] / pieces
    return edge, along, first, np.arange(edge.size + 1)


@compiled
def _sides(b: Boundary, samples: Any, i: int, j: int, t: float) -> Any:
    """Samples that a chord from corner i to edge j parts, and the first and last of the ring."""
    _, along, first, _ = samples
    s = first[i]
    e = first[j] + np.searchsorted(along[first[j] : first[j + 1]], t)
    low, high = first[b.first[b.ring[i]]], first[b.first[b.ring[i] + 1]]
    return s, low if e == high else e, low, high


@compiled
def _swept(b: Boundary) -> Any:
    """Area between the grid's corner and the boundary up to each edge, signed."""
    swept = np.zeros(b.x.size + 1)
    for i in range(b.x.size):
        x, y = b.x[i] - b.left, b.y[i] - b.bottom
        swept[i + 1] = swept[i] + (x * b.dy[i] - y * b.dx[i]) * b.length[i] / 2
    return swept


@compiled
def _area_ahead(b: Boundary, swept: Any, i: int, j: int, t: float) -> float:
    """Area between a chord and the ring on its way from corner i to a place on edge j."""
    x0, y0, x, y = b.x[i] - b.left, b.y[i] - b.bottom, b.x[j] - b.left, b.y[j] - b.bottom
    area = swept[j] - swept[i] + (x * b.dy[j] - y * b.dx[j]) * t / 2
    if j < i:
        area += swept[b.first[b.ring[i] + 1]] - swept[b.first[b.ring[i]]]
    x, y = x + t * b.dx[j], y + t * b.dy[j]
    return float(area + (x * y0 - y * x0) / 2)


@compiled
def _holds(
    b: Boundary,
    coarse: Any,
    one: Any,
    fine: Any,
    other: Any,
    back: bool,
    ahead: float,
    whole: float,
    radius: float,
) -> bool:
    """True if one side of a chord holds a circle of the radius, or at least half of it by area."""
    area = whole - ahead if back else ahead  # negative round a hole: all the rest of the shape
    if 0.0 <= area < pi * radius * radius / 2:
        return False
    return _bulges(b, coarse, one, back, radius) or _bulges(b, fine, other, back, radius)


@compiled
def _bulges(b: Boundary, samples: Any, sides: Any, back: bool, radius: float) -> bool:
    """True if a circle of the radius touches the ring at a sample of one side.

    Radii only grow from call to call, so a sample that failed once is never asked again, nor
    walked over: without that, many chords of one long tail would each walk round all of it.
    """
    edge, along, _, follower = samples
    s, e, low, high = sides
    s, end = (e, s) if back else (s, e)
    if s > end:  # over the ring's start
        if _bulges_between(b, edge, along, follower, s, high, radius):
            return True
        s = low
    return bool(_bulges_between(b, edge, along, follower, s, end, radius))


@compiled
def _bulges_between(
    b: Boundary, edge: Any, along: Any, follower: Any, s: int, end: int, radius: float
) -> bool:
    """As `_bulges`, for samples from one up to another."""
    s = _next(follower, s)
    while s < end:
        if _fits(b, edge[s], along[s], radius):
            return True
        follower[s] = s + 1
        s = _next(follower, s)
    return False


@compiled
def _next(follower: Any, s: int) -> int:
    """The first sample from one on that has not failed; the way to it becomes shorter."""
    while follower[s] != s:
        follower[s] = follower[follower[s]]
        s = follower[s]
    return s


@compiled
def _fits(b: Boundary, i: int, t: float, radius: float) -> bool:
    """True if a circle that touches an edge there from inside meets nothing else."""
    x = b.x[i] + t * b.dx[i] - radius * b.dy[i]
    y = b.y[i] + t * b.dy[i] + radius * b.dx[i]
    within = radius - 1e-4
    if radius > NEARBY * b.cell:  # what is near tells soonest, and is few
        for j in (b.before[i], b.after[i], b.before[b.before[i]], b.after[b.after[i]]):
            if (b.x[j] - x) ** 2 + (b.y[j] - y) ** 2 < (within - 1e-9) ** 2 and within > 0.0:
                return False
    return bool(nearest_edge(b, x, y, within, True, -1)[0] < 0)


@compiled
def holds_circle(b: Boundary, radius: float) -> bool:
    """True if a circle of the radius fits inside, touching the boundary."""
    edge, along, _, _ = _samples(b, max(radius, 0.5))
    for s in range(edge.size):  # noqa: SIM110  compiled loops know no generators
        if _fits(b, edge[s], along[s], radius):
            return True
    return False

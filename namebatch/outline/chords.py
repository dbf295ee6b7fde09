"""Chords that are necks, from the boundary alone. Lengths in mm.

The distance to the boundary has a saddle in the middle of every neck, and there the two nearest
boundary points lie opposite each other: a chord that is locally the shortest, with nothing of the
boundary inside the circle on it. One of its ends is a corner that points inwards (or the end of
two parallel edges, which is one too). So all chords are found from such corners, exactly, and
no erosion is needed. A chord is a neck if it joins two rings, or if both sides of it hold a
circle wider than itself; else one side is a tail that hangs by one end.
"""

from math import ceil, pi
from typing import Any

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.outline.boundary import Boundary, nearest_edge
from namebatch.outline.compiled import compiled

TINY = 1e-7
STRAIGHT = 1e-9
"""Sine of the turn up to which a corner counts as straight."""

BULGE_MM = 0.02
"""What hangs at a neck is a part of its own if it is wider than the neck by this much.

Chords of curves feign bulges of a few µm at the end of any stroke with parallel sides."""

COARSE = 0.5
"""Circles are tried so many widths apart first, which soon finds the body of a piece."""
FINE_MM = 0.06
"""Then so far apart: a small bulge holds its circle over a short way along the boundary only."""


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
    chords = _chords(b, below)
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
def _chords(b: Boundary, below: float) -> Any:
    """Locally shortest chords: rows of width, middle x, y, corner, edge, and how far along."""
    rows = np.empty((64, 6))
    count = 0
    seen = np.full(b.x.size, -1)
    for v in range(b.x.size):
        p = b.before[v]
        if b.dx[p] * b.dy[v] - b.dy[p] * b.dx[v] <= STRAIGHT:  # else it points outwards
            rows, count = _chords_from(b, v, below, seen, rows, count)
    return rows[:count]


@compiled
def _chords_from(b: Boundary, v: int, below: float, seen: Any, rows: Any, count: int) -> Any:
    """Append the chords of one corner: shortest locally at both ends, nothing in their circle."""
    p, x, y = b.before[v], b.x[v], b.y[v]
    left = max(int((x - below - b.left) / b.cell), 0)
    right = min(int((x + below - b.left) / b.cell), b.columns - 1)
    bottom = max(int((y - below - b.bottom) / b.cell), 0)
    top = min(int((y + below - b.bottom) / b.cell), b.rows - 1)
    for row in range(bottom, top + 1):
        low, high = b.start[row * b.columns + left], b.start[row * b.columns + right + 1]
        for k in range(low, high):
            j = b.edges[k]
            if seen[j] == v:
                continue
            seen[j] = v
            o, px, py = b.before[j], x - b.x[j], y - b.y[j]
            t = px * b.dx[j] + py * b.dy[j]
            if t >= b.length[j] or j in (v, p):  # beyond its end the next edge's start counts
                continue
            if t > 0.0 and py * b.dx[j] - px * b.dy[j] < -TINY:  # it shows its back
                continue
            if t <= 0.0:
                inwards = b.dx[o] * b.dy[j] - b.dy[o] * b.dx[j] <= STRAIGHT
                if (inwards and j <= v) or px * b.dx[o] + py * b.dy[o] < -TINY:
                    continue  # met from its other end, or not the nearest there
                t = 0.0
            ux, uy = t * b.dx[j] - px, t * b.dy[j] - py
            width = (ux * ux + uy * uy) ** 0.5
            touches = width <= 1e-9
            if width >= below or (touches and (j == b.after[v] or b.after[j] == p)):
                continue
            slack = TINY * width
            if ux * b.dx[p] + uy * b.dy[p] < -slack or ux * b.dx[v] + uy * b.dy[v] > slack:
                continue
            if uy * (b.dx[p] + b.dx[v]) - ux * (b.dy[p] + b.dy[v]) < 0.0 and not touches:
                continue
            mx, my, inside = x + ux / 2, y + uy / 2, width / 2 - 1e-6
            if inside > 0.0 and nearest_edge(b, mx, my, inside, True, -1)[0] >= 0:
                continue
            if count == rows.shape[0]:
                rows = np.concatenate((rows, np.empty((count, 6))))
            rows[count] = np.array([width, mx, my, v, j, t])
            count += 1
    return rows, count


@compiled
def _samples(b: Boundary, spacing: float) -> Any:
    """Middles of equal pieces of every edge: edge, how far along, each edge's first, all alive."""
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
    return edge, along, first, np.ones(edge.size, np.bool_)


@compiled
def _sides(b: Boundary, samples: Any, i: int, j: int, t: float) -> Any:
    """Samples that a chord from corner i to edge j parts, and the first and last of the ring."""
    _, along, first, _ = samples
    s, e = first[i], first[j]
    while e < first[j + 1] and along[e] < t:
        e += 1
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

    Radii only grow from call to call, so a sample that failed once is never asked again.
    """
    edge, along, _, alive = samples
    s, e, low, high = sides
    s, end = (e, s) if back else (s, e)
    while s != end:
        if alive[s]:
            if _fits(b, edge[s], along[s], radius):
                return True
            alive[s] = False
        s = s + 1 if s + 1 < high else low
    return False


@compiled
def _fits(b: Boundary, i: int, t: float, radius: float) -> bool:
    """True if a circle that touches an edge there from inside meets nothing else."""
    x = b.x[i] + t * b.dx[i] - radius * b.dy[i]
    y = b.y[i] + t * b.dy[i] + radius * b.dx[i]
    return bool(nearest_edge(b, x, y, radius - 1e-4, True, -1)[0] < 0)


@compiled
def holds_circle(b: Boundary, radius: float) -> bool:
    """True if a circle of the radius fits inside, touching the boundary."""
    edge, along, _, _ = _samples(b, max(radius, 0.5))
    for s in range(edge.size):  # noqa: SIM110  compiled loops know no generators
        if _fits(b, edge[s], along[s], radius):
            return True
    return False

"""Chords that are necks, from the boundary alone. Lengths in mm.

The distance to the boundary has a saddle in the middle of every neck, and there the two nearest
boundary points lie opposite each other: a chord that is locally the shortest, with nothing of the
boundary inside the circle on it. One of its ends is a corner that points inwards (or the end of
two parallel edges, which is one too). So all chords are found from such corners, exactly, and
no erosion is needed. A chord is a neck if it joins two rings, or if both sides of it hold a
circle wider than itself; else one side is a tail that hangs by one end.
"""

from math import ceil
from typing import Any

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.outline.boundary import Boundary, nearest_edge
from namebatch.outline.compiled import compiled

TINY = 1e-7
STRAIGHT = 1e-9
"""Sine of the turn up to which a corner counts as straight."""

BULGE_MM = 0.001
"""What hangs at a neck is a part of its own if it is wider than the neck by this much."""


def necks_below(b: Boundary, width_mm: float, only_first: bool = False) -> Floats:
    """All necks narrower than a width, the narrowest first; or that one alone.

    Returns:
        Rows of width, x and y of the middle, and the edges at its two ends.
    """
    found: Floats = _necks(b, width_mm, BULGE_MM, only_first)
    return found


@compiled
def _necks(b: Boundary, below: float, bulge: float, only_first: bool) -> Any:
    """Chords that are necks, ascending: rows of width, middle and the edges at its ends."""
    chords = _chords(b, below)
    order = np.argsort(chords[:, 0])
    edge, along, first = _samples(b, max(below / 2, 0.5))
    alive = np.ones(edge.size, np.bool_)
    found = np.empty((order.size, 5))
    count = 0
    for k in order:
        width, x, y = chords[k, 0], chords[k, 1], chords[k, 2]
        i, j, t = int(chords[k, 3]), int(chords[k, 4]), chords[k, 5]
        if b.ring[i] == b.ring[j] and width > 0.0:
            radius = (width + bulge) / 2
            s = first[i]
            e = first[j]
            while e < first[j + 1] and along[e] < t:
                e += 1
            low, high = first[b.first[b.ring[i]]], first[b.first[b.ring[i] + 1]]
            e = low if e == high else e
            # the shorter side first: a tail is soon walked round
            if (e - s) % (high - low) > (high - low) // 2:
                s, e = e, s
            if not _bulges(b, edge, along, alive, s, e, low, high, radius):
                continue
            if not _bulges(b, edge, along, alive, e, s, low, high, radius):
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
    """Middles of equal pieces of every edge: edge, how far along, and each edge's first."""
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
    return edge, along, first


@compiled
def _bulges(
    b: Boundary,
    edge: Any,
    along: Any,
    alive: Any,
    start: int,
    end: int,
    low: int,
    high: int,
    radius: float,
) -> bool:
    """True if a circle of the radius touches the ring between two samples.

    Radii only grow from call to call, so a sample that failed once is never asked again.
    """
    s = start
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
    edge, along, _ = _samples(b, max(radius, 0.5))
    for s in range(edge.size):  # noqa: SIM110  compiled loops know no generators
        if _fits(b, edge[s], along[s], radius):
            return True
    return False

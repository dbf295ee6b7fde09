"""Arcs that give way to the polygon's own edges, and how far the others are from it. Compiled."""

from math import atan

import numpy as np

from namebatch.outline.arc_frame import size_of, worst_distance
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled


@compiled
def with_edges(
    x: Floats, y: Floats, points: Floats, bulges: Floats, marks: Ints, plain: Flags
) -> tuple[Floats, Floats, Ints]:
    """Put the polygon's own edges in place of some arcs.

    A node beside an arc that stays keeps its place; one between edges goes back to its vertex.

    Args:
        x: of the polygon's vertices.
        y: the same.
        points: nodes of the arcs, two columns.
        bulges: one a node.
        marks: twice the vertex at each node, odd in the middle of an edge.
        plain: which arcs give way.

    Returns:
        Points and bulges, and number of the arc to which each belongs.
    """
    n, arcs = len(x), len(bulges)
    out, half = np.empty((arcs + n, 2)), np.zeros(arcs + n)
    owner = np.empty(arcs + n, dtype=np.int64)
    count = 0
    for k in range(arcs):
        back = plain[k] and plain[k - 1]
        if not back or marks[k] % 2 == 0:
            i = marks[k] // 2
            out[count, 0] = x[i] if back else points[k, 0]
            out[count, 1] = y[i] if back else points[k, 1]
            half[count], owner[count] = 0.0 if plain[k] else bulges[k], k
            count += 1
        if plain[k]:
            until = until_of(marks, k, n)
            for i in range(marks[k] // 2 + 1, (until + 1) // 2):
                out[count, 0], out[count, 1], owner[count] = x[i % n], y[i % n], k
                count += 1
    return out[:count].copy(), half[:count].copy(), owner[:count].copy()


@compiled
def until_of(marks: Ints, k: int, n: int) -> int:
    """Where arc k ends, as `marks`, running on past the ring's first vertex."""
    until = marks[k + 1 if k + 1 < len(marks) else 0]
    return int(until if until > marks[k] else until + 2 * n)


@compiled
def farthest_from(
    x: Floats, y: Floats, points: Floats, bulges: Floats, marks: Ints, plain: Flags
) -> float:
    """Largest distance between a polygon and what stands for it, either way.

    Measured arc by arc on the stretch of the polygon that each replaces; what `with_edges`
    leaves of an arc that gave way is off by its ends at most. Arguments as there.
    """
    n, arcs = len(x), len(bulges)
    rx, ry = np.concatenate((x, x)), np.concatenate((y, y))
    ends = np.empty((2, 2))
    worst = 0.0
    for k in range(arcs):
        i = marks[k] // 2
        if plain[k] != plain[k - 1]:
            px, py = x[i], y[i]
            if marks[k] % 2 == 1:
                px, py = (px + rx[i + 1]) / 2.0, (py + ry[i + 1]) / 2.0
            worst = max(worst, size_of(points[k, 0] - px, points[k, 1] - py))
        if plain[k]:
            continue
        ends[0, 0], ends[0, 1] = points[k, 0], points[k, 1]
        j = k + 1 if k + 1 < arcs else 0
        ends[1, 0], ends[1, 1] = points[j, 0], points[j, 1]
        beta = 2.0 * atan(bulges[k])
        until = until_of(marks, k, n)
        worst = max(worst, worst_distance(rx, ry, marks[k], until, ends, 0, beta))
    return worst

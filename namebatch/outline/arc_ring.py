"""A whole ring as arcs and lines, run by run between corners and straight edges. Compiled."""

from math import atan2, tan

import numpy as np

from namebatch.outline.arc_nodes import breaks_of, edges_of, lines_of, odd_corners, sharp_corners
from namebatch.outline.arc_runs import fit_run
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled


@compiled
def fit_ring(x: Floats, y: Floats, tolerance: float) -> tuple[Floats, Floats, Ints]:
    """Fit arcs and lines to a closed polygon.

    Args:
        x, y: vertices, the first not repeated, none doubled.
        tolerance: largest distance in mm.

    Returns:
        Positions of the nodes, bulges of the arcs after them, and the vertex of each node.
    """
    n = len(x)
    length, turn = edges_of(x, y)
    corner = sharp_corners(length, turn, tolerance)
    line = lines_of(length, turn, corner, tolerance)
    corner = odd_corners(length, turn, corner, line)
    breaks = breaks_of(corner, line)
    closed = len(breaks) == 0
    if closed:
        breaks = np.zeros(1, dtype=np.int64)
    points, bulges, vertices = (
        np.empty((2 * n, 2)),
        np.zeros(2 * n),
        np.empty(2 * n, dtype=np.int64),
    )
    count = 0
    for number in range(len(breaks)):
        start = breaks[number]
        end = breaks[number + 1] if number + 1 < len(breaks) else breaks[0] + n
        if line[start]:
            points[count, 0], points[count, 1] = x[start], y[start]
            vertices[count] = start
            count += 1
            continue
        rx, ry = np.empty(end - start + 1), np.empty(end - start + 1)
        for i in range(start, end + 1):
            rx[i - start], ry[i - start] = x[i % n], y[i % n]
        tangents = np.full(2, np.nan)
        if not closed and not corner[start]:
            h = start - 1 if start > 0 else n - 1
            tangents[0] = atan2(y[start] - y[h], x[start] - x[h])
        e = end % n
        if not closed and not corner[e]:
            j = e + 1 if e + 1 < n else 0
            tangents[1] = atan2(y[j] - y[e], x[j] - x[e])
        cuts, node, beta, bad, turned = fit_run(rx, ry, tangents, closed, tolerance)
        for k in range(len(beta)):
            points[count, 0], points[count, 1] = node[k, 0], node[k, 1]
            bulges[count] = 0.0 if bad[k] else tan(beta[k] / 2.0)
            vertices[count] = (start + turned + cuts[k] // 2) % n
            count += 1
            if bad[k]:
                # no arc will do: the edges themselves
                for i in range(cuts[k] // 2 + 1, (cuts[k + 1] + 1) // 2):
                    v = (start + turned + i) % n
                    points[count, 0], points[count, 1], vertices[count] = x[v], y[v], v
                    count += 1
    return points[:count].copy(), bulges[:count].copy(), vertices[:count].copy()

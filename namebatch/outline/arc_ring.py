"""A whole ring as arcs and lines, run by run between corners and straight edges. Compiled."""

from math import atan2, hypot, tan

import numpy as np

from namebatch.outline.arc_nodes import (
    breaks_of,
    edges_of,
    lines_of,
    odd_corners,
    sharp_corners,
)
from namebatch.outline.arc_runs import fit_run
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled

SPECK_MM = 2e-4
"""Vertices nearer than this to the one before say nothing about a direction."""
STRAIGHT_MM = 1e-6
"""A vertex that stands off its neighbours' chord by no more is in the middle of an edge."""


@compiled
def telling(x: Floats, y: Floats) -> Ints:
    """Vertices that are neither doubled nor in the middle of a straight edge."""
    n = len(x)
    kept = np.empty(n, dtype=np.int64)
    count = 0
    for i in range(n):
        if count and hypot(x[i] - x[kept[count - 1]], y[i] - y[kept[count - 1]]) < SPECK_MM:
            continue
        kept[count] = i
        count += 1
    while count > 1 and hypot(x[0] - x[kept[count - 1]], y[0] - y[kept[count - 1]]) < SPECK_MM:
        count -= 1
    out = np.empty(count, dtype=np.int64)
    found = 0
    for k in range(count):
        i = kept[k]
        h = out[found - 1] if found else kept[count - 1]
        j = kept[k + 1 if k + 1 < count else 0]
        ux, uy, vx, vy = x[i] - x[h], y[i] - y[h], x[j] - x[h], y[j] - y[h]
        size = hypot(vx, vy)
        straight = (
            size > 0.0
            and abs(ux * vy - uy * vx) < STRAIGHT_MM * size
            and ux * vx + uy * vy > 0.0
            and ux * vx + uy * vy < size * size
        )
        if not straight:
            out[found] = i
            found += 1
    return out[:found].copy()


@compiled
def circle_of(x: Floats, y: Floats) -> tuple[float, float, float, float]:
    """Centre and radius of the circle nearest to a ring, and how far the ring leaves it.

    The centre by linear least squares on x² + y² (Kåsa 1976); the radius half way between
    the farthest vertex and the nearest edge.
    """
    n = len(x)
    ox, oy = x.mean(), y.mean()
    xx = xy = yy = xz = yz = zz = 0.0
    for i in range(n):
        u, v = x[i] - ox, y[i] - oy
        z = u * u + v * v
        xx, xy, yy = xx + u * u, xy + u * v, yy + v * v
        xz, yz, zz = xz + u * z, yz + v * z, zz + z
    det = xx * yy - xy * xy
    if det <= 0.0:
        return 0.0, 0.0, 0.0, 1e9
    cx, cy = ox + (xz * yy - yz * xy) / det / 2.0, oy + (yz * xx - xz * xy) / det / 2.0
    least, most = 1e9, 0.0
    for i in range(n):
        j = i + 1 if i + 1 < n else 0
        most = max(most, hypot(x[i] - cx, y[i] - cy))
        size = hypot(x[j] - x[i], y[j] - y[i])
        off = abs((x[i] - cx) * (y[j] - y[i]) - (y[i] - cy) * (x[j] - x[i])) / size
        least = min(least, off)
    return cx, cy, (most + least) / 2.0, (most - least) / 2.0


@compiled
def half_circles(
    x: Floats, y: Floats, cx: float, cy: float, radius: float, ccw: bool
) -> tuple[Floats, Floats, Ints]:
    """A full circle as two arcs, the first node towards the first vertex."""
    size = hypot(x[0] - cx, y[0] - cy)
    dx, dy = (x[0] - cx) / size * radius, (y[0] - cy) / size * radius
    points = np.array([[cx + dx, cy + dy], [cx - dx, cy - dy]])
    best, far = 0, 1e9
    for i in range(len(x)):
        away = hypot(x[i] - points[1, 0], y[i] - points[1, 1])
        if away < far:
            best, far = i, away
    bulge = 1.0 if ccw else -1.0
    return points, np.array([bulge, bulge]), np.array([0, 2 * best])


@compiled
def direction(x: Floats, y: Floats, i: int, j: int) -> float:
    """Direction from one vertex to another, numbers running on round the ring."""
    n = len(x)
    return atan2(y[j % n] - y[i % n], x[j % n] - x[i % n])


@compiled
def fit_ring(x: Floats, y: Floats, tolerance: float) -> tuple[Floats, Floats, Ints]:
    """Fit arcs and lines to a closed polygon.

    Args:
        x: of the telling vertices, the first not repeated.
        y: the same.
        tolerance: largest distance in mm.

    Returns:
        Positions of the nodes, bulges of the arcs after them, and twice the vertex at each
        node (odd in the middle of an edge).
    """
    n = len(x)
    length, turn = edges_of(x, y)
    corner = sharp_corners(length, turn, tolerance)
    if n >= 8 and not corner.any():
        cx, cy, radius, off = circle_of(x, y)
        if off <= tolerance:
            return half_circles(x, y, cx, cy, radius, turn.sum() > 0.0)
    line = lines_of(length, turn, corner, tolerance)
    corner = odd_corners(length, turn, corner, line)
    breaks = breaks_of(corner, line)
    closed = len(breaks) == 0
    if closed:
        breaks = np.zeros(1, dtype=np.int64)
    points, bulges = np.empty((2 * n, 2)), np.zeros(2 * n)
    marks = np.empty(2 * n, dtype=np.int64)
    count = 0
    for number in range(len(breaks)):
        start = breaks[number]
        end = breaks[number + 1] if number + 1 < len(breaks) else breaks[0] + n
        if line[start]:
            points[count, 0], points[count, 1], marks[count] = x[start], y[start], 2 * start
            count += 1
            continue
        rx, ry = np.empty(end - start + 1), np.empty(end - start + 1)
        for i in range(start, end + 1):
            rx[i - start], ry[i - start] = x[i % n], y[i % n]
        tangents = np.full(2, np.nan)
        if not closed and not corner[start]:
            tangents[0] = direction(x, y, start - 1 + n, start)
        if not closed and not corner[end % n]:
            tangents[1] = direction(x, y, end, end + 1)
        cuts, node, beta, bad, turned = fit_run(rx, ry, tangents, closed, tolerance)
        for k in range(len(beta)):
            points[count, 0], points[count, 1] = node[k, 0], node[k, 1]
            bulges[count] = np.nan if bad[k] else tan(beta[k] / 2.0)
            marks[count] = (2 * (start + turned) + cuts[k]) % (2 * n)
            count += 1
    points, bulges, marks = points[:count], bulges[:count], marks[:count]
    return with_edges(x, y, points, bulges, marks, np.isnan(bulges))


@compiled
def with_edges(
    x: Floats, y: Floats, points: Floats, bulges: Floats, marks: Ints, plain: Flags
) -> tuple[Floats, Floats, Ints]:
    """Put the polygon's own edges in place of some arcs; the nodes stay where they are."""
    n, arcs = len(x), len(bulges)
    out, half = np.empty((arcs + n, 2)), np.zeros(arcs + n)
    where = np.empty(arcs + n, dtype=np.int64)
    count = 0
    for k in range(arcs):
        out[count, 0], out[count, 1], where[count] = points[k, 0], points[k, 1], marks[k]
        half[count] = 0.0 if plain[k] else bulges[k]
        count += 1
        if plain[k]:
            until = marks[k + 1 if k + 1 < arcs else 0]
            if until <= marks[k]:
                until += 2 * n
            for i in range(marks[k] // 2 + 1, (until + 1) // 2):
                out[count, 0], out[count, 1], where[count] = x[i % n], y[i % n], 2 * (i % n)
                count += 1
    return out[:count].copy(), half[:count].copy(), where[:count].copy()

"""A whole ring as arcs and lines, run by run between corners and straight edges. Compiled."""

from math import atan2, tan

import numpy as np

from namebatch.outline.arc_frame import size_of
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
        if count and size_of(x[i] - x[kept[count - 1]], y[i] - y[kept[count - 1]]) < SPECK_MM:
            continue
        kept[count] = i
        count += 1
    while count > 1 and size_of(x[0] - x[kept[count - 1]], y[0] - y[kept[count - 1]]) < SPECK_MM:
        count -= 1
    out = np.empty(count, dtype=np.int64)
    found = 0
    for k in range(count):
        i = kept[k]
        h = out[found - 1] if found else kept[count - 1]
        j = kept[k + 1 if k + 1 < count else 0]
        ux, uy, vx, vy = x[i] - x[h], y[i] - y[h], x[j] - x[h], y[j] - y[h]
        size = size_of(vx, vy)
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
        most = max(most, size_of(x[i] - cx, y[i] - cy))
        size = size_of(x[j] - x[i], y[j] - y[i])
        off = abs((x[i] - cx) * (y[j] - y[i]) - (y[i] - cy) * (x[j] - x[i])) / size
        least = min(least, off)
    return cx, cy, (most + least) / 2.0, (most - least) / 2.0


@compiled
def half_circles(
    x: Floats, y: Floats, cx: float, cy: float, radius: float, ccw: bool
) -> tuple[Floats, Floats, Ints]:
    """A full circle as two arcs, the first node due right of the centre.

    Where a ring's first vertex lies is up to the library that drew it, and differs from version
    to version; the direction of a node does not.
    """
    points = np.array([[cx + radius, cy], [cx - radius, cy]])
    marks = np.array([_nearest(x, y, points[0]), _nearest(x, y, points[1])])
    bulge = 1.0 if ccw else -1.0
    return points, np.array([bulge, bulge]), 2 * marks


@compiled
def _nearest(x: Floats, y: Floats, place: Floats) -> int:
    """The vertex nearest to a place."""
    best, far = 0, 1e9
    for i in range(len(x)):
        away = size_of(x[i] - place[0], y[i] - place[1])
        if away < far:
            best, far = i, away
    return best


@compiled
def direction(x: Floats, y: Floats, i: int, j: int) -> float:
    """Direction from one vertex to another, numbers running on round the ring."""
    n = len(x)
    return atan2(y[j % n] - y[i % n], x[j % n] - x[i % n])


@compiled
def along(values: Floats, start: int, end: int) -> Floats:
    """Values of the vertices from one to another, both of them, on round the ring."""
    n = len(values)
    out = np.empty(end - start + 1)
    for i in range(start, end + 1):
        out[i - start] = values[i % n]
    return out


@compiled
def tangents_of(x: Floats, y: Floats, corner: Flags, start: int, end: int, closed: bool) -> Floats:
    """Directions of the straight edges before and after a run; NaN where it ends in a corner."""
    tangents = np.full(2, np.nan)
    if not closed and not corner[start]:
        tangents[0] = direction(x, y, start - 1 + len(x), start)
    if not closed and not corner[end % len(x)]:
        tangents[1] = direction(x, y, end, end + 1)
    return tangents


@compiled
def circle_as_halves(
    x: Floats, y: Floats, ccw: bool, tolerance: float
) -> tuple[Floats, Floats, Ints]:
    """A ring that is a circle within the tolerance as two arcs; any other as none."""
    cx, cy, radius, off = circle_of(x, y)
    if len(x) < 8 or off > tolerance:
        return np.empty((0, 2)), np.empty(0), np.empty(0, dtype=np.int64)
    return half_circles(x, y, cx, cy, radius, ccw)


@compiled
def fit_ring(x: Floats, y: Floats, tolerance: float) -> tuple[Floats, Floats, Ints, Flags]:
    """Fit arcs and lines to a closed polygon.

    Args:
        x: of the telling vertices, the first not repeated.
        y: the same.
        tolerance: largest distance in mm.

    Returns:
        Positions of the nodes, bulges of the arcs after them, twice the vertex at each node
        (odd in the middle of an edge), and which arcs leave the tolerance and must give way
        to the polygon's edges.
    """
    n = len(x)
    length, turn = edges_of(x, y)
    corner = sharp_corners(length, turn, tolerance)
    if not corner.any():
        points, bulges, marks = circle_as_halves(x, y, bool(turn.sum() > 0.0), tolerance)
        if len(marks) > 0:
            return points, bulges, marks, np.zeros(2, dtype=np.bool_)
    line = lines_of(length, turn, corner, tolerance)
    corner = odd_corners(length, turn, corner, line)
    closed = not (corner.any() or line.any())
    breaks = breaks_of(corner, line)
    points, bulges = np.empty((2 * n, 2)), np.zeros(2 * n)
    marks, plain = np.empty(2 * n, dtype=np.int64), np.zeros(2 * n, dtype=np.bool_)
    count = 0
    for number in range(len(breaks)):
        start = breaks[number]
        end = breaks[number + 1] if number + 1 < len(breaks) else breaks[0] + n
        if line[start]:
            points[count, 0], points[count, 1], marks[count] = x[start], y[start], 2 * start
            count += 1
            continue
        cuts, node, beta, bad, turned = fit_run(
            along(x, start, end),
            along(y, start, end),
            (along(length, start, end - 1), along(turn, start, end)),
            tangents_of(x, y, corner, start, end, closed),
            closed,
            tolerance,
        )
        for k in range(len(beta)):
            points[count, 0], points[count, 1] = node[k, 0], node[k, 1]
            bulges[count], plain[count] = tan(beta[k] / 2.0), bad[k]
            marks[count] = (2 * (start + turned) + cuts[k]) % (2 * n)
            count += 1
    return points[:count], bulges[:count], marks[:count], plain[:count]

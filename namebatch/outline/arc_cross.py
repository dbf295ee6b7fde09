"""Do arcs and lines of closed rings cross or touch each other? Compiled. mm."""

from math import sqrt

import numpy as np

from namebatch.outline.arc_frame import size_of
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled

FLAT_MM = 1e-6
"""An arc no higher than this over its chord is taken as a line."""
APART_MM = 1e-3
"""Neighbours meet in their node; only what is farther from it than this is a crossing."""


@compiled
def boxes_of(ends: Floats, bulges: Floats) -> Floats:
    """Bounds of arcs: least x, least y, greatest x, greatest y, a little too large at most.

    An arc is within the box of its ends, widened by its height to the side it bends to.
    """
    out = np.empty((len(bulges), 4))
    for i in range(len(bulges)):
        ax, ay, bx, by = ends[i, 0], ends[i, 1], ends[i, 2], ends[i, 3]
        b = bulges[i]
        # the corners of the rectangle over the chord; wide arcs reach past the ends of it
        hx, hy = (by - ay) / 2.0 * b, -(bx - ax) / 2.0 * b
        wide = max(0.0, (b * b + 1.0) / (4.0 * abs(b)) - 0.5) if abs(b) > 1.0 else 0.0
        wx, wy = (bx - ax) * wide, (by - ay) * wide
        out[i, 0] = min(ax, bx, ax + hx - wx, bx + hx + wx, ax - wx, bx + wx)
        out[i, 1] = min(ay, by, ay + hy - wy, by + hy + wy, ay - wy, by + wy)
        out[i, 2] = max(ax, bx, ax + hx - wx, bx + hx + wx, ax - wx, bx + wx)
        out[i, 3] = max(ay, by, ay + hy - wy, by + hy + wy, ay - wy, by + wy)
    return out


@compiled
def is_on(ends: Floats, i: int, bulge: float, px: float, py: float) -> bool:
    """Is a point of an arc's whole circle (or a line's whole line) on the arc itself?"""
    ax, ay, bx, by = ends[i, 0], ends[i, 1], ends[i, 2], ends[i, 3]
    ux, uy = bx - ax, by - ay
    if abs(bulge) * size_of(ux, uy) / 2.0 <= FLAT_MM:
        along = ux * (px - ax) + uy * (py - ay)
        return bool(along >= 0.0 and along <= ux * ux + uy * uy)
    side = ux * (py - ay) - uy * (px - ax)
    return bool(side <= 0.0 if bulge > 0.0 else side >= 0.0)


@compiled
def centre_of(ends: Floats, i: int, bulge: float) -> tuple[float, float, float]:
    """Centre and radius of an arc."""
    ax, ay, bx, by = ends[i, 0], ends[i, 1], ends[i, 2], ends[i, 3]
    # from the middle of the chord to the left by c·cot(beta), with b = tan(beta/2)
    left = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx = (ax + bx) / 2.0 - (by - ay) * left
    cy = (ay + by) / 2.0 + (bx - ax) * left
    return cx, cy, size_of(bx - ax, by - ay) * (1.0 + bulge * bulge) / (4.0 * abs(bulge))


@compiled
def meetings(ends: Floats, i: int, j: int, bi: float, bj: float, out: Floats) -> int:
    """Points where the whole circles or lines of two arcs meet; how many."""
    flat_i = abs(bi) * size_of(ends[i, 2] - ends[i, 0], ends[i, 3] - ends[i, 1]) / 2.0 <= FLAT_MM
    flat_j = abs(bj) * size_of(ends[j, 2] - ends[j, 0], ends[j, 3] - ends[j, 1]) / 2.0 <= FLAT_MM
    if flat_i and flat_j:
        ux, uy = ends[i, 2] - ends[i, 0], ends[i, 3] - ends[i, 1]
        vx, vy = ends[j, 2] - ends[j, 0], ends[j, 3] - ends[j, 1]
        cross = ux * vy - uy * vx
        if cross == 0.0:
            return 0
        t = ((ends[j, 0] - ends[i, 0]) * vy - (ends[j, 1] - ends[i, 1]) * vx) / cross
        out[0, 0], out[0, 1] = ends[i, 0] + t * ux, ends[i, 1] + t * uy
        return 1
    if flat_i or flat_j:
        line, arc, bulge = (i, j, bj) if flat_i else (j, i, bi)
        cx, cy, radius = centre_of(ends, arc, bulge)
        ax, ay = ends[line, 0], ends[line, 1]
        ux, uy = ends[line, 2] - ax, ends[line, 3] - ay
        size = size_of(ux, uy)
        if size == 0.0:
            return 0
        ux, uy = ux / size, uy / size
        foot = (cx - ax) * ux + (cy - ay) * uy
        off = (cx - ax) * uy - (cy - ay) * ux
        under = radius * radius - off * off
        if under < 0.0:
            return 0
        half = sqrt(under)
        out[0, 0], out[0, 1] = ax + (foot - half) * ux, ay + (foot - half) * uy
        out[1, 0], out[1, 1] = ax + (foot + half) * ux, ay + (foot + half) * uy
        return 2
    px, py, pr = centre_of(ends, i, bi)
    qx, qy, qr = centre_of(ends, j, bj)
    dx, dy = qx - px, qy - py
    size = size_of(dx, dy)
    if size == 0.0:
        return 0
    along = (size + (pr - qr) * (pr + qr) / size) / 2.0
    under = (pr - along) * (pr + along)
    if under < 0.0:
        return 0
    half = sqrt(under)
    mx, my = px + along * dx / size, py + along * dy / size
    out[0, 0], out[0, 1] = mx - half * dy / size, my + half * dx / size
    out[1, 0], out[1, 1] = mx + half * dy / size, my - half * dx / size
    return 2


@compiled
def ends_of(points: Floats, starts: Ints) -> tuple[Floats, Ints]:
    """Start and end of every arc of all rings, four columns, and the number of the next arc."""
    ends = np.empty((len(points), 4))
    following = np.empty(len(points), dtype=np.int64)
    for ring in range(len(starts) - 1):
        for i in range(starts[ring], starts[ring + 1]):
            j = i + 1 if i + 1 < starts[ring + 1] else starts[ring]
            following[i] = j
            ends[i, 0], ends[i, 1] = points[i, 0], points[i, 1]
            ends[i, 2], ends[i, 3] = points[j, 0], points[j, 1]
    return ends, following


@compiled
def is_crossing(
    ends: Floats, following: Ints, i: int, j: int, bi: float, bj: float, out: Floats
) -> bool:
    """Do two arcs meet elsewhere than in a common node?"""
    for m in range(meetings(ends, i, j, bi, bj, out)):
        x, y = out[m, 0], out[m, 1]
        if not (is_on(ends, i, bi, x, y) and is_on(ends, j, bj, x, y)):
            continue
        if following[i] == j and size_of(x - ends[j, 0], y - ends[j, 1]) < APART_MM:
            continue
        if following[j] == i and size_of(x - ends[i, 0], y - ends[i, 1]) < APART_MM:
            continue
        return True
    return False


@compiled
def crossing_arcs(points: Floats, bulges: Floats, starts: Ints) -> Flags:
    """Which arcs meet others elsewhere than in a common node.

    Args:
        points: nodes of all rings, two columns.
        bulges: of the arcs after them.
        starts: number of the first node of each ring, and how many there are.
    """
    n = len(bulges)
    ends, following = ends_of(points, starts)
    bad = np.zeros(n, dtype=np.bool_)
    box = boxes_of(ends, bulges)
    order = np.argsort(box[:, 0])
    out = np.empty((2, 2))
    for a in range(n):
        i = order[a]
        for b in range(a + 1, n):
            j = order[b]
            if box[j, 0] > box[i, 2]:
                break
            if box[j, 1] > box[i, 3] or box[j, 3] < box[i, 1]:
                continue
            if is_crossing(ends, following, i, j, bulges[i], bulges[j], out):
                bad[i] = bad[j] = True
    return bad

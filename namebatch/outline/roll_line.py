"""The line that a rolling disc leaves: arcs about its middles and about points. Lengths in mm."""

from math import acos, asin, atan2, ceil, cos, hypot, pi, sin, sqrt
from typing import Any

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled
from namebatch.outline.roll import TOUCH_MM, Walk


@compiled
def arcs_cross(walk: Walk, closing: float) -> bool:
    """Whether two arcs about middles of the disc cross: the line is no simple ring then.

    Arcs about points keep clear of all others: a middle is never nearer to a point than the disc's
    radius.

    Args:
        walk: of the disc.
        closing: radius of the arcs about its middles.
    """
    share = closing / walk.radius
    boxes, arcs, n = np.empty((walk.ax.size, 4)), np.empty(walk.ax.size, np.int64), 0
    for k in range(walk.ax.size):
        if walk.edge[k]:
            continue
        px, py = walk.px[k], walk.py[k]
        ax, ay = px + share * (walk.ax[k] - px), py + share * (walk.ay[k] - py)
        bx, by = px + share * (walk.bx[k] - px), py + share * (walk.by[k] - py)
        half = hypot(bx - ax, by - ay) / 2
        deep = closing - sqrt(max(closing * closing - half * half, 0.0))
        boxes[n, 0], boxes[n, 1] = min(ax, bx) - deep, min(ay, by) - deep
        boxes[n, 2], boxes[n, 3] = max(ax, bx) + deep, max(ay, by) + deep
        arcs[n] = k
        n += 1
    for i in range(n):
        for j in range(i):
            apart = boxes[i, 0] > boxes[j, 2] or boxes[j, 0] > boxes[i, 2]
            apart = apart or boxes[i, 1] > boxes[j, 3] or boxes[j, 1] > boxes[i, 3]
            if not apart and _two_cross(walk, arcs[i], arcs[j], closing):
                return True
    return False


@compiled
def _two_cross(walk: Walk, i: int, j: int, closing: float) -> bool:
    """Whether two such arcs have a point in common that ends neither."""
    dx, dy = walk.px[j] - walk.px[i], walk.py[j] - walk.py[i]
    square = dx * dx + dy * dy
    if square < TOUCH_MM**2 or square >= 4 * closing * closing:
        return False
    up = sqrt(closing * closing / square - 0.25)
    for side in (-1.0, 1.0):
        x = walk.px[i] + dx / 2 - side * up * dy
        y = walk.py[i] + dy / 2 + side * up * dx
        if _is_on_arc(walk, i, x, y) and _is_on_arc(walk, j, x, y):
            return True
    return False


@compiled
def _is_on_arc(walk: Walk, k: int, x: float, y: float) -> bool:
    """Whether a point on the circle about a middle lies between its two points: clockwise."""
    px, py = walk.px[k], walk.py[k]
    from_begin = (walk.ax[k] - px) * (y - py) - (walk.ay[k] - py) * (x - px)
    from_end = (walk.bx[k] - px) * (y - py) - (walk.by[k] - py) * (x - px)
    return bool(from_begin < -TOUCH_MM and from_end > TOUCH_MM)


@compiled
def drawn(walk: Walk, distance: float, closing: float, chord: float) -> Floats:
    """The ring of arcs and edges, in chords.

    Args:
        walk: of the disc; its radius is distance and closing together.
        distance: from points and edges to the line.
        closing: from the disc's middles to the line.
        chord: largest distance of a chord from its arc.

    Returns:
        Rows of x and y, the first again at the end.
    """
    count = walk.ax.size
    begin, end = _round_points(walk)
    about, within = _widest(distance, chord), _widest(closing, chord)
    outer, inner = np.zeros(count, np.int64), np.ones(count, np.int64)
    for k in range(count):
        outer[k] = ceil((end[k] - begin[k]) / about)
        if not walk.edge[k]:
            apart = hypot(walk.bx[k] - walk.ax[k], walk.by[k] - walk.ay[k])
            inner[k] = ceil(2 * asin(min(apart / 2 / walk.radius, 1.0)) / within)
    ring = np.empty((int((outer + np.maximum(inner, 1)).sum()) + 1, 2))
    at = 0
    for k in range(count):
        step = (end[k] - begin[k]) / max(outer[k], 1)
        for s in range(outer[k] + 1):
            angle = begin[k] + s * step
            ring[at, 0] = walk.ax[k] + distance * cos(angle)
            ring[at, 1] = walk.ay[k] + distance * sin(angle)
            at += 1
        if inner[k] > 1:
            start = atan2(walk.ay[k] - walk.py[k], walk.ax[k] - walk.px[k])
            stop = atan2(walk.by[k] - walk.py[k], walk.bx[k] - walk.px[k])
            step = ((start - stop) % (2 * pi)) / inner[k]
            for s in range(1, inner[k]):
                ring[at, 0] = walk.px[k] + closing * cos(start - s * step)
                ring[at, 1] = walk.py[k] + closing * sin(start - s * step)
                at += 1
    ring[at] = ring[0]
    return ring[: at + 1]


@compiled
def _widest(radius: float, chord: float) -> float:
    """The angle of a chord that is so far from its arc."""
    return 2 * acos(max(1 - chord / radius, 0.0))


@compiled
def _round_points(walk: Walk) -> Any:
    """Where the arc about each point begins and ends, as angles; never less at the end.

    In an inside corner that is nearly straight the two are one: the angle between.
    """
    count = walk.ax.size
    begin, end = np.empty(count), np.empty(count)
    for k in range(count):
        j = (k + 1) % count
        if walk.edge[k]:
            end[k] = atan2(walk.ax[k] - walk.bx[k], walk.by[k] - walk.ay[k])
            begin[j] = end[k]
        else:
            end[k] = atan2(walk.py[k] - walk.ay[k], walk.px[k] - walk.ax[k])
            begin[j] = atan2(walk.py[k] - walk.by[k], walk.px[k] - walk.bx[k])
    for k in range(count):
        turn = (end[k] - begin[k]) % (2 * pi)
        if turn > 2 * pi - 0.1:  # a little back
            begin[k] += (turn - 2 * pi) / 2
            turn = 0.0
        end[k] = begin[k] + turn
    return begin, end


@compiled
def lies_in(ring: Floats, x: float, y: float) -> bool:
    """Whether a point lies in a closed ring."""
    odd = False
    for i in range(len(ring) - 1):
        if (ring[i, 1] > y) != (ring[i + 1, 1] > y):
            share = (y - ring[i, 1]) / (ring[i + 1, 1] - ring[i, 1])
            if x < ring[i, 0] + share * (ring[i + 1, 0] - ring[i, 0]):
                odd = not odd
    return odd

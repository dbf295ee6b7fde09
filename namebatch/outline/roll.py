"""A disc that rolls round points from outside, once. Lengths in mm."""

from math import cos, pi, sin, sqrt
from typing import Any, NamedTuple

import numpy as np

from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled

TOUCH_MM = 1e-7
"""A point no farther within the disc than this touches it."""

SMALL = 0.05
"""Measure of a turn (`_turn`) so small that nothing can pass through the disc on the way."""

STRETCH = 16
"""So many points, one after the other, are told apart from the disc by their box first, and so
many boxes by the box around them."""

STEPS = 36
"""A turn is looked at in so many steps: what is touched in one lies near the disc."""


class Walk(NamedTuple):
    """What the disc touches on its way, counter-clockwise, and where its middle is then.

    Attributes:
        ax, ay: the points that it touches, one after the other.
        bx, by: the one after each, the first after the last.
        px, py: the disc's middle when it touches both.
        edge: whether the two are ends of one edge.
        radius: of the disc.
    """

    ax: Floats
    ay: Floats
    bx: Floats
    by: Floats
    px: Floats
    py: Floats
    edge: Flags
    radius: float


@compiled
def rolled(x: Floats, y: Floats, first: Ints, radius: float) -> Walk:
    """Roll a disc round points, from below the lowest one until it is there again.

    Args:
        x: of points of closed rings, each ring with its first point again at its end.
        y: of the same.
        first: index of each ring's first point, and the number of points.
        radius: of the disc; the next point of a ring is nearer than its diameter.

    Returns:
        The walk; an empty one if the disc does not come round.
    """
    after, boxes = _following(x, y, first), _boxes(x, y)
    around = _boxes_around(boxes)
    most = 2 * x.size + 8
    touched = np.empty(most, np.int64)
    px, py = np.empty(most), np.empty(most)
    v = _lowest(x, y)
    ux, uy, count = 0.0, -1.0, 0
    for k in range(most):
        w = after[v]
        found, turn, mx, my = _turn(x, y, v, w, ux, uy, radius)
        if not found or turn > SMALL or _holds(x, y, boxes, around, mx, my, radius):
            w, mx, my = _first_hit(x, y, boxes, around, v, ux, uy, radius)
        if w < 0:
            break
        if k > 1 and v == touched[0] and w == touched[1]:
            count = k
            break
        touched[k], px[k], py[k] = v, mx, my
        v, ux, uy = w, (mx - x[w]) / radius, (my - y[w]) / radius
    a = touched[:count]
    b = np.roll(a, -1)
    return Walk(x[a], y[a], x[b], y[b], px[:count], py[:count], after[a] == b, radius)


@compiled
def _following(x: Floats, y: Floats, first: Ints) -> Ints:
    """For each point the next of its ring, counter-clockwise."""
    after = np.empty(x.size, np.int64)
    for k in range(first.size - 1):
        start, end = first[k], first[k + 1] - 1  # the last point is the first again
        twice = 0.0
        for i in range(start, end):
            twice += (x[i] - x[start]) * (y[i + 1] - y[start])
            twice -= (x[i + 1] - x[start]) * (y[i] - y[start])
        for i in range(start, end):
            if twice > 0:
                after[i] = i + 1 if i + 1 < end else start
            else:
                after[i] = i - 1 if i > start else end - 1
        after[end] = after[start]
    return after


@compiled
def _lowest(x: Floats, y: Floats) -> int:
    v = 0
    for i in range(x.size):
        if y[i] < y[v] or (y[i] == y[v] and x[i] < x[v]):
            v = i
    return v


@compiled
def _boxes(x: Floats, y: Floats) -> Floats:
    """Of every stretch of points the left, bottom, right and top."""
    boxes = np.empty(((x.size + STRETCH - 1) // STRETCH, 4))
    for i in range(x.size):
        box = boxes[i // STRETCH]
        if i % STRETCH == 0:
            box[0] = box[2] = x[i]
            box[1] = box[3] = y[i]
        box[0], box[2] = min(box[0], x[i]), max(box[2], x[i])
        box[1], box[3] = min(box[1], y[i]), max(box[3], y[i])
    return boxes


@compiled
def _boxes_around(boxes: Floats) -> Floats:
    """Of every stretch of boxes the box around them."""
    around = np.empty(((len(boxes) + STRETCH - 1) // STRETCH, 4))
    for b in range(len(boxes)):
        box = around[b // STRETCH]
        if b % STRETCH == 0:
            box[:] = boxes[b]
        box[0], box[1] = min(box[0], boxes[b, 0]), min(box[1], boxes[b, 1])
        box[2], box[3] = max(box[2], boxes[b, 2]), max(box[3], boxes[b, 3])
    return around


@compiled
def _is_near(box: Floats, x: float, y: float, distance: float) -> bool:
    dx = max(box[0] - x, 0.0, x - box[2])
    dy = max(box[1] - y, 0.0, y - box[3])
    return bool(dx * dx + dy * dy < distance * distance)


@compiled
def _holds(
    x: Floats, y: Floats, boxes: Floats, around: Floats, mx: float, my: float, radius: float
) -> bool:
    """Whether any point lies within a disc and does not only touch it."""
    inner = radius - TOUCH_MM
    for g in range(len(around)):
        if not _is_near(around[g], mx, my, inner):
            continue
        for b in range(g * STRETCH, min((g + 1) * STRETCH, len(boxes))):
            if not _is_near(boxes[b], mx, my, inner):
                continue
            for i in range(b * STRETCH, min((b + 1) * STRETCH, x.size)):
                if (x[i] - mx) ** 2 + (y[i] - my) ** 2 < inner * inner:
                    return True
    return False


@compiled
def _turn(x: Floats, y: Floats, v: int, w: int, ux: float, uy: float, radius: float) -> Any:
    """How far the disc turns about a point, from a direction of its middle, until it touches w.

    Returns:
        Whether it ever does; a measure that rises with the angle: 0 none, 1 half a turn, 2 a
        whole one; the disc's middle then.
    """
    dx, dy = x[w] - x[v], y[w] - y[v]
    square = dx * dx + dy * dy
    if square < TOUCH_MM**2 or square >= 4 * radius * radius:
        return False, 0.0, 0.0, 0.0
    up = sqrt((radius * radius - square / 4) / square)
    tx, ty = (dx / 2 + up * dy) / radius, (dy / 2 - up * dx) / radius
    across, along = ux * ty - uy * tx, ux * tx + uy * ty
    if -1e-9 < across < 0 and along > 0:
        across = 0.0
    return True, _measure(across, along), x[v] + radius * tx, y[v] + radius * ty


@compiled
def _measure(across: float, along: float) -> float:
    """Of an angle, from its sine and cosine, what rises with it: 0 to 1 to 2 for a whole turn."""
    # half / (1 + half), with half the tangent of half the angle, in the form without cancellation
    if along > 0:
        share = abs(across) / (abs(across) + 1 + along)
    else:
        share = (1 - along) / (abs(across) + 1 - along)
    return share if across >= 0 else 2 - share


@compiled
def _first_hit(
    x: Floats,
    y: Floats,
    boxes: Floats,
    around: Floats,
    v: int,
    ux: float,
    uy: float,
    radius: float,
) -> Any:
    """The point that a disc which turns about another touches first, and its middle then."""
    angle = 2 * pi / STEPS
    reach = radius * (1 + 2 * sin(angle / 4))  # from the middle of a step's disc
    best, w, mx, my = 3.0, -1, 0.0, 0.0
    for step in range(1, STEPS + 1):
        turned = (step - 0.5) * angle
        sx = x[v] + radius * (ux * cos(turned) - uy * sin(turned))
        sy = y[v] + radius * (ux * sin(turned) + uy * cos(turned))
        for g in range(len(around)):
            if not _is_near(around[g], sx, sy, reach):
                continue
            for b in range(g * STRETCH, min((g + 1) * STRETCH, len(boxes))):
                if not _is_near(boxes[b], sx, sy, reach):
                    continue
                for i in range(b * STRETCH, min((b + 1) * STRETCH, x.size)):
                    found, turn, tx, ty = _turn(x, y, v, i, ux, uy, radius)
                    if found and turn < best:
                        best, w, mx, my = turn, i, tx, ty
        if step == STEPS or best <= _measure(sin(step * angle), cos(step * angle)):
            break
    return w, mx, my

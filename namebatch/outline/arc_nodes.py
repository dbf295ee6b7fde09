"""Corners and straight edges of a ring: what no arc may round off or bend. Compiled.

A ring that came from curves is made of chords no farther than the tolerance from them. What
cannot be such a chord is a corner or a straight edge that somebody drew.
"""

from math import atan2

import numpy as np

from namebatch.outline.arc_frame import size_of
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled

CHORD = 1.25
"""Chords may stand off by this many tolerances: kerf offsets lengthen those of tight bends."""
SHARPEST = 0.9
"""A turn of more than this (52 degrees) is always a corner."""
ODD_TURN, ODD_RATIO = 0.06, 1.0
"""A turn is a corner if it is more than it should be by its neighbours, by so many radians
(3.4 degrees) and so many times the larger of theirs."""
LINE_MM = 0.5
"""Straight edges longer than this stay lines."""
LINE_RATIO = 3.0
"""An edge that is so much longer than its neighbours is no chord of their curve."""


@compiled
def edges_of(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Length of the edge after each vertex, and the turn at each vertex."""
    n = len(x)
    length, turn = np.empty(n), np.empty(n)
    for i in range(n):
        j = i + 1 if i + 1 < n else 0
        length[i] = size_of(x[j] - x[i], y[j] - y[i])
    for i in range(n):
        h, j = (i - 1 if i > 0 else n - 1), (i + 1 if i + 1 < n else 0)
        ux, uy, vx, vy = x[i] - x[h], y[i] - y[h], x[j] - x[i], y[j] - y[i]
        turn[i] = atan2(ux * vy - uy * vx, ux * vx + uy * vy)
    return length, turn


@compiled
def sharp_corners(length: Floats, turn: Floats, tolerance: float) -> Flags:
    """True at vertices that turn so much that no smooth curve within the tolerance does."""
    n = len(turn)
    corner = np.zeros(n, dtype=np.bool_)
    for i in range(n):
        bend = abs(turn[i])
        stands_off = bend * min(length[i - 1], length[i]) / 8.0
        corner[i] = bend > SHARPEST or stands_off > CHORD * tolerance
    return corner


@compiled
def lines_of(length: Floats, turn: Floats, corner: Flags, tolerance: float) -> Flags:
    """True for edges (after each vertex) that are straight and not chords."""
    n = len(turn)
    line = np.zeros(n, dtype=np.bool_)
    for i in range(n):
        j = i + 1 if i + 1 < n else 0
        if corner[i] and corner[j]:
            line[i] = True
        elif length[i] > LINE_MM:
            before = 2.0 * turn[i] / (length[i - 1] + length[i])
            after = 2.0 * turn[j] / (length[i] + length[j])
            near = max(0.0 if corner[i] else length[i - 1], 0.0 if corner[j] else length[j])
            if corner[i]:
                before = after
            elif corner[j]:
                after = before
            bend = min(abs(before), abs(after)) if before * after > 0.0 else 0.0
            stands_off = bend * length[i] * length[i] / 8.0
            line[i] = stands_off > CHORD * tolerance or length[i] > LINE_RATIO * near
    return line


@compiled
def odd_corners(length: Floats, turn: Floats, corner: Flags, line: Flags) -> Flags:
    """Corners, and with them the vertices that turn otherwise than the curve about them.

    By the turns before and after, the curvature on either side says how much a vertex turns
    on a smooth curve. A line has none; past a corner nothing is known and both sides count
    as equal.
    """
    n = len(turn)
    out = corner.copy()
    for i in range(n):
        if corner[i]:
            continue
        h, j = (i - 1 if i > 0 else n - 1), (i + 1 if i + 1 < n else 0)
        before = turn[h] * length[h] / (length[h - 1] + length[h])
        after = turn[j] * length[i] / (length[i] + length[j])
        if line[h]:
            before = 0.0
        elif corner[h]:
            before = after
        if line[i]:
            after = 0.0
        elif corner[j]:
            after = 0.0 if corner[h] else before
        odd = abs(turn[i] - before - after)
        out[i] = odd > ODD_TURN and odd > ODD_RATIO * 2.0 * max(abs(before), abs(after))
    for i in range(n):
        j = i + 1 if i + 1 < n else 0
        if out[i] and out[j]:
            line[i] = True
    return out


@compiled
def breaks_of(corner: Flags, line: Flags) -> Ints:
    """Vertices at which a smooth run cannot go on: corners and ends of lines.

    The first vertex where there is none.
    """
    n = len(corner)
    out = np.zeros(n, dtype=np.int64)
    count = 0
    for i in range(n):
        h = i - 1 if i > 0 else n - 1
        if corner[i] or line[i] or line[h]:
            out[count] = i
            count += 1
    return out[: max(count, 1)].copy()

"""How a smooth run is cut into arcs before they are moved and bent. Compiled. mm."""

from math import atan

import numpy as np

from namebatch.outline.arc_frame import bulge_range, size_of
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled


@compiled
def heights_of(length: Floats, turn: Floats, closed: bool, tolerance: float) -> Floats:
    """Half of the height of each edge's curve above it, left of the way positive.

    Args:
        length: of the edges of a run.
        turn: at its vertices; at the ends of an open run nothing is known.
        closed: the run is a whole ring; its first vertex comes again at the end.
        tolerance: no chord is taken to stand off farther.
    """
    last = len(length)
    half = np.zeros(last + 1)
    for i in range(last):
        before, after = turn[i], turn[i + 1]
        if not closed and i == 0:
            before = after
        if not closed and i == last - 1:
            after = turn[i] if i > 0 else 0.0
        if before * after > 0.0:
            height = min(length[i] * min(abs(before), abs(after)) / 8.0, tolerance)
            half[i] = -height / 2.0 if before > 0.0 else height / 2.0
    half[last] = half[0] if closed else 0.0
    return half


@compiled
def middle_of(
    x: Floats, y: Floats, length: Floats, turn: Floats, closed: bool, tolerance: float
) -> tuple[Floats, Floats, Floats]:
    """The line that arcs are led along, at every vertex and every middle of an edge.

    Vertices lie on a curve and chords on its inner side; the line runs half way between them,
    so that as much of the tolerance as can be is left on both sides.

    Returns:
        x and y, twice as many (vertex `i` at `2i`), and what is left of the tolerance.
    """
    last = len(length)
    half = heights_of(length, turn, closed, tolerance)
    mx, my = np.empty(2 * last + 1), np.empty(2 * last + 1)
    room = np.empty(2 * last + 1)
    for i in range(last + 1):
        mx[2 * i], my[2 * i], room[2 * i] = x[i], y[i], tolerance
        if closed or 0 < i < last:
            h, j = (i - 1 if i > 0 else last - 1), (i + 1 if i < last else 1)
            shift = (half[h] + half[i]) / 2.0
            dx, dy = x[j] - x[h], y[j] - y[h]
            size = size_of(dx, dy)
            if size > 0.0:
                mx[2 * i] += dy / size * shift
                my[2 * i] -= dx / size * shift
            room[2 * i] = tolerance - abs(shift)
        if i < last:
            shift = half[i] / length[i]
            mx[2 * i + 1] = (x[i] + x[i + 1]) / 2.0 - (y[i + 1] - y[i]) * shift
            my[2 * i + 1] = (y[i] + y[i + 1]) / 2.0 + (x[i + 1] - x[i]) * shift
            room[2 * i + 1] = tolerance - abs(half[i])
    return mx, my, room


@compiled
def farthest(
    x: Floats, y: Floats, first: int, step: int, last: int, room: Floats, guess: int
) -> int:
    """How many points from `first` towards `last` one arc reaches, starting from a guess."""
    most = (last - first) * step
    good, bad, reach = 1, most + 1, max(2, guess)
    while bad - good > 1:
        reach = min(reach, most, bad - 1)
        other = first + step * reach
        low, high = bulge_range(x, y, min(first, other), max(first, other), room)
        if low <= high:
            good = reach
            reach = good + max(1, good // 2) if bad > most else (good + bad) // 2
        else:
            bad = reach
            reach = (good + bad) // 2
    return good


@compiled
def cut_run(x: Floats, y: Floats, room: Floats) -> Ints:
    """Points at which a smooth run is cut into as few arcs as will do, of even effort.

    Taken greedily from both ends: whatever lies between the two cuts of equal number is as
    good, and the middle leaves no short arc at an end.
    """
    last = len(x) - 1
    forth, back = np.empty(last + 1, dtype=np.int64), np.empty(last + 1, dtype=np.int64)
    count = parts = reach = 0
    forth[0], back[0] = 0, last
    while forth[count] < last:
        reach = farthest(x, y, forth[count], 1, last, room, reach)
        forth[count + 1] = forth[count] + reach
        count += 1
    while back[parts] > 0 and parts < count:
        reach = farthest(x, y, back[parts], -1, 0, room, reach)
        back[parts + 1] = back[parts] - reach
        parts += 1
    cuts = forth[: count + 1].copy()
    if back[parts] == 0 and parts == count:
        for i in range(1, count):
            # where a node is asked for, both have it
            if room[forth[i]] >= 0.0:
                cuts[i] = (forth[i] + back[count - i] + 1) // 2
            if cuts[i] <= cuts[i - 1]:
                return forth[: count + 1].copy()
    return cuts


@compiled
def first_betas(x: Floats, y: Floats, cuts: Ints, room: Floats) -> Floats:
    """Half turns of arcs through the nodes that pass the points between them well."""
    beta = np.zeros(len(cuts) - 1)
    for k in range(len(beta)):
        if cuts[k + 1] - cuts[k] > 1:
            low, high = bulge_range(x, y, cuts[k], cuts[k + 1], room)
            beta[k] = 2.0 * atan((low + high) / 2.0)
    return beta

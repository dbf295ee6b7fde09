"""How far the farthest of a stretch of places along a boundary is from a point. Lengths in mm.

Long thin parts ask this of every place along them. Boxes round 2, 4, 8 … places that follow one
another tell which of them need not be looked at.
"""

from typing import Any, NamedTuple

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled

LEAF = 8
"""Places in one of the least boxes."""
AGREES = 1.0 - 1e-12
"""A box is left out only if it is nearer by more than arithmetic may err."""


class Outlying(NamedTuple):
    """Boxes round places.

    Attributes:
        x, y: the places.
        boxes: rows of left, bottom, right, top; those of row k lie in rows 2 k and 2 k + 1.
        leaves: number of the least boxes, a power of two: row ``leaves`` is the first of them.
    """

    x: Floats
    y: Floats
    boxes: Floats
    leaves: int


@compiled
def outlying(x: Floats, y: Floats) -> Outlying:
    """Lay boxes round places in their order."""
    leaves = 1
    while leaves * LEAF < x.size:
        leaves *= 2
    boxes = np.empty((2 * leaves, 4))
    boxes[:, :2], boxes[:, 2:] = np.inf, -np.inf
    for k in range(x.size):
        at = leaves + k // LEAF
        boxes[at, 0], boxes[at, 1] = min(boxes[at, 0], x[k]), min(boxes[at, 1], y[k])
        boxes[at, 2], boxes[at, 3] = max(boxes[at, 2], x[k]), max(boxes[at, 3], y[k])
    for at in range(leaves - 1, 0, -1):
        for d in range(2):
            boxes[at, d] = min(boxes[2 * at, d], boxes[2 * at + 1, d])
            boxes[at, d + 2] = max(boxes[2 * at, d + 2], boxes[2 * at + 1, d + 2])
    return Outlying(x, y, boxes, leaves)


@compiled
def farthest_of(
    o: Outlying, start: int, end: int, step: int, x: float, y: float, best: float
) -> Any:
    """The farthest of the places from one up to another.

    Args:
        o: the places.
        start: the first of them.
        end: that after the last.
        step: 1, or -1 to go through them from the last to the first.
        x: of the point.
        y: of the point.
        best: only what is farther counts, squared.

    Returns:
        The farthest, of several the one met first, and its distance squared; -1 and `best` if none
        is farther.
    """
    found = -1
    waiting = np.empty(64, np.int64)
    waiting[0], count = 1, 1
    while count > 0:
        count -= 1
        at = waiting[count]
        if _reach(o, at, x, y) < best * AGREES:
            continue
        width, level = LEAF, at  # what it holds: its least boxes, left to right
        while level < o.leaves:
            level, width = 2 * level, 2 * width
        low = (level - o.leaves) * LEAF
        if low >= end or low + width <= start:
            continue
        if at < o.leaves:  # what may be farther comes first
            later = _reach(o, 2 * at, x, y) < _reach(o, 2 * at + 1, x, y)
            waiting[count], waiting[count + 1] = 2 * at + (not later), 2 * at + later
            count += 2
            continue
        for k in range(max(low, start), min(low + LEAF, end)):
            away = (o.x[k] - x) ** 2 + (o.y[k] - y) ** 2
            if away > best or (away == best and found >= 0 and step * (k - found) < 0):
                best, found = away, k
    return found, best


@compiled
def _reach(o: Outlying, at: int, x: float, y: float) -> float:
    """How far a box reaches from a point, squared; below 0 if it is empty."""
    if o.boxes[at, 0] > o.boxes[at, 2]:
        return -1.0
    dx = max(x - o.boxes[at, 0], o.boxes[at, 2] - x)
    dy = max(y - o.boxes[at, 1], o.boxes[at, 3] - y)
    return float(dx * dx + dy * dy)


@compiled
def farthest_on_way(
    o: Outlying, low: int, high: int, start: int, end: int, step: int, x: float, y: float
) -> Any:
    """The farthest of the places on a way along a ring.

    Args:
        o: the places.
        low: the first place of the ring.
        high: that after its last.
        start: where the way begins.
        end: where it ends, itself left out.
        step: 1 forwards, -1 backwards.
        x: of the point.
        y: of the point.

    Returns:
        The farthest, of several the one met first, and its distance squared; -1 and -1.0 where
        the way has no places.
    """
    found, best = -1, -1.0
    if step > 0 and start <= end:
        return farthest_of(o, start, end, step, x, y, best)
    if step < 0 and end <= start:
        return farthest_of(o, end + 1, start + 1, step, x, y, best)
    if step > 0:
        found, best = farthest_of(o, start, high, step, x, y, best)
        other, best = farthest_of(o, low, end, step, x, y, best)
    else:
        found, best = farthest_of(o, low, start + 1, step, x, y, best)
        other, best = farthest_of(o, end + 1, high, step, x, y, best)
    return (other if other >= 0 else found), best


@compiled
def on_along_runs(run: Any, first: Any) -> Any:
    """How many places follow each in its run, itself counted: forwards and backwards.

    For a ring that is one run, as many as it has places.
    """
    ahead, behind = np.zeros(run.size, np.int64), np.zeros(run.size, np.int64)
    for r in range(first.size - 1):
        low, high = first[r], first[r + 1]
        size = high - low
        for i in range(2 * size):  # twice round, for runs over the ring's start
            k, j = high - 1 - i % size, low + i % size
            after, before = (k + 1 if k + 1 < high else low), (j - 1 if j > low else high - 1)
            ahead[k] = min(ahead[after] + 1, size) if run[after] == run[k] else 1
            behind[j] = min(behind[before] + 1, size) if run[before] == run[j] else 1
    return ahead, behind

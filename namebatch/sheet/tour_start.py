"""Where the search for a short way begins: who is near to whom, and the nearest first. Compiled."""

from math import inf

import numpy as np

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled
from namebatch.sheet.tour_search import step


@compiled
def neighbours(at: Floats, ids: Ints, turn: Ints, count: int, near: int) -> Ints:
    """The nearest places of each, and the nearest of other groups.

    Args:
        at: x and y.
        ids: group of each.
        turn: the first `count` places by rising x.
        count: places from here on have no neighbours and are nobody's.
        near: how many of either.

    Returns:
        A row a place, nearest first in each half, −1 where there are no more.
    """
    found = np.full((len(at), 2 * near), -1)
    away = np.full(2 * near, inf)
    for k in range(count):
        a = turn[k]
        away[:] = inf
        for side in (-1, 1):
            j = k + side
            while 0 <= j < count:
                b = turn[j]
                off = abs(at[b, 0] - at[a, 0])
                full = off > away[near - 1]
                if full and off > away[2 * near - 1]:
                    break
                distance = step(at, -1, a, b)
                _insert(found[a], away, 0, near, b, distance)
                if ids[a] != ids[b]:
                    _insert(found[a], away, near, 2 * near, b, distance)
                j += side
        for m in range(near):
            # once is enough
            for other in range(near, 2 * near):
                if found[a, other] == found[a, m]:
                    found[a, other] = -1
    return found


@compiled
def _insert(row: Ints, away: Floats, low: int, high: int, place: int, distance: float) -> None:
    """Put a place into a row that is sorted by distance."""
    if distance >= away[high - 1]:
        return
    k = high - 1
    while k > low and away[k - 1] > distance:
        row[k], away[k] = row[k - 1], away[k - 1]
        k -= 1
    row[k], away[k] = place, distance


@compiled
def nearest_first(at: Floats, ids: Ints, start: int, count: int) -> Ints:
    """From the start always on to the nearest place that is left, of the same group if any.

    Args:
        at: x and y.
        ids: group of each.
        start: a place; it comes first.
        count: the places from here on are left out, but for the start.
    """
    left = np.ones(count, np.int64)
    waiting = np.zeros(count + 1, np.int64)
    for k in range(count):
        waiting[ids[k]] += 1
    size = count + 1 if start >= count else count
    order = np.empty(size, np.int64)
    here, group = start, ids[start]
    order[0] = start
    if start < count:
        left[start] = 0
        waiting[group] -= 1
    for k in range(1, size):
        bound = group >= 0 and waiting[group] > 0
        best, nearest = inf, -1
        for b in range(count):
            if left[b] and (not bound or ids[b] == group):
                distance = step(at, -1, here, b)
                if distance < best:
                    best, nearest = distance, b
        here, group = nearest, ids[nearest]
        order[k], left[here] = here, 0
        waiting[group] -= 1
    return order

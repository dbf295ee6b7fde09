"""The search for a shorter way: moves of 2-opt and Or-opt on an array of places. Compiled. mm.

A way is an array of place numbers. With `last` ≥ 0 it begins and ends at fixed places, the end
being nowhere (no step to it has a length); with `last` = −1 it is a round. A move is left out if
it would part the places of one group.
"""

from math import sqrt

import numpy as np

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled

LEAST_MM = 1e-7
"""A gain below this is rounding."""
ROW = 3
"""So many places in a row are moved as one, or a whole group."""
STRETCH = 10
"""A kick exchanges stretches of so many places at most."""

LONGEST = 1000
"""After a kick no longer stretch is turned round: it would cost more than it gives."""


@compiled
def step(at: Floats, last: int, a: int, b: int) -> float:
    """Length of a step between two places."""
    if a == last or b == last:
        return 0.0
    x, y = at[a, 0] - at[b, 0], at[a, 1] - at[b, 1]
    # unlike hypot the same to the last bit, compiled or not
    return sqrt(x * x + y * y)


@compiled
def turn_round(order: Ints, pos: Ints, seen: Ints, i: int, j: int) -> None:
    """Reverse a stretch; `seen` is the part of the way that was touched, and the longest turn."""
    seen[0], seen[1] = min(seen[0], i), max(seen[1], j)
    while i < j:
        order[i], order[j] = order[j], order[i]
        pos[order[i]], pos[order[j]] = i, j
        i += 1
        j -= 1
    if i == j:
        pos[order[i]] = i


@compiled
def is_whole(ids: Ints, order: Ints, i: int, j: int) -> bool:
    """True if turning a stretch round keeps every group together."""
    a, b, n = order[i], order[j], len(order)
    if ids[a] == ids[b]:
        return True
    after = order[j + 1 if j + 1 < n else 0]
    return bool(ids[order[i - 1]] != ids[a] and ids[after] != ids[b])


@compiled
def may_exchange(ids: Ints, order: Ints, i: int, j: int, k: int) -> bool:
    """True if exchanging the stretches i … j and j+1 … k keeps every group together."""
    if ids[order[i]] == ids[order[k]]:
        return True
    return bool(is_whole(ids, order, i, k) and ids[order[j]] != ids[order[j + 1]])


@compiled
def call(todo: Ints, waits: Ints, place: int) -> None:
    """Have a place looked at again; the last entry of `todo` counts those that wait."""
    if not waits[place]:
        waits[place] = 1
        todo[todo[-1]] = place
        todo[-1] += 1


@compiled
def two_opt(
    at: Floats, ids: Ints, last: int, near: Ints, order: Ints, pos: Ints, seen: Ints, todo: Ints,
    waits: Ints, a: int,
) -> float:  # fmt: skip
    """Take out a step at place a and another one, if that gains anything.

    Returns:
        By how much the way is shorter; 0 if nothing was found.
    """
    n, i = len(order), pos[a]
    for side in (1, -1):
        if last >= 0 and not 0 <= i + side < n:
            continue
        b = order[(i + side) % n]
        old = step(at, last, a, b)
        for c in near[a]:
            if c < 0 or step(at, last, a, c) >= old:
                continue
            j = pos[c]
            if last >= 0 and not 0 <= j + side < n:
                continue
            d = order[(j + side) % n]
            gain = old + step(at, last, c, d) - step(at, last, a, c) - step(at, last, b, d)
            low = min(i, j) + (1 if side == 1 else 0)
            high = max(i, j) - (0 if side == 1 else 1)
            if gain > LEAST_MM and high - low <= seen[2] and is_whole(ids, order, low, high):
                turn_round(order, pos, seen, low, high)
                for place in (a, b, c, d):
                    call(todo, waits, place)
                return gain
    return 0.0


@compiled
def exchange(
    order: Ints, pos: Ints, seen: Ints, i: int, j: int, k: int, flip_left: bool, flip_right: bool
) -> None:
    """Exchange the stretches i … j and j+1 … k, either turned round or not."""
    turn_round(order, pos, seen, i, k)
    middle = i + k - j
    if not flip_right:
        turn_round(order, pos, seen, i, middle - 1)
    if not flip_left:
        turn_round(order, pos, seen, middle, k)


@compiled
def or_opt(
    at: Floats, ids: Ints, last: int, near: Ints, order: Ints, pos: Ints, seen: Ints, todo: Ints,
    waits: Ints, a: int,
) -> float:  # fmt: skip
    """Put a row of places that begins or ends at place a elsewhere, next to one near to a.

    Returns:
        By how much the way is shorter; 0 if nothing was found.
    """
    n, here = len(order), pos[a]
    low, high = (1, n - 2) if last >= 0 else (0, n - 1)
    for size in range(1, ROW + 2):
        for side in (1, -1):
            there = here + side * (size - 1)
            if size > ROW:
                while low <= there + side <= high and ids[order[there + side]] == ids[a]:
                    there += side
            i, j = min(here, there), max(here, there)
            if i < low or j > high:
                continue
            b, p, q = order[there], order[i - 1], order[(j + 1) % n]
            old = step(at, last, p, order[i]) + step(at, last, order[j], q) - step(at, last, p, q)
            if old <= LEAST_MM:
                continue
            for c in near[a]:
                if c < 0 or i <= pos[c] <= j or step(at, last, a, c) >= old:
                    continue
                gain = _put(
                    at, ids, last, order, pos, seen, (a, b, c), (i, j), side, old
                )  # fmt: skip
                if gain > 0.0:
                    for place in (a, b, c, p, q, order[pos[b] - 1], order[(pos[b] + 1) % n]):
                        call(todo, waits, place)
                    return gain
    return 0.0


@compiled
def _put(
    at: Floats, ids: Ints, last: int, order: Ints, pos: Ints, seen: Ints,
    ends: tuple[int, int, int], row: tuple[int, int], side: int, old: float,
) -> float:  # fmt: skip
    """Put a row i … j, which runs from a on to one `side` as far as b, beside c."""
    n = len(order)
    a, b, c = ends
    i, j = row
    for way in (1, -1):
        k = pos[c] + way
        if last >= 0 and not 0 <= k < n:
            continue
        e = order[k % n]
        if i <= pos[e] <= j:
            continue
        gain = old - step(at, last, a, c) - step(at, last, b, e) + step(at, last, c, e)
        if gain <= LEAST_MM:
            continue
        # the step that is opened runs from k to k + 1; with c before it a comes first
        k = pos[c] if way == 1 else (pos[c] - 1) % n
        flip = way != side
        if j < k <= i + seen[2] and may_exchange(ids, order, i, j, k):
            exchange(order, pos, seen, i, j, k, flip, False)
            return gain
        if j - seen[2] <= k < i and may_exchange(ids, order, k + 1, i - 1, j):
            exchange(order, pos, seen, k + 1, i - 1, j, False, flip)
            return gain
    return 0.0


@compiled
def settle(
    at: Floats, ids: Ints, last: int, near: Ints, order: Ints, pos: Ints, seen: Ints, todo: Ints,
    waits: Ints,
) -> float:  # fmt: skip
    """Make moves until no place that waits gives one.

    Returns:
        By how much the way is shorter.
    """
    total = 0.0
    while todo[-1] > 0:
        todo[-1] -= 1
        a = todo[todo[-1]]
        waits[a] = 0
        gain = two_opt(at, ids, last, near, order, pos, seen, todo, waits, a)
        if gain == 0.0:
            gain = or_opt(at, ids, last, near, order, pos, seen, todo, waits, a)
        if gain > 0.0:
            call(todo, waits, a)
            total += gain
    return total


@compiled
def improve(at: Floats, ids: Ints, last: int, near: Ints, order: Ints, kicks: int) -> None:
    """Shorten a way in place: settle it, then kick it and settle it again, so many times."""
    n = len(order)
    pos, waits = np.empty(n, np.int64), np.zeros(n, np.int64)
    todo, seen = np.zeros(n + 1, np.int64), np.array([n, -1, n])
    for k in range(n):
        pos[order[k]] = k
    for k in range(n - 1, -1, -1):
        call(todo, waits, order[k])
    settle(at, ids, last, near, order, pos, seen, todo, waits)
    kept = order.copy()
    low, high = (1, n - 2) if last >= 0 else (0, n - 1)
    number = 12345
    for _ in range(kicks if high - low >= 3 else 0):
        seen[0], seen[1], seen[2] = n, -1, LONGEST
        number, i = _next(number, high - low)
        number, first = _next(number, STRETCH)
        number, second = _next(number, STRETCH)
        i += low
        j = min(i + first, high - 1)
        k = min(j + 1 + second, high)
        if not may_exchange(ids, order, i, j, k) or k - i + 1 >= n:
            continue
        a, b, c, d = order[i], order[j], order[j + 1], order[k]
        p, q = order[i - 1], order[(k + 1) % n]
        gain = step(at, last, p, a) + step(at, last, b, c) + step(at, last, d, q)
        gain -= step(at, last, p, c) + step(at, last, d, a) + step(at, last, b, q)
        exchange(order, pos, seen, i, j, k, False, False)
        for place in (p, a, b, c, d, q):
            call(todo, waits, place)
        gain += settle(at, ids, last, near, order, pos, seen, todo, waits)
        for k in range(seen[0], seen[1] + 1):
            if gain < 0.0:
                order[k] = kept[k]
                pos[order[k]] = k
            else:
                kept[k] = order[k]


@compiled
def _next(number: int, count: int) -> tuple[int, int]:
    """The next of a fixed row of numbers (C's textbook generator), and one below `count`."""
    number = (number * 1103515245 + 12345) % 2147483648
    return number, (number >> 8) % count

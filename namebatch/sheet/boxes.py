"""As many equal boxes as a rectangle takes, lying both ways. Thousandths of a millimetre.

Every rectangle is cut in two, or into four round a fifth, and each part likewise; the best counts
of all sizes that boxes can add up to are found from the smallest up (Bischoff & Dowsland 1982;
Morabito & Morales 1998: five-block recursion). Too many sizes for that: cut in two only.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from namebatch.outline.compiled import compiled

Numbers = NDArray[np.int64]
FIVES_UP_TO = 300_000_000
"""So many ways to cut into five are tried."""
MOST_SIZES = 1500
Spot = tuple[int, int, bool]
"""x, y, and whether the box lies across."""


def best_boxes(box: tuple[int, int], room: tuple[int, int], across: bool) -> list[Spot]:
    """Places of boxes.

    Args:
        box: width and height of a box.
        room: of the rectangle.
        across: True if boxes may also lie with their height along the room's width.

    Returns:
        One spot a box.
    """
    sides = sorted(set(box)) if across else None
    xs = _sums(sides or [box[0]], room[0])
    ys = _sums(sides or [box[1]], room[1])
    if len(xs) < 2 or len(ys) < 2:
        return []
    if max(len(xs), len(ys)) > MOST_SIZES:
        return _grid(box, room)
    fives = len(xs) ** 2 * len(ys) ** 2 * len(xs) * len(ys) // 36 <= FIVES_UP_TO
    _, cuts = _count(xs, ys, np.array(box), across, fives)
    return list(_spots(cuts, xs, ys, box, len(xs) - 1, len(ys) - 1, 0, 0))


def _grid(box: tuple[int, int], room: tuple[int, int]) -> list[Spot]:
    """All boxes upright, side by side."""
    return [
        (x * box[0], y * box[1], False)
        for y in range(room[1] // box[1])
        for x in range(room[0] // box[0])
    ]


def _sums(sides: list[int], length: int) -> Numbers:
    """Every length up to a limit that whole sides add up to, 0 among them."""
    sums = {0}
    for side in sides:
        grown = set(sums)
        for start in sums:
            grown.update(range(start, length + 1, side))
        sums = grown
    return np.array(sorted(sums), dtype=np.int64)


@compiled
def _count(
    xs: Numbers, ys: Numbers, box: Numbers, across: bool, fives: bool
) -> tuple[Numbers, Numbers]:
    """Most boxes in each size of rectangle, and how it is cut.

    A cut is a kind (0 nothing, 1 a box, 2 a box across, 3 beside, 4 above, 5 five parts) and up to
    four indices.
    """
    nx, ny = xs.size, ys.size
    counts = np.zeros((nx, ny), np.int64)
    cuts = np.zeros((nx, ny, 5), np.int64)
    left_x, left_y = _left(xs), _left(ys)
    for i in range(1, nx):
        for j in range(1, ny):
            best = 0
            if xs[i] >= box[0] and ys[j] >= box[1]:
                best, cuts[i, j, 0] = 1, 1
            elif across and xs[i] >= box[1] and ys[j] >= box[0]:
                best, cuts[i, j, 0] = 1, 2
            for k in range(1, i):
                found = counts[k, j] + counts[left_x[i, k], j]
                if found > best:
                    best, cuts[i, j, 0], cuts[i, j, 1] = found, 3, k
            for k in range(1, j):
                found = counts[i, k] + counts[i, left_y[j, k]]
                if found > best:
                    best, cuts[i, j, 0], cuts[i, j, 1] = found, 4, k
            limit = (xs[i] * ys[j]) // (box[0] * box[1])
            if fives and best < limit:
                for a in range(1, i):
                    for b in range(a, i):
                        for c in range(1, j):
                            for d in range(c, j):
                                # round the middle: left, above, right, below
                                found = (
                                    counts[a, d]
                                    + counts[b, left_y[j, d]]
                                    + counts[left_x[i, b], left_y[j, c]]
                                    + counts[left_x[i, a], c]
                                    + counts[left_x[b, a], left_y[d, c]]
                                )
                                if found > best:
                                    best, cuts[i, j, 0] = found, 5
                                    cuts[i, j, 1], cuts[i, j, 2] = a, b
                                    cuts[i, j, 3], cuts[i, j, 4] = c, d
            counts[i, j] = best
    return counts, cuts


@compiled
def _left(sums: Numbers) -> Numbers:
    """What is left of one length beside another, as the index of the largest sum that it holds."""
    left = np.zeros((sums.size, sums.size), np.int64)
    for i in range(sums.size):
        for k in range(i + 1):
            left[i, k] = np.searchsorted(sums, sums[i] - sums[k], side="right") - 1
    return left


def _spots(
    cuts: Numbers, xs: Numbers, ys: Numbers, box: tuple[int, int], i: int, j: int, x: int, y: int
) -> Iterator[Spot]:
    """The boxes of one part, whose bottom left corner is at x, y."""

    def part(width: int, height: int, right: int, up: int) -> Iterator[Spot]:
        """A part of at most a size; its indices are those of the largest sums in it."""
        a = int(np.searchsorted(xs, width, side="right")) - 1
        b = int(np.searchsorted(ys, height, side="right")) - 1
        return _spots(cuts, xs, ys, box, a, b, x + right, y + up)

    kind, a, b, c, d = (int(value) for value in cuts[i, j])
    width, height = int(xs[i]), int(ys[j])
    if kind in (1, 2):
        yield x, y, kind == 2
    elif kind == 3:
        cut = int(xs[a])
        yield from part(cut, height, 0, 0)
        yield from part(width - cut, height, cut, 0)
    elif kind == 4:
        cut = int(ys[a])
        yield from part(width, cut, 0, 0)
        yield from part(width, height - cut, 0, cut)
    elif kind == 5:
        x1, x2, y1, y2 = int(xs[a]), int(xs[b]), int(ys[c]), int(ys[d])
        yield from part(x1, y2, 0, 0)
        yield from part(x2, height - y2, 0, y2)
        yield from part(width - x2, height - y1, x2, y1)
        yield from part(width - x1, y1, x1, 0)
        yield from part(x2 - x1, y2 - y1, x1, y1)

"""A sheet as a board of bits: all free places of a mask at once, and the best of them. Cells.

The board is kept twice: as bits in words of 64, whose shifts and ORs tell where a mask meets
nothing that is taken, and as bytes, on which the cells round a place are counted. Row 0 and
column 0 are the lowest and the leftmost; the region beyond the edges counts as taken.
"""

from copy import copy
from dataclasses import dataclass, field
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from namebatch.outline.compiled import compiled
from namebatch.sheet.masks import Cells, Mask, reach_mm
from namebatch.sheet.model import Rect

Words = NDArray[np.uint64]
Numbers = NDArray[np.int64]
WORD = 64
FULL = np.uint64(2**64 - 1)
GOLDEN = 0.6180339887498949
CHUNK = 128
"""Words that are worked on together, until hardly a place in them is free."""
FEW = 8
"""Words in which places are free that are rather worked on one by one."""


@dataclass(frozen=True, slots=True)
class Raster:
    """How a usable area is cut into cells.

    Attributes:
        usable: x, y, width, height in mm.
        gap_mm: least distance of two blocks.
        cell_mm: side of a cell.
        upright: rows run along x; otherwise the sheet lies turned over its diagonal, so that it
            is filled from the left instead of from below.
    """

    usable: Rect
    gap_mm: float
    cell_mm: float
    upright: bool

    @property
    def size(self) -> tuple[int, int]:
        """Rows and columns; the last ones may reach beyond the edge."""
        reach = 2 * reach_mm(self.gap_mm)
        width, height = (ceil((side + reach) / self.cell_mm - 1e-9) for side in self.usable[2:])
        return (height, width) if self.upright else (width, height)

    def corner_mm(self, row: int, column: int) -> tuple[float, float]:
        """Where a block's box has its bottom left corner, from that of the usable area."""
        x, y = (column, row) if self.upright else (row, column)
        return x * self.cell_mm, y * self.cell_mm


@dataclass(frozen=True, slots=True, eq=False)
class Stamp:
    """A mask made ready for boards of one raster.

    Attributes:
        mask: where it comes from.
        cells: its cells, turned over the diagonal if the raster is.
        count: how many they are.
        levels, shifts: stretches of cells: of two to the power of a level, so many bits from
            the mask's corner; together they are all its cells.
        round_rows, round_columns: the cells beside its own, from its corner.
        last_row, last_column: farthest place at which its box is inside the usable area.
    """

    mask: Mask
    cells: Cells
    count: int
    levels: Numbers
    shifts: Numbers
    round_rows: Numbers
    round_columns: Numbers
    last_row: int
    last_column: int


def stamp_of(mask: Mask, raster: Raster) -> Stamp | None:
    """Make a mask ready; None if its box does not fit the usable area."""
    cells = mask.cells if raster.upright else np.ascontiguousarray(mask.cells.T)
    beyond = (
        floor((raster.usable[2] - mask.turned.width_mm) / raster.cell_mm + 1e-6),
        floor((raster.usable[3] - mask.turned.height_mm) / raster.cell_mm + 1e-6),
    )
    last_column, last_row = beyond if raster.upright else beyond[::-1]
    if min(beyond) < 0:
        return None
    # a block as large as the area may need a cell more by a hair's breadth of rounding
    cells = np.ascontiguousarray(cells[: raster.size[0], : raster.size[1]])
    levels, shifts = _stretches(cells, WORD * words_a_row(raster.size[1]))
    # long ones first, and those that follow each other far apart: what meets nothing is rare, and
    # is known sooner
    order = np.lexsort(((np.arange(levels.size) * GOLDEN) % 1.0, -levels))
    beside = _beside(cells)
    return Stamp(
        mask, cells, int(cells.sum()), levels[order], shifts[order], beside[0], beside[1],
        last_row, last_column,
    )  # fmt: skip


def words_a_row(columns: int) -> int:
    """Words that hold a row and one column beyond it."""
    return (columns + 1 + WORD - 1) // WORD


@compiled
def _stretches(cells: Cells, bits_a_row: int) -> tuple[Numbers, Numbers]:
    """Every run of cells in a row as one or two stretches that overlap."""
    rows, columns = cells.shape
    most = rows * (columns + 1) // 2 + 1
    levels, first, second = np.empty((3, most), np.int64)
    runs, more = 0, 0
    for row in range(rows):
        column = 0
        while column < columns:
            if cells[row, column] == 0:
                column += 1
                continue
            start = column
            while column < columns and cells[row, column] != 0:
                column += 1
            level = 0
            while 2 << level <= column - start:
                level += 1
            levels[runs] = level
            first[runs] = row * bits_a_row + start
            second[runs] = row * bits_a_row + column - (1 << level)
            more += second[runs] > first[runs]
            runs += 1
    found, shifts = np.empty(runs + more, np.int64), np.empty(runs + more, np.int64)
    found[:runs], shifts[:runs] = levels[:runs], first[:runs]
    at = runs
    for run in range(runs):
        if second[run] > first[run]:
            found[at], shifts[at] = levels[run], second[run]
            at += 1
    return found, shifts


@compiled
def _beside(cells: Cells) -> tuple[Numbers, Numbers]:
    """Rows and columns of the cells beside those of a mask, its corner being 0, 0."""
    rows, columns = cells.shape
    up, across = np.empty((2, 4 * rows * columns), np.int64)
    count = 0
    for row in range(-1, rows + 1):
        for column in range(-1, columns + 1):
            inside = 0 <= row < rows and 0 <= column < columns
            if inside and cells[row, column] != 0:
                continue
            within = 0 <= row < rows
            over = 0 <= column < columns
            if (
                (within and column > 0 and cells[row, column - 1] != 0)
                or (within and column < columns - 1 and cells[row, column + 1] != 0)
                or (over and row > 0 and cells[row - 1, column] != 0)
                or (over and row < rows - 1 and cells[row + 1, column] != 0)
            ):
                up[count], across[count] = row, column
                count += 1
    return up[:count].copy(), across[:count].copy()


@dataclass(slots=True, eq=False)
class Board:
    """One sheet while it is being filled.

    Attributes:
        size: rows and columns.
        taken: bytes, with a border of taken cells all round.
        planes: bits; plane k is taken where any of the next two to the power of k cells is.
        top: rows below which everything taken lies.
        count: cells that are taken.
    """

    size: tuple[int, int]
    taken: Cells = field(init=False)
    planes: Words = field(init=False)
    top: int = 0
    count: int = 0

    def __post_init__(self) -> None:
        """Nothing is taken yet but the border."""
        rows, columns = self.size
        self.taken = np.ones((rows + 2, columns + 2), np.uint8)
        self.taken[1:-1, 1:-1] = 0
        levels = max(columns, 1).bit_length()
        self.planes = np.zeros((levels, (rows + 2) * words_a_row(columns) + 2), np.uint64)

    def copy(self) -> "Board":
        """The same board once more, to try something on."""
        other = copy(self)
        other.taken, other.planes = self.taken.copy(), self.planes.copy()
        return other

    @property
    def room(self) -> int:
        """Cells that are free."""
        return self.size[0] * self.size[1] - self.count

    def best_place(self, stamp: Stamp, height_weight: float) -> tuple[float, int, int] | None:
        """The free place that touches most; low places are preferred.

        Args:
            stamp: what is to be placed.
            height_weight: touching cells that a place must have more for every row that it lies
                higher.

        Returns:
            Its score, row and column; None if no place is free.
        """
        if stamp.count > self.room:
            return None
        score, row, column = _best_place(
            self.planes, self.taken, words_a_row(self.size[1]),
            stamp.levels, stamp.shifts, stamp.round_rows, stamp.round_columns,
            min(stamp.last_row, self.top), stamp.last_column, stamp.cells.shape[0], height_weight,
        )  # fmt: skip
        return (score, row, column) if row >= 0 else None

    def take(self, cells: Cells) -> None:
        """Take cells of the board, given for all of it, before anything lies on it."""
        rows, columns = self.size
        inner = self.taken[1:-1, 1:-1]
        inner |= cells[:rows, :columns]
        used = np.flatnonzero(inner.any(axis=1))
        self.top = max(self.top, int(used[-1]) + 1 if used.size else 0)
        self.count = int(inner.sum())
        _renew(self.planes, self.taken, words_a_row(columns), 0, rows)

    def put(self, stamp: Stamp, row: int, column: int) -> None:
        """Take the cells of a stamp at a place."""
        rows, columns = stamp.cells.shape
        self.taken[row + 1 : row + 1 + rows, column + 1 : column + 1 + columns] |= stamp.cells
        self.top = max(self.top, row + rows)
        self.count += stamp.count
        _renew(self.planes, self.taken, words_a_row(self.size[1]), row, row + rows)


@compiled
def _renew(planes: Words, taken: Cells, words: int, first: int, last: int) -> None:
    """Write rows of the board into the planes anew."""
    columns = taken.shape[1] - 2
    for row in range(first, last):
        at = row * words
        for word in range(words):
            value = np.uint64(0)
            for bit in range(min(64, columns - 64 * word)):
                value |= np.uint64(taken[row + 1, 64 * word + bit + 1]) << np.uint64(bit)
            planes[0, at + word] = value
    for level in range(1, planes.shape[0]):
        step = 1 << (level - 1)
        jump, low = step >> 6, np.uint64(step & 63)
        for row in range(first, last):
            for word in range(words):
                i = row * words + word
                value = np.uint64(0)
                if word + jump < words:
                    value = planes[level - 1, i + jump] >> low
                if low > 0 and word + jump + 1 < words:
                    value |= planes[level - 1, i + jump + 1] << (np.uint64(64) - low)
                planes[level, i] = planes[level - 1, i] | value


@compiled
def _hits(
    planes: Words, words: int, levels: Numbers, shifts: Numbers, last_row: int, last_column: int
) -> Words:
    """Places at which a mask meets something taken or leaves the area, one bit a place.

    A row of ones comes before the first and after the last.
    """
    count = (last_row + 1) * words
    hits = np.zeros(count + 2 * words, np.uint64)
    hits[:words] = ~np.uint64(0)
    hits[count + words :] = ~np.uint64(0)
    inner = hits[words : count + words]
    whole, rest = (last_column + 1) >> 6, np.uint64((last_column + 1) & 63)
    for row in range(last_row + 1):
        for word in range(whole, words):
            beyond = ~np.uint64(0)
            if word == whole:
                beyond = ~((np.uint64(1) << rest) - np.uint64(1))
            inner[row * words + word] |= beyond
    for start in range(0, count, CHUNK):
        stop = min(start + CHUNK, count)
        part = inner[start:stop]
        for k in range(0, levels.size, 2):
            two = min(k + 1, levels.size - 1)
            _look_twice(
                planes[levels[k]], planes[levels[two]], start, shifts[k], shifts[two], part
            )  # fmt: skip
            if k & 2 == 0:
                left = 0
                for i in range(part.size):
                    left += part[i] != FULL
                if left <= FEW:
                    _look_on(planes, levels, shifts, start, k + 2, part)
                    break
    return hits


@compiled
def _look_twice(
    plane: Words, other: Words, start: int, shift: int, other_shift: int, part: Words
) -> None:
    """See at two bits from every place of a stretch of words what is taken."""
    low, other_low = np.uint64(shift & 63), np.uint64(other_shift & 63)
    high, other_high = np.uint64(63) - low, np.uint64(63) - other_low
    first, second, count = start + (shift >> 6), start + (other_shift >> 6), part.size
    # slices, so that the loop is free of checks and runs four words at a time
    a, b = plane[first : first + count], plane[first + 1 : first + 1 + count]
    c, d = other[second : second + count], other[second + 1 : second + 1 + count]
    one = np.uint64(1)
    for i in range(count):
        near = (a[i] >> low) | ((b[i] << one) << high)
        part[i] |= near | (c[i] >> other_low) | ((d[i] << one) << other_high)


@compiled
def _look_on(
    planes: Words, levels: Numbers, shifts: Numbers, start: int, first: int, part: Words
) -> None:
    """Go on with the few words in which places are free, each until none is."""
    one = np.uint64(1)
    for i in range(part.size):
        word = part[i]
        for k in range(first, levels.size):
            if word == FULL:
                break
            at, low = start + i + (shifts[k] >> 6), np.uint64(shifts[k] & 63)
            word |= planes[levels[k], at] >> low
            word |= (planes[levels[k], at + 1] << one) << (np.uint64(63) - low)
        part[i] = word


@compiled
def _best_place(
    planes: Words,
    taken: Cells,
    words: int,
    levels: Numbers,
    shifts: Numbers,
    round_rows: Numbers,
    round_columns: Numbers,
    last_row: int,
    last_column: int,
    rows: int,
    height_weight: float,
) -> tuple[float, int, int]:
    """Of the free places in a corner, the one with the best score; row -1 if there is none."""
    hits = _hits(planes, words, levels, shifts, last_row, last_column)
    best, best_row, best_column = -1e18, -1, -1
    one, top_bit = np.uint64(1), np.uint64(63)
    across = taken.shape[1]
    cells = taken.ravel()
    beside = np.empty(round_rows.size, np.uint64)  # unsigned: known not to count from the end
    for k in range(beside.size):
        beside[k] = np.uint64((round_rows[k] + 1) * across + round_columns[k] + 1)
    for row in range(last_row + 1):
        for word in range(words):
            i = (row + 1) * words + word
            free = ~hits[i]
            if free == 0:
                continue
            left, right = hits[i] << one, hits[i] >> one
            left |= hits[i - 1] >> top_bit if word > 0 else one
            right |= hits[i + 1] << top_bit if word + 1 < words else one << top_bit
            # a place in a corner is stopped both sideways and up or down
            free &= (left | right) & (hits[i - words] | hits[i + words])
            while free != 0:
                low = free & (~free + one)
                free ^= low
                column = 64 * word + _bit(low)
                corner = np.uint64(row * across + column)
                touching = 0
                for k in range(beside.size):
                    touching += cells[corner + beside[k]]
                score = touching - height_weight * (row + rows)
                if score > best:
                    best, best_row, best_column = score, row, column
    return best, best_row, best_column


@compiled
def _bit(word: np.uint64) -> int:
    """Number of the only bit of a word that is set."""
    number = 0
    for step in (32, 16, 8, 4, 2, 1):
        if word >> np.uint64(step + number) != 0:
            number += step
    return number

"""The bit board against plain counting of cells."""

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.ndimage import binary_dilation
from shapely import MultiPolygon, box, unary_union

from namebatch.sheet.bitboard import Board, Raster, Stamp, stamp_of, words_a_row
from namebatch.sheet.blocks import Turned
from namebatch.sheet.masks import Mask, masks_of
from tests.sheet.shapes import block_of


def _stamp(shape: MultiPolygon, raster: Raster) -> Stamp:
    [mask] = masks_of(block_of(0, shape, (0.0,)), raster.gap_mm, raster.cell_mm)
    stamp = stamp_of(mask, raster)
    assert stamp is not None
    return stamp


def _shape(random: Random) -> MultiPolygon:
    """Three bars, joined."""
    low, wide, high = random.randint(3, 30), random.randint(9, 50), random.randint(9, 40)
    parts = [
        box(0, 0, wide, 3),
        box(low % wide, 0, low % wide + 4, high),
        box(0, high - 2, 4, high),
    ]
    return unary_union([*parts, box(0, 0, 2, high)])


def _free(taken: np.ndarray, stamp: Stamp) -> np.ndarray:
    """Where a mask meets no taken cell, place by place."""
    rows, columns = stamp.cells.shape
    free = np.zeros((stamp.last_row + 1, stamp.last_column + 1), bool)
    for row in range(stamp.last_row + 1):
        for column in range(stamp.last_column + 1):
            part = taken[row : row + rows, column : column + columns]
            free[row, column] = not (part & stamp.cells).any()
    return free


@pytest.mark.parametrize("upright", [True, False])
@pytest.mark.parametrize("width", [61.0, 126.0, 130.0])
def test_best_place_against_plain_counting(width: float, upright: bool) -> None:
    """What is placed is free, touches most of all corners, and is found as long as there is one."""
    raster = Raster((3.0, 4.0, width, 90.0), 2.0, 1.0, upright)
    board = Board(raster.size)
    taken = np.zeros(raster.size, np.uint8)
    random = Random(3)
    placed = 0
    for _ in range(60):
        stamp = _stamp(_shape(random), raster)
        free = _free(taken, stamp)
        found = board.best_place(stamp, 0.0)
        assert (found is not None) == bool(free.any())
        if found is None:
            continue
        score, row, column = found
        assert free[row, column]
        around = np.pad(taken, 1, constant_values=1)
        scores = np.zeros(free.shape)
        for r, c in zip(*np.nonzero(free), strict=True):
            scores[r, c] = around[r + 1 + stamp.round_rows, c + 1 + stamp.round_columns].sum()
        wall = np.pad(free, 1)
        sideways = ~wall[1:-1, :-2] | ~wall[1:-1, 2:]
        corner = free & sideways & (~wall[:-2, 1:-1] | ~wall[2:, 1:-1])
        # above everything taken there is nothing to touch but the sides
        assert score == scores[row, column]
        assert corner[: board.top + 1][row, column] or row == board.top
        assert score >= scores[: board.top + 1][corner[: board.top + 1]].max()
        rows, columns = stamp.cells.shape
        taken[row : row + rows, column : column + columns] |= stamp.cells
        board.put(stamp, row, column)
        assert board.count == taken.sum()
        placed += 1
    assert placed > 3


@settings(max_examples=80, deadline=None)
@given(
    arrays(np.uint8, st.tuples(st.integers(1, 9), st.integers(1, 40)), elements=st.integers(0, 1))
)
def test_stamps_are_their_masks(cells: np.ndarray) -> None:
    """The stretches of a stamp cover its cells and no other, and what is beside it is all there is.

    Cells are told by SciPy's dilation.
    """
    raster = Raster((0.0, 0.0, 50.0, 50.0), 0.0, 1.0, True)
    turned = Turned(0.0, 1.0, 1.0, (), MultiPolygon())
    stamp = stamp_of(Mask(turned, cells), raster)
    assert stamp is not None
    across = 64 * words_a_row(raster.size[1])
    covered = np.zeros(across * (cells.shape[0] + 1), np.uint8)
    for level, shift in zip(stamp.levels, stamp.shifts, strict=True):
        assert shift // across == (shift + (1 << level) - 1) // across
        covered[shift : shift + (1 << level)] = 1
    assert np.array_equal(covered.reshape(-1, across)[: len(cells), : cells.shape[1]], cells)
    assert covered.sum() == cells.sum() == stamp.count
    assert list(stamp.levels) == sorted(stamp.levels, reverse=True)
    wide = np.pad(cells, 1)
    beside = binary_dilation(wide) & (wide == 0)
    rows, columns = np.nonzero(beside)
    assert np.array_equal(stamp.round_rows, rows - 1)
    assert np.array_equal(stamp.round_columns, columns - 1)


def test_a_piece_as_large_as_the_area_fits() -> None:
    """Rounding to cells never refuses what fits exactly."""
    for cell in (0.3, 0.7, 1.0, 1.3):
        raster = Raster((0.0, 0.0, 97.3, 51.9), 2.0, cell, True)
        stamp = _stamp(box(0, 0, 97.3, 51.9), raster)
        assert Board(raster.size).best_place(stamp, 1.0) is not None


def test_what_does_not_fit_has_no_stamp() -> None:
    """A box that is wider than the area is not made ready."""
    raster = Raster((0.0, 0.0, 50.0, 50.0), 2.0, 1.0, True)
    [mask] = masks_of(block_of(0, box(0, 0, 50.1, 10), (0.0,)), 2.0, 1.0)
    assert stamp_of(mask, raster) is None

"""Lower bounds: never above what a filling reaches, and above area where size or shape says so."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from namebatch.sheet.bounds import Bounds, lower_bounds, most_discs
from namebatch.sheet.shelves import shelves
from tests.sheet.shapes import block_of

USABLE = (5.0, 7.0, 200.0, 280.0)
SIZES = st.lists(st.tuples(st.integers(5, 195), st.integers(5, 195)), max_size=25)


@settings(max_examples=60, deadline=None)
@given(SIZES, st.sampled_from([0.0, 2.0, 9.0]), st.booleans())
def test_never_above_a_filling(sizes: list[tuple[int, int]], gap: float, turns: bool) -> None:
    """Boxes and diamonds on shelves need at least as many sheets as the bound says."""
    blocks = []
    for number, (width, height) in enumerate(sizes):
        x, y = width / 2, height / 2
        diamond = Polygon([(x, 0), (width, y), (x, height), (0, y)])
        shape = box(0, 0, width, height) if number % 3 else diamond
        blocks.append(block_of(number, shape, (0.0, 90.0) if turns else (0.0,)))
    bounds = lower_bounds(blocks, USABLE, gap)
    assert bounds.area <= bounds.sheets <= len(shelves(blocks, USABLE, gap, False))


def test_no_pieces_no_sheets() -> None:
    """An empty batch needs nothing."""
    assert lower_bounds([], USABLE, 2.0) == Bounds(0, 0)


@pytest.mark.parametrize(
    ("shape", "count", "bounds"),
    [
        # wider than half the sheet: two above each other, where area would allow four
        (box(0, 0, 110, 110), 10, Bounds(3, 5)),
        # more than half of both sides: one a sheet
        (box(0, 0, 110, 150), 10, Bounds(3, 10)),
        # three beside each other and four above each other at most
        (box(0, 0, 60, 65), 24, Bounds(2, 2)),
        (box(0, 0, 60, 65), 25, Bounds(2, 3)),
    ],
)
def test_boxes_that_share_a_sheet_badly(shape: Polygon, count: int, bounds: Bounds) -> None:
    """Counts by hand: how many lie beside and above each other."""
    blocks = [block_of(k, shape, (0.0,), kind=0) for k in range(count)]
    assert lower_bounds(blocks, USABLE, 2.0) == bounds


def test_a_turn_that_fits_better_lowers_the_bound() -> None:
    """The bound takes the turn that needs least."""
    upright = [block_of(k, box(0, 0, 110, 60), (0.0,), kind=0) for k in range(6)]
    free = [block_of(k, box(0, 0, 110, 60), (0.0, 90.0), kind=0) for k in range(6)]
    assert lower_bounds(upright, USABLE, 0.0).sheets == 2
    assert lower_bounds(free, USABLE, 0.0).sheets == 1


def test_discs_need_more_than_their_area() -> None:
    """Large numbers of discs cannot be denser than π/√12 = .9069 (Thue; from memory)."""
    disc = Point(0, 0).buffer(4, quad_segs=32)
    blocks = [block_of(k, disc, (0.0,), kind=0) for k in range(10_500)]
    bounds = lower_bounds(blocks, USABLE, 0.0)
    assert bounds.sheets > bounds.area
    most = most_discs(4.0, (200.0, 280.0), 0.0)
    assert most * 16 * 3.14159265 / (200 * 280) < 0.9069 * 1.05


def test_pieces_of_more_than_half_a_sheet() -> None:
    """Two L shapes of .55 of a sheet do not share it, whatever their boxes say."""
    shape = Polygon([(0, 0), (190, 0), (190, 100), (90, 100), (90, 230), (0, 230)])
    blocks = [block_of(k, shape, (0.0, 180.0), kind=0) for k in range(6)]
    assert shape.area > 200 * 280 / 2
    assert lower_bounds(blocks, USABLE, 2.0) == Bounds(4, 6)

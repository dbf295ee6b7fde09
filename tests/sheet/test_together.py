"""Sheets by order: whole orders, nothing lost, nothing overlaps."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from namebatch.sheet.blocks import Block
from namebatch.sheet.fill import by_order
from namebatch.sheet.model import Placement
from tests.sheet.shapes import block_of, proven

USABLE = (5.0, 7.0, 120.0, 90.0)
GAP = 2.0
side = st.integers(8, 60)


def _sheets_of(sheets: list[list[Placement]], groups: list[int]) -> dict[int, set[int]]:
    """Group → the sheets that it lies on."""
    found: dict[int, set[int]] = {}
    for number, sheet in enumerate(sheets):
        for placement in sheet:
            group = groups[int(placement.piece[1:].partition("-")[0]) - 2]
            found.setdefault(group, set()).add(number)
    return found


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(side, side, st.integers(0, 6)), max_size=30))
def test_orders_stay_together(drawn: list[tuple[int, int, int]]) -> None:
    """What fits one sheet by the room of its boxes on a shelf is never split; all is sound."""
    blocks = [block_of(k, box(0, 0, w, h)) for k, (w, h, _) in enumerate(drawn)]
    groups = [group for _, _, group in drawn]
    sheets = by_order(blocks, groups, USABLE, GAP)
    assert proven(sheets, blocks, USABLE, GAP) == ""
    for group, on in _sheets_of(sheets, groups).items():
        members = [block for block, own in zip(blocks, groups, strict=True) if own == group]
        if _on_one_shelf(members):
            assert len(on) == 1


def _on_one_shelf(members: list[Block]) -> bool:
    """True if boxes side by side along the bottom need no more than half of the sheet."""
    return sum(block.turns[0].width_mm + GAP for block in members) <= 60


def test_an_order_larger_than_a_sheet() -> None:
    """It takes sheets of its own; the last of them takes another order too."""
    blocks = [block_of(k, box(0, 0, 50, 40)) for k in range(6)]
    groups = [1, 1, 1, 1, 1, 2]
    sheets = by_order(blocks, groups, USABLE, GAP)
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert _sheets_of(sheets, groups) == {1: {0, 1}, 2: {1}}


def test_ragged_shapes_nest() -> None:
    """True shapes are laid, not boxes: six corners of an order fill a sheet for four boxes."""
    corner = Polygon([(0, 0), (56, 0), (56, 10), (10, 10), (10, 40), (0, 40)])
    blocks = [block_of(k, corner, (0.0, 180.0)) for k in range(6)]
    sheets = by_order(blocks, [1] * 6, USABLE, GAP)
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert len(sheets) == 1


def test_as_they_come_where_that_is_as_good() -> None:
    """Orders lie on the sheets in the order of the list if no sheet is saved otherwise."""
    random = Random(5)
    blocks = [block_of(k, box(0, 0, random.randint(30, 40), 20)) for k in range(24)]
    groups = [k // 4 for k in range(24)]
    firsts = [min(on) for on in _sheets_of(by_order(blocks, groups, USABLE, GAP), groups).values()]
    assert firsts == sorted(firsts)


def test_equal_pieces_by_their_number() -> None:
    """Three orders that fill a sheet in plain rows need three sheets, as do nine of a third."""
    tag = box(0, 0, 55, 30)
    usable = (3.0, 3.0, 594.0, 294.0)
    blocks = [block_of(k, tag, (0.0, 90.0, 180.0, 270.0), kind=0) for k in range(264)]
    for groups in ([k // 88 for k in range(264)], [k // 30 for k in range(264)]):
        sheets = by_order(blocks, groups, usable, 3.0)
        assert proven(sheets, blocks, usable, 3.0) == ""
        assert len(sheets) == 3
        assert all(len(on) == 1 for on in _sheets_of(sheets, groups).values())


def test_an_order_of_equal_pieces_among_others() -> None:
    """An order of equal pieces that fills a sheet in rows is not split because of the others."""
    usable = (0.0, 0.0, 202.0, 98.0)
    tag, other = box(0, 0, 48, 30.6), Polygon([(0, 0), (40, 0), (0, 30)])
    blocks = [block_of(k, tag, (0.0,), kind=0) for k in range(12)]
    blocks += [block_of(12 + k, other, (0.0,), kind=1) for k in range(3)]
    groups = [1] * 12 + [2] * 3
    sheets = by_order(blocks, groups, usable, 3.0)
    assert proven(sheets, blocks, usable, 3.0) == ""
    assert _sheets_of(sheets, groups) == {1: {0}, 2: {1}}


def test_nothing() -> None:
    """No block, no sheet."""
    assert by_order([], [], USABLE, GAP) == []

"""Filling: nothing is lost, nothing overlaps, nothing leaves the sheet."""

from math import hypot
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, box, unary_union

from namebatch.sheet import tries
from namebatch.sheet.blocks import Block, Member, Turned, fitting
from namebatch.sheet.fill import FILLS
from namebatch.sheet.model import Placement
from namebatch.sheet.shelves import shelves
from namebatch.sheet.wishes import Wishes
from tests.sheet.shapes import block_of, proven

QUICK = [way for way in FILLS if way != "tight"]  # which takes its time, and has its own tests
USABLE = (5.0, 7.0, 200.0, 280.0)
size = st.tuples(st.integers(5, 195), st.integers(5, 195))


@pytest.fixture(autouse=True)
def _fewer_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tenth of the tries that a job gets: what is proven does not depend on them."""
    monkeypatch.setattr(tries, "LOOKS", tries.LOOKS / 10)


def _block(index: int, width: float, height: float) -> Block:
    member = (Member(f"L{index + 2}-1", "front", False, 0.0, 0.0),)
    flat, upright = (
        MultiPolygon([box(0, 0, *sides)]) for sides in ((width, height), (height, width))
    )
    turns = (
        Turned(0.0, width, height, member, flat),
        Turned(90.0, height, width, member, upright),
    )
    return Block(turns, width * height, hash((width, height)), True)


def _boxes(sheet: list[Placement], blocks: list[Block]) -> list[tuple[float, float, float, float]]:
    out = []
    for placement in sheet:
        block = blocks[int(placement.piece[1:-2]) - 2]
        turned = next(t for t in block.turns if t.turn_deg == placement.rotation_deg)
        x, y = placement.x_mm, placement.y_mm
        out.append((x, y, x + turned.width_mm, y + turned.height_mm))
    return out


@settings(max_examples=80, deadline=None)
@given(st.lists(size, max_size=60), st.integers(0, 10), st.booleans(), st.sampled_from(QUICK))
def test_every_way_of_filling(
    sizes: list[tuple[int, int]], gap: int, keep_order: bool, way: str
) -> None:
    """Every block lies exactly once, inside the usable area, apart by the gap."""
    blocks = [_block(i, w, h) for i, (w, h) in enumerate(sizes)]
    sheets = FILLS[way](blocks, USABLE, gap, Wishes(keep_order, seconds=0.01))
    ids = [placement.piece for sheet in sheets for placement in sheet]
    assert sorted(ids) == sorted(f"L{i + 2}-1" for i in range(len(sizes)))
    for sheet in sheets:
        assert sheet
        boxes = _boxes(sheet, blocks)
        for i, (x0, y0, x1, y1) in enumerate(boxes):
            assert x0 >= 5 - 1e-6
            assert y0 >= 7 - 1e-6
            assert x1 <= 205 + 1e-6
            assert y1 <= 287 + 1e-6
            for u0, v0, u1, v1 in boxes[i + 1 :]:
                beside, above = max(u0 - x1, x0 - u1, 0.0), max(v0 - y1, y0 - v1, 0.0)
                apart = max(u0 - x1, x0 - u1, v0 - y1, y0 - v1)
                assert apart >= -1e-6
                assert hypot(beside, above) >= gap - 1e-6


def test_keep_order_keeps_it() -> None:
    """List order runs along the sheets."""
    blocks = [_block(i, 60 if i % 3 else 90, 40) for i in range(50)]
    sheets = FILLS["fast"](blocks, USABLE, 2, Wishes(True))
    ids = [placement.piece for sheet in sheets for placement in sheet]
    assert ids == [f"L{i + 2}-1" for i in range(50)]


def test_equal_tags_fill_a_grid() -> None:
    """55 × 30 tags, gap 2, on 206 × 293: 30 a sheet (measured for a box grid before)."""
    blocks = [_block(i, 55, 30) for i in range(60)]
    assert len(FILLS["fast"](blocks, (2, 2, 206, 293), 2, Wishes())) == 2


def test_block_that_fits_only_turned() -> None:
    """A long block is turned when it must be."""
    blocks = [_block(0, 250, 20)]
    [[placement]] = FILLS["fast"](blocks, USABLE, 2, Wishes())
    assert placement.rotation_deg == 90.0
    assert [turned.turn_deg for turned in fitting(blocks[0], USABLE)] == [90.0]


def test_no_blocks_no_sheets() -> None:
    """An empty batch needs no sheet."""
    assert FILLS["fast"]([], USABLE, 2, Wishes()) == []


def test_first_fit_is_at_most_the_shelf_bound() -> None:
    """Area of the sheets used stays below the shelf bound for decreasing height.

    Coffman, Garey, Johnson & Tarjan 1980: FFDH ≤ 1.7·OPT + h_max in strip height, here
    checked against the area bound of a strip (weaker, so a failure means a fault).
    """
    blocks = [_block(i, 20 + (i * 37) % 70, 10 + (i * 53) % 60) for i in range(300)]
    sheets = FILLS["fast"](blocks, USABLE, 0, Wishes())
    area = sum(block.area_mm2 for block in blocks)
    assert len(sheets) <= 2 * area / (200 * 280) + 2
    assert len(sheets) >= area / (200 * 280)


def test_gap_between_two_in_a_row() -> None:
    """Two blocks side by side leave exactly the gap."""
    blocks = [_block(0, 50, 20), _block(1, 50, 20)]
    [[a, b]] = FILLS["fast"](blocks, USABLE, 3.5, Wishes(True))
    assert b.x_mm - a.x_mm == pytest.approx(53.5)


def _true(
    shapes: list[Polygon], turns: tuple[float, ...] = (0.0, 90.0, 180.0, 270.0)
) -> list[Block]:
    return [block_of(k, shape, turns) for k, shape in enumerate(shapes)]


def _bent(random: Random) -> Polygon:
    """A chain of discs: a shape with bays, as names have them."""
    x = y = 0.0
    discs = []
    for _ in range(random.randint(3, 7)):
        discs.append(Point(x, y).buffer(random.uniform(5, 9), quad_segs=6))
        x, y = x + random.uniform(5, 8), y + random.uniform(-6, 6)
    return unary_union(discs).buffer(0)


@pytest.mark.parametrize("gap", [0.5, 3.0])
@pytest.mark.parametrize("turns", [(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0)])
def test_true_shapes_are_proven(gap: float, turns: tuple[float, ...]) -> None:
    """Shapes with bays lie apart by the gap at turns that are allowed, on no more sheets."""
    random = Random(5)
    blocks = _true([_bent(random) for _ in range(60)], turns)
    sheets = FILLS["fast"](blocks, USABLE, gap, Wishes())
    assert proven(sheets, blocks, USABLE, gap) == ""
    assert {place.rotation_deg for sheet in sheets for place in sheet} <= set(turns)
    assert len(sheets) <= len(shelves(blocks, USABLE, gap, False))


def test_the_same_twice() -> None:
    """The same blocks give the same sheets."""
    first, second = (_true([_bent(Random(k)) for k in range(60)]) for _ in range(2))
    assert FILLS["fast"](first, USABLE, 2, Wishes()) == FILLS["fast"](second, USABLE, 2, Wishes())


def test_pieces_in_the_bays_of_others() -> None:
    """Two hooks that would need two sheets as boxes lie in each other on one."""
    hook = box(0, 0, 190, 270).difference(box(60, 50, 190, 270))
    small = box(0, 0, 110, 200)
    sheets = FILLS["fast"](_true([hook, small], (0.0,)), USABLE, 3, Wishes())
    assert len(sheets) == 1


def test_equal_and_different_ones_together() -> None:
    """Whole sheets of equal pieces, the rest mixed; nothing lost."""
    random = Random(8)
    shapes = [box(0, 0, 60, 40)] * 70 + [_bent(random) for _ in range(30)]
    blocks = [block_of(k, shape, kind=0 if k < 70 else k) for k, shape in enumerate(shapes)]
    sheets = FILLS["fast"](blocks, USABLE, 2, Wishes())
    assert proven(sheets, blocks, USABLE, 2) == ""
    assert len(sheets) <= len(shelves(blocks, USABLE, 2, False))


def test_many_blocks_in_portions(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thousands of blocks are placed portion by portion, and none is lost."""
    random = Random(4)
    monkeypatch.setattr(tries, "MANY", 200)
    blocks = _true([_bent(random) for _ in range(300)], (0.0, 180.0))
    usable = (0.0, 0.0, 200.0, 200.0)
    sheets = FILLS["fast"](blocks, usable, 2, Wishes())
    assert proven(sheets, blocks, usable, 2) == ""

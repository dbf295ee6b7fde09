"""Equal blocks: grids, rows and boards, whichever takes most."""

import pytest
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.sheet.boxes import best_boxes
from namebatch.sheet.equal import best_sheet
from namebatch.sheet.lattice import lattices
from namebatch.sheet.model import Placement
from tests.sheet.shapes import block_of, proven

USABLE = (5.0, 7.0, 200.0, 150.0)


@pytest.mark.parametrize(
    ("sides", "room", "most"),
    [
        ((2, 3), (5, 5), 4),  # round a hole of one
        ((57, 32), (208, 295), 32),
        ((7, 4), (12, 9), 3),
        ((3, 3), (10, 10), 9),
        ((5, 3), (16, 15), 16),
        ((11, 4), (10, 10), 0),
    ],
)
def test_most_boxes(sides: tuple[int, int], room: tuple[int, int], most: int) -> None:
    """As many boxes as there is room for, none on another; counts by hand or by area."""
    spots = best_boxes(sides, room, True)
    boxes = [(x, y, x + sides[across], y + sides[1 - across]) for x, y, across in spots]
    assert len(boxes) == most
    for k, (x0, y0, x1, y1) in enumerate(boxes):
        assert min(x0, y0) >= 0
        assert x1 <= room[0]
        assert y1 <= room[1]
        assert all(u0 >= x1 or u1 <= x0 or v0 >= y1 or v1 <= y0 for u0, v0, u1, v1 in boxes[:k])


def test_boxes_that_may_not_lie_across() -> None:
    """With one way to lie there is only the grid."""
    assert len(best_boxes((2, 3), (6, 4), True)) == 4
    assert len(best_boxes((2, 3), (6, 4), False)) == 3


def _proven(shape: Polygon | MultiPolygon, turns: tuple[float, ...], gap_mm: float = 2.0) -> int:
    block = block_of(0, shape, turns)
    laid = best_sheet(block, USABLE, gap_mm, 999)
    blocks = [block_of(k, shape, turns) for k in range(len(laid))]
    sheet: list[Placement] = []
    for own, (turned, x, y) in zip(blocks, laid, strict=True):
        mine = next(t for t in own.turns if t.turn_deg == turned.turn_deg)
        sheet += mine.place(USABLE[0] + x, USABLE[1] + y)
    assert proven([sheet], blocks, USABLE, gap_mm) == ""
    return len(laid)


@pytest.mark.parametrize(
    ("shape", "most"),
    [(box(0, 0, 50, 25), 24), (Point(0, 0).buffer(25, quad_segs=64), 15)],
    ids=["box", "disc"],
)
def test_with_no_gap_they_touch_and_none_lies_on_another(shape: Polygon, most: int) -> None:
    """A gap of nothing is one, too: the sheet is full, and never fuller than it can be."""
    least = int(0.75 * most)
    assert least <= _proven(shape, (0.0, 90.0), 0.0) <= most


def test_triangles_in_pairs() -> None:
    """Triangles that may turn by 180° stand head to tail: at least half as many again."""
    triangle = Polygon([(0, 0), (40, 0), (20, 40)])
    assert _proven(triangle, (0.0, 180.0)) >= 1.4 * _proven(triangle, (0.0,))


def test_discs_in_offset_rows() -> None:
    """Small discs lie in offset rows, more than in a grid."""
    disc = Point(0, 0).buffer(7, quad_segs=32)
    grid = (202 // 16) * (152 // 16)
    assert _proven(disc, (0.0,)) > grid


def test_rows_keep_the_gap_exactly() -> None:
    """The nearest two of a row are the gap apart, not more."""
    disc = block_of(0, Point(0, 0).buffer(10, quad_segs=32), (0.0,))
    laid = next(lattices(disc, USABLE, 2.0))
    shapes = [affinity.translate(turned.shape, x, y) for turned, x, y in laid]
    near = min(a.distance(b) for k, a in enumerate(shapes) for b in shapes[:k])
    assert near == pytest.approx(2.0, abs=0.0005)


def test_from_the_bottom_up() -> None:
    """The first few of a sheet use little of its height."""
    laid = best_sheet(block_of(0, box(0, 0, 30, 20)), USABLE, 2.0, 999)
    tops = [y + turned.height_mm for turned, _, y in laid]
    assert tops == sorted(tops)


def test_two_faces_side_by_side_are_one() -> None:
    """A block of two faces keeps them together."""
    both = MultiPolygon([box(0, 0, 20, 10), box(22, 0, 42, 10)])
    assert _proven(both, (0.0,)) == 4 * 12


def test_few_stand_in_plain_rows() -> None:
    """Where rows of one turn are enough, nothing is turned or scattered over the sheet."""
    laid = best_sheet(block_of(0, box(0, 0, 30, 12)), USABLE, 2.0, enough=10)
    assert len({turned.turn_deg for turned, _, _ in laid}) == 1
    columns, rows = {x for _, x, _ in laid}, {y for _, _, y in laid}
    assert len(laid) == len(columns) * len(rows) >= 10

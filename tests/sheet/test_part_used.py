"""Part-used boards: what is laid there keeps off what is gone."""

from random import Random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.sheet.fill import placed
from namebatch.sheet.frame import Page
from namebatch.sheet.part_used import Leftover, onto_leftover
from tests.sheet.shapes import NEAR_MM, block_of, placed_shapes

USABLE = (3.0, 3.0, 194.0, 94.0)


def _leftover(*gone: Polygon) -> Leftover:
    used = shapely.union_all(gone)
    parts = MultiPolygon([part for part in shapely.get_parts(used) if not part.is_empty])
    return Leftover("behind the door", Page((200.0, 100.0), (0, 0, 200, 100), USABLE), parts)


rectangle = st.tuples(
    st.integers(-10, 190), st.integers(-10, 90), st.integers(5, 120), st.integers(5, 80)
)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(rectangle, max_size=4),
    st.lists(st.tuples(st.integers(8, 70), st.integers(8, 40)), max_size=20),
    st.sampled_from([0.5, 2.0, 3.7]),
)
def test_clear_of_what_is_gone(
    gone: list[tuple[int, int, int, int]], sizes: list[tuple[int, int]], gap: float
) -> None:
    """Pieces are inside the board, apart from each other and from what is gone by the gap."""
    leftover = _leftover(*[box(x, y, x + w, y + h) for x, y, w, h in gone])
    blocks = [block_of(k, box(0, 0, w, h)) for k, (w, h) in enumerate(sizes)]
    numbers = list(range(len(blocks)))
    [sheet] = placed([onto_leftover(blocks, numbers, numbers, leftover, gap)], USABLE)
    shapes = placed_shapes(sheet, blocks)
    area = box(USABLE[0], USABLE[1], USABLE[0] + USABLE[2], USABLE[1] + USABLE[3]).buffer(NEAR_MM)
    for k, shape in enumerate(shapes):
        assert area.contains(shape)
        assert shape.distance(leftover.used) >= gap - NEAR_MM or leftover.used.is_empty
        assert all(shape.distance(other) >= gap - NEAR_MM for other in shapes[:k])


def test_room_between_holes_is_used() -> None:
    """Between two rows of discs that were cut out, what has room there finds it."""
    discs = [Point(x, y).buffer(14) for x in (20, 60, 100, 140, 180) for y in (18, 82)]
    leftover = _leftover(*discs)
    blocks = [block_of(k, box(0, 0, 45, 28)) for k in range(4)]
    laid = onto_leftover(blocks, range(4), range(4), leftover, 2.0)
    assert len(laid) == 4


@pytest.mark.parametrize("upright", [False, True])
def test_a_ragged_edge(upright: bool) -> None:
    """The slanting edge of what is gone is followed: a slanting piece lies along it."""
    gone = Polygon([(0, 0), (200, 0), (200, 20), (0, 90)])
    wedge = Polygon([(0, 70), (190, 3.5), (190, 70)])
    turned = affinity.translate(wedge, 0, 0)
    leftover = _leftover(gone)
    blocks = [block_of(0, turned, (0.0,) if upright else (0.0, 180.0))]
    assert len(onto_leftover(blocks, [0], [0], leftover, 2.0)) == 1


def test_equal_pieces_in_rows() -> None:
    """Discs lie in offset rows beside what is gone, as many as a whole board's rows leave there."""
    disc = Point(0, 0).buffer(9.5)
    blocks = [block_of(k, disc, (0.0,), kind=0) for k in range(60)]
    leftover = _leftover(box(0, 0, 60, 100))
    laid = onto_leftover(blocks, range(60), range(60), leftover, 2.0)
    assert len(laid) >= 27  # of the 44 of a whole board, six of every nine across are clear
    [sheet] = placed([laid], USABLE)
    shapes = placed_shapes(sheet, blocks)
    for k, shape in enumerate(shapes):
        assert shape.distance(leftover.used) >= 2.0 - NEAR_MM
        assert all(shape.distance(other) >= 2.0 - NEAR_MM for other in shapes[:k])


def test_whole_orders_only() -> None:
    """An order that does not fit goes there not at all; a smaller one does."""
    leftover = _leftover(box(60, 0, 200, 100))
    random = Random(1)
    blocks = [block_of(k, box(0, 0, 40, 30 + random.random())) for k in range(5)]
    laid = onto_leftover(blocks, range(5), ["a", "a", "a", "b", "b"], leftover, 2.0)
    assert sorted(place[0] for place in laid) == [3, 4]


def test_nothing_left_of_it() -> None:
    """A board that is all gone takes nothing."""
    assert (
        onto_leftover([block_of(0, box(0, 0, 9, 9))], [0], [0], _leftover(box(0, 0, 200, 100)), 2.0)
        == []
    )

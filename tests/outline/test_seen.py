"""Letters that sink into the base, against plain differences."""

import pytest
import shapely
from shapely import MultiPolygon, Point, box

from namebatch.outline import Letter, Limits, Order
from namebatch.outline.seen import LEAST_SEEN, drowned_letters, is_drowned

BASES = (box(0, 0, 60, 8), Point(30, 0).buffer(30, quad_segs=32))


def _order(base: shapely.Polygon, bottoms: tuple[float, ...]) -> Order:
    inks = [MultiPolygon([box(4 + 9 * i, y, 9 + 9 * i, y + 6)]) for i, y in enumerate(bottoms)]
    letters = tuple(Letter(i, "abcdef"[i], ink) for i, ink in enumerate(inks))
    text = MultiPolygon([part for ink in inks for part in ink.geoms])
    return Order("weld", base, Limits(1.0), text, letters)


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("bottoms", [(7, 7, 7), (1, 2.11, 2.13, 7), (1, 1, 1), (-3, 40, 1, 2.5)])
def test_as_a_difference_says(base: shapely.Polygon, bottoms: tuple[float, ...]) -> None:
    """Deciding by the base's bounds first names the letters that whole differences name."""
    order = _order(base, bottoms)
    sunk = [
        letter
        for letter in order.letters
        if letter.shape.difference(base).area < LEAST_SEEN * letter.shape.area
    ]
    assert drowned_letters(order) == sunk
    assert is_drowned(order) == (order.text.difference(base).area < LEAST_SEEN * order.text.area)


def test_a_letter_over_a_hole_is_not_seen() -> None:
    """The hole is cut out of the letter again, so it counts as ground."""
    hole = box(3, 1, 11, 8)
    order = Order("weld", box(0, 0, 20, 9) - hole, Limits(1.0), holes=(hole,))
    ink = MultiPolygon([box(4, 2, 9, 7)])
    sunk = Order("weld", order.base, order.limits, ink, (Letter(0, "a", ink),), order.holes)
    assert drowned_letters(sunk) == list(sunk.letters)


def test_no_letters_none_sunk() -> None:
    """An order without text names no letter."""
    assert drowned_letters(Order("weld", BASES[0], Limits(1.0))) == []

"""Letters that sink into the base, against plain differences."""

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.finding import Finding
from namebatch.outline import Letter, Limits, Order
from namebatch.outline.seen import SUNK, Ground, sunk_letters, what_is_hidden

FRAME = box(0, 0, 60, 40) - box(5, 5, 55, 35)
BASES = (box(0, 0, 60, 8), Point(30, 0).buffer(30, quad_segs=32), FRAME)


def _order(base: Polygon, bottoms: tuple[float, ...], holes: tuple[Polygon, ...] = ()) -> Order:
    inks = [MultiPolygon([box(4 + 9 * i, y, 9 + 9 * i, y + 6)]) for i, y in enumerate(bottoms)]
    letters = tuple(Letter(i, "abcdef"[i], ink) for i, ink in enumerate(inks))
    text = MultiPolygon([part for ink in inks for part in ink.geoms])
    return Order("weld", base, Limits(1.0), text, letters, holes)


def _told(order: Order) -> list[str]:
    return [f"{finding.severity} {finding.code}" for finding in what_is_hidden(order)]


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("bottoms", [(7, 7, 7), (4.3, 4.5, 20, 7), (1, 1, 1), (-3, 40, 1, 2.5)])
def test_as_a_difference_says(base: Polygon, bottoms: tuple[float, ...]) -> None:
    """Deciding by the base's bounds first names the letters that whole differences name."""
    order = _order(base, bottoms)
    sunk = [
        letter.shape.intersection(base).area > SUNK * letter.shape.area for letter in order.letters
    ]
    assert sunk_letters(order, Ground(order)).tolist() == sunk


@pytest.mark.parametrize(
    ("bottoms", "told"),
    [
        ((6, 6, 6), []),  # a third hidden, as a weld on a bar should be
        ((2.2, 6, 6, 6), ["warn letters-in-base"]),
        ((2.2, 2.2, 6), ["hold text-in-base"]),  # two letters of three
        ((4.8, 4.8, 4.8), ["hold text-in-base"]),  # more than half of all the ink
        ((1, 1, 1), ["hold text-in-base"]),
    ],
)
def test_what_can_be_read_is_made(bottoms: tuple[float, ...], told: list[str]) -> None:
    """A letter in the base is a warning; most of a name in the base holds it."""
    assert _told(_order(BASES[0], bottoms)) == told


def _message(bottoms: tuple[float, ...]) -> str:
    found: list[Finding] = what_is_hidden(_order(BASES[0], bottoms))
    return found[0].message


def test_the_share_is_told() -> None:
    """The message says how much of the ink is hidden, or which letters."""
    assert _message((4.4, 4.4, 4.4)).startswith("60 % of the name's ink lies inside the base")
    assert _message((4.3, 4.3, 7.9)).startswith('"a", "b" of the name lie inside the base')
    assert _message((1, 1, 1)).startswith("The name lies inside the base and would not be seen")


def test_a_letter_over_a_hole_is_not_seen() -> None:
    """The hole is cut out of the letter again, so it counts as ground."""
    hole = box(3, 1, 11, 8)
    base = box(0, 0, 20, 9) - hole
    assert _told(_order(base, (2,), (hole,))) == ["hold text-in-base"]


def test_a_letter_in_a_drawn_window_is_seen() -> None:
    """A window of the base's own drawing shows what stands in it."""
    base = box(0, 0, 20, 9) - box(3, 1, 11, 9)
    assert _told(_order(base, (2,))) == []


def test_no_letters_none_sunk() -> None:
    """An order without text has nothing to hide, nor has one without a base."""
    assert _told(Order("weld", BASES[0], Limits(1.0))) == []
    assert _told(_order(Polygon(), (1, 1))) == []
    text = MultiPolygon([shapely.box(1, 6, 5, 16)])
    assert _told(Order("weld", BASES[0], Limits(1.0), text)) == []

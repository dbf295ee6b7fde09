"""Letters cut through a base: what they meet when they do not stay in it."""

import pytest
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline import Limits, Order, finish

PLATE = box(0, 0, 100, 40)
SLOT = box(70, 15, 90, 19)


def _messages(base: Polygon, text: Polygon) -> dict[str, str]:
    """Code → message of a stencil with one letter."""
    holes = tuple(Polygon(ring) for ring in base.interiors)
    ink = MultiPolygon() if text.is_empty else MultiPolygon([text])
    order = Order("open", base, Limits(1.0, 0.1), text=ink, holes=holes)
    return {found.code: found.message for found in finish(order).findings}


def _slotted() -> Polygon:
    return Polygon(PLATE.exterior, [SLOT.exterior])


@pytest.mark.parametrize(
    ("letter", "code", "words"),
    [
        (box(-2, 10, 8, 20), "text-leaves-base", "reach over the edge of the base"),
        (box(0, 10, 8, 20), "text-leaves-base", "reach over the edge of the base"),
        (box(60, 12, 75, 22), "text-meets-hole", "run into a hole or slot of the base"),
        (box(60, 15, 70, 19), "text-meets-hole", "run into a hole or slot of the base"),
    ],
    ids=["over the edge", "at the edge", "over the slot", "at the slot"],
)
def test_the_message_names_what_is_met(letter: Polygon, code: str, words: str) -> None:
    """Edge and hole are told apart, with the place and a remedy."""
    found = _messages(_slotted(), letter)
    assert {"text-leaves-base", "text-meets-hole"} & set(found) == {code}
    assert words in found[code]
    assert "mm)" in found[code]


def test_both_are_told() -> None:
    """A letter across the edge and the slot is told of both."""
    found = _messages(_slotted(), box(60, 16, 104, 18))
    assert {"text-leaves-base", "text-meets-hole"} <= set(found)


def test_the_place_is_that_of_the_slot() -> None:
    """The figures are the middle of what is lost, here a square of 5 mm in the slot's end."""
    found = _messages(_slotted(), box(60, 14, 75, 20))
    assert "x 72.5, y 17.0 mm" in found["text-meets-hole"]


def test_letters_inside_are_fine() -> None:
    """A letter well inside is told of nothing."""
    found = _messages(_slotted(), Point(30, 20).buffer(5))
    assert not {"text-leaves-base", "text-meets-hole"} & set(found)


def test_no_letters_meet_nothing() -> None:
    """A plate whose text may be left out is cut without it."""
    assert not {"text-leaves-base", "text-meets-hole"} & set(_messages(_slotted(), Polygon()))


@pytest.mark.parametrize(
    ("letter", "words"),
    [
        (box(20, 39.4 - 10, 30, 39.4), "within 0.6 mm of the edge of the base (at x "),
        (box(75, 19.5, 85, 30), "within 0.5 mm of a hole or window of the base (at x "),
    ],
    ids=["edge", "slot"],
)
def test_a_letter_too_near_is_told_and_the_edge_stays(letter: Polygon, words: str) -> None:
    """The web beside it is made wide at the letter's cost, never out of the base's own edge."""
    base = _slotted()
    holes = tuple(Polygon(ring) for ring in base.interiors)
    text = MultiPolygon([letter])
    outline = finish(Order("open", base, Limits(1.0, 0.1), text, (), holes))
    found = {finding.code: finding.message for finding in outline.findings}
    assert words in found["letters-near-edge"]
    assert "needs 1 mm" in found["letters-near-edge"]
    assert outline.shape.difference(base).area == pytest.approx(0.0, abs=1e-6)
    assert Polygon(outline.shape.exterior).equals(PLATE)
    assert outline.neck.width_mm >= 0.98
    assert text.intersection(outline.shape).area > 1.0


def test_a_letter_far_enough_is_not_told() -> None:
    """A web of the least width is as it should be."""
    assert "letters-near-edge" not in _messages(_slotted(), box(20, 29, 30, 39))

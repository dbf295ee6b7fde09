"""Gaps narrower than the kerf: filled, and only those; the quick look against a closing."""

import pytest
from shapely import Point, Polygon, box

from namebatch.outline.gaps import close_gaps, survives_kerf
from namebatch.outline.kerf import offset_for_kerf
from tests.outline.real_names import NAMES, outline

PLATE = box(0, 0, 30, 20)


@pytest.mark.parametrize("width", [0.05, 0.15, 0.19])
def test_slits_are_filled(width: float) -> None:
    """A slit from the edge, and one within, disappear; nothing else changes."""
    for slit in (box(10, 5, 10 + width, 21), box(10, 5, 10 + width, 15)):
        shape = PLATE - slit
        assert not survives_kerf(shape, 0.2)
        closed, _ = close_gaps(shape, 0.2)
        assert closed.symmetric_difference(PLATE).area < 0.01
        assert survives_kerf(closed, 0.2)


@pytest.mark.parametrize("kerf", [0.0, 0.1, 0.2])
def test_what_is_open_stays_the_same_object(kerf: float) -> None:
    """Wide slits, holes, corners and wide notches are left alone."""
    notch = Polygon([(0, 10), (5, 8), (5, 12)])
    shape = PLATE - box(10, 5, 10.3, 21) - Point(20, 10).buffer(1) - notch.buffer(0.0)
    assert close_gaps(shape, kerf)[0] is shape
    assert survives_kerf(shape, kerf)


def test_pinholes_are_filled() -> None:
    """A hole narrower than the kerf cannot be cut."""
    shape = PLATE - Point(10, 10).buffer(0.08) - Point(20, 10).buffer(0.5)
    assert not survives_kerf(shape, 0.2)
    assert len(close_gaps(shape, 0.2)[0].interiors) == 1


def test_the_end_of_an_acute_notch_does_not_count() -> None:
    """No beam comes to the bottom of a notch of 20°, and none need to."""
    shape = PLATE - Polygon([(5, 21), (7, 9.66), (9, 21)])
    assert survives_kerf(shape, 0.2)


def test_closed_names_keep_their_gaps_when_the_line_moves() -> None:
    """What closes no gap leaves as many holes when half the kerf is added all round."""
    for face, names in NAMES.items():
        shape, open_enough = close_gaps(outline(face, names[0], 15), 0.2)
        assert open_enough, face
        grown = offset_for_kerf(shape, (0.2, 0.2))
        assert len(grown.interiors) == len(shape.interiors), face

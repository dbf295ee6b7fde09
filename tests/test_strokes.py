"""The thinnest stroke of a text."""

import pytest

from namebatch.strokes import Stroke, thinnest_stroke
from namebatch.text import load_catalogue


def test_a_hairline_face_needs_a_larger_size() -> None:
    """Dancing Script has thinner strokes than Lilita One, so it asks for more height."""
    catalogue = load_catalogue()
    thin = thinnest_stroke(catalogue.open("Dancing Script"), "Marlo")
    sturdy = thinnest_stroke(catalogue.open("Lilita One"), "Marlo")
    assert thin is not None
    assert sturdy is not None
    assert thin.least_height(1.2) > sturdy.least_height(1.2)


def test_a_bar_is_as_wide_as_it_is_drawn() -> None:
    """The stroke of a hyphen is its own height (read in the font file)."""
    face = load_catalogue().open("Noto Sans SemiBold")
    stroke = thinnest_stroke(face, "-")
    x0, y0, x1, y1 = face.glyph_shape(face.shape("-").glyphs[0].gid, 1.0).bounds
    assert stroke is not None
    assert stroke.ratio == pytest.approx(min(x1 - x0, y1 - y0) / face.cap_height, abs=0.001)


def test_least_height_is_rounded_up_to_a_tenth() -> None:
    """A stroke of a tenth needs ten times the width; never less by rounding."""
    assert Stroke(0.1).least_height(1.2) == pytest.approx(12.0)
    assert Stroke(0.11).least_height(1.2) == pytest.approx(11.0)
    assert Stroke(0.0).least_height(1.2) == float("inf")


def test_no_ink_has_no_stroke() -> None:
    """A space is not a stroke of no width."""
    assert thinnest_stroke(load_catalogue().open("Noto Sans"), " ") is None

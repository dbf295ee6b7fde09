"""The thinnest stroke of a text."""

from math import radians, tan
from string import ascii_letters, digits

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union
from shapely.affinity import rotate

from namebatch.strokes import Stroke, least_width, thinnest_stroke
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


# Read off the outlines in the font files: the heights of bars, in units, over those of capitals.
@pytest.mark.parametrize(
    ("font", "letter", "ratio"),
    [
        ("Noto Sans SemiBold", "T", (714 - 604.98) / 714),
        ("Noto Sans SemiBold", "E", (425.08 - 318.43) / 714),
        ("Oswald", "E", 101.64 / 810),
        ("Roboto Condensed Bold", "T", (1456 - 1212.64) / 1456),
    ],
)
def test_a_bar_with_a_free_end_counts(font: str, letter: str, ratio: float) -> None:
    """The thinnest bar of a letter is its thinnest stroke, though no neck is so narrow."""
    stroke = thinnest_stroke(load_catalogue().open(font), letter)
    assert stroke is not None
    assert stroke.ratio == pytest.approx(ratio, abs=0.001)


def test_a_leg_with_a_serif_counts() -> None:
    """The thin leg of a V: its sides in the font file are 79 of 700 units apart."""
    stroke = thinnest_stroke(load_catalogue().open("Lora Bold"), "V")
    assert stroke is not None
    assert 0.1 < stroke.ratio < 79.5 / 700


@pytest.mark.parametrize(("angle", "counts"), [(60.0, False), (30.0, False), (12.0, True)])
def test_a_point_is_no_stroke(angle: float, counts: bool) -> None:
    """A corner that a letter ends in is not thin, a needle is."""
    length = 6 / tan(radians(angle / 2))
    point = Polygon([(0, -6), (length, 0), (0, 6), (-20, 6), (-20, -6)])
    width, at = least_width(point)
    assert (width < 6.0) == counts
    assert not counts or at.x > length / 2


def test_parts_that_touch_in_a_point_have_no_width() -> None:
    """A wall that is open in a point is measured as nothing, and no end is looked for."""
    plate = Polygon([(0, 0), (20, 0), (20, 20), (0, 20)], [[(0, 10), (5, 13), (5, 7)]])
    width, _ = least_width(plate)
    assert width == pytest.approx(0.0, abs=0.01)


@given(width=st.floats(2.0, 8.0), share=st.floats(2.0, 5.0), turn=st.floats(0.0, 180.0))
@settings(max_examples=30, deadline=None)
def test_an_arm_is_as_wide_as_it_is_drawn(width: float, share: float, turn: float) -> None:
    """An arm at least twice as long as it is wide counts by its width, whichever way it turns."""
    length = 6 + max(share * width, 6)
    arm = rotate(union(box(-6, -20, 6, 20), box(0, -width / 2, length, width / 2)), turn)
    found, _ = least_width(arm)
    assert found == pytest.approx(width, abs=0.05)


@pytest.mark.parametrize("font", ["Oswald", "Lora Bold", "Black Ops One"])
def test_the_catalogue_says_what_is_measured(font: str) -> None:
    """The thinnest stroke of A to Z, a to z and 0 to 9 is that of the font list."""
    catalogue = load_catalogue()
    signs = ascii_letters + digits
    found = [thinnest_stroke(catalogue.open(font), sign) for sign in signs]
    ratios = [stroke.ratio for stroke in found if stroke is not None]
    assert len(ratios) == len(signs)
    assert min(ratios) == pytest.approx(catalogue.info(font).thinnest_stroke_ratio, abs=0.001)


def test_least_height_is_rounded_up_to_a_tenth() -> None:
    """A stroke of a tenth needs ten times the width; never less by rounding."""
    assert Stroke(0.1).least_height(1.2) == pytest.approx(12.0)
    assert Stroke(0.11).least_height(1.2) == pytest.approx(11.0)
    assert Stroke(0.0).least_height(1.2) == float("inf")


def test_no_ink_has_no_stroke() -> None:
    """A space is not a stroke of no width."""
    assert thinnest_stroke(load_catalogue().open("Noto Sans"), " ") is None

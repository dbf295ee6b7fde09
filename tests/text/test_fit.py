"""Fitting: as large as the box and the heights allow, never beyond."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.finding import Finding, Severity
from namebatch.text.batch import common_size
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.setting import set_line
from tests.text.conftest import text_box

FACES = ("Pacifico", "Fredoka SemiBold", "Noto Sans", "Vollkorn SemiBold", "Dancing Script")


@settings(max_examples=60, deadline=None)
@given(
    st.text(st.characters(codec="latin-1", categories=["L", "N", "P"]), min_size=1, max_size=24),
    st.sampled_from(FACES),
    st.floats(5, 120),
    st.floats(4, 60),
    st.sampled_from(["left", "centre", "right"]),
    st.sampled_from(["top", "middle", "bottom", "baseline"]),
)
def test_ink_never_leaves_the_box(
    text: str, face: str, width: float, height: float, align: str, vertical: str
) -> None:
    """Whatever the text, face and box, the ink lies inside to 0.001 mm and is valid."""
    box = text_box(
        width,
        height,
        align=align,
        vertical=vertical,
        baseline_mm=height / 3,
        least=0.01,
        largest=40,
    )
    result = fit(text, [load_catalogue().open(face)], box)
    assert isinstance(result, SetText), result
    x0, y0, x1, y1 = result.shape.bounds
    assert x0 >= 10 - 1e-3
    assert y0 >= 20 - 1e-3
    assert x1 <= 10 + width + 1e-3
    assert y1 <= 20 + height + 1e-3
    assert result.shape.is_valid
    assert result.height_mm <= 40 + 1e-9


def test_as_large_as_fits(catalogue: Catalogue) -> None:
    """A long name fills the width, a short one stops at the largest height."""
    faces = [catalogue.open("Noto Sans")]
    long = fit("Bartholomew Sandreed", faces, text_box())
    short = fit("Al", faces, text_box())
    assert isinstance(long, SetText)
    assert isinstance(short, SetText)
    x0, _, x1, _ = long.shape.bounds
    assert x1 - x0 == pytest.approx(80, abs=1e-4)
    assert short.height_mm == pytest.approx(15)


def test_height_is_that_of_capitals(catalogue: Catalogue) -> None:
    """The stated height is what one measures on a capital H."""
    result = fit("H", [catalogue.open("Noto Sans")], text_box(largest=11))
    assert isinstance(result, SetText)
    _, y0, _, y1 = result.shape.bounds
    assert y1 - y0 == pytest.approx(11, abs=0.02)


def test_names_of_a_batch_share_a_baseline(catalogue: Catalogue) -> None:
    """Where there is room, ascenders and descenders do not shift a name up or down."""
    faces = [catalogue.open("Noto Sans")]
    results = [fit(text, faces, text_box(largest=8)) for text in ("ace", "Jgy", "Åsa")]
    assert len({r.baseline_mm for r in results if isinstance(r, SetText)}) == 1


@pytest.mark.parametrize(("vertical", "baseline"), [("top", 50.0 - 8.0), ("bottom", 20.0)])
def test_top_and_bottom_go_by_capitals(
    catalogue: Catalogue, vertical: str, baseline: float
) -> None:
    """Names without ascenders stand on the line of the others, at the top as at the bottom."""
    faces = [catalogue.open("Noto Sans")]
    box = text_box(vertical=vertical, largest=8)
    for text in ("ace", "Wm", "Tern"):
        result = fit(text, faces, box)
        assert isinstance(result, SetText)
        assert result.baseline_mm == pytest.approx(baseline, abs=0.15), text


@pytest.mark.parametrize("vertical", ["top", "bottom"])
def test_one_size_at_the_top_stands_on_one_baseline(catalogue: Catalogue, vertical: str) -> None:
    """With one size for a batch what reaches higher or deeper moves the line of all."""
    faces = [catalogue.open("Noto Sans")]
    box = text_box(vertical=vertical, largest=8)
    names = ("ace", "Jgy", "Åsa", "Wm")
    common = common_size(names, faces, box)
    found = [fit(name, faces, box, common=common) for name in names]
    assert len({f.baseline_mm for f in found if isinstance(f, SetText)}) == 1
    ink = shapely.union_all([f.shape for f in found if isinstance(f, SetText)]).bounds
    edge = ink[3] - 50.0 if vertical == "top" else ink[1] - 20.0
    assert edge == pytest.approx(0, abs=1e-3)


def test_below_the_least_height_is_held_with_the_figure(catalogue: Catalogue) -> None:
    """The finding says at which height it would fit."""
    result = fit("Bartholomew-Maximilian", [catalogue.open("Noto Sans")], text_box(20, least=3.5))
    assert isinstance(result, Finding)
    assert result.severity is Severity.HOLD
    assert "fits only at 2.8 mm" in result.message
    assert "3.5 mm" in result.message


def test_first_face_with_all_characters_is_used(catalogue: Catalogue) -> None:
    """The chain is tried in order, whole names only."""
    faces = [catalogue.open(n) for n in ("Lobster", "Noto Sans", "Noto Sans Thai SemiBold")]
    fonts = []
    for text in ("Marlo", "Αλκυόνη", "อรุณี"):
        result = fit(text, faces, text_box())
        assert isinstance(result, SetText)
        fonts.append(result.font)
    assert fonts == ["Lobster", "Noto Sans", "Noto Sans Thai SemiBold"]


def test_character_that_no_face_has_is_named(catalogue: Catalogue) -> None:
    """Code and Unicode name of the sign stand in the reason."""
    result = fit("Zoë 🎪", [catalogue.open("Lobster")], text_box())
    assert isinstance(result, Finding)
    assert "U+1F3AA circus tent" in result.message


def test_a_second_face_sets_what_the_first_lacks(catalogue: Catalogue) -> None:
    """Two scripts that no single face has are set in two, both named, capitals alike in height."""
    faces = [catalogue.open("Lobster"), catalogue.open("Noto Sans Thai")]
    result = fit("Жanna อรุณี", faces, text_box())
    assert isinstance(result, SetText)
    assert result.font == "Lobster + Noto Sans Thai"
    line = set_line(faces, "Жanna อรุณี", 10)
    thai = next(sign for sign in line.signs if sign.face is faces[1])
    assert thai.scale == pytest.approx(faces[0].cap_height / faces[1].cap_height)


def test_digits_in_a_right_to_left_line_stand_on_its_left(catalogue: Catalogue) -> None:
    """Mixed direction is set by UAX #9: the number follows the name, so it stands left of it."""
    line = set_line(catalogue.open("Noto Sans Arabic"), "محمد 12", 10)
    digits = [sign.x for sign in line.signs if sign.cluster >= 5]
    letters = [sign.x for sign in line.signs if sign.cluster < 4]
    assert digits == sorted(digits)
    assert max(digits) < min(letters)


def test_space_alone_leaves_no_ink(catalogue: Catalogue) -> None:
    """A text without ink is held, not made as a blank."""
    result = fit("\u2003", [catalogue.open("Noto Sans")], text_box())
    assert isinstance(result, Finding)
    assert result.code == "no-ink"


def test_letters_are_the_whole_ink(catalogue: Catalogue) -> None:
    """For outline boxes every letter with its marks comes apart, and together they are all."""
    box = replace(text_box(), made="outline")
    for text, face, letters in (
        ("Jiří", "Pacifico", ["J", "i", "ř", "í"]),
        ("क्षितिज", "Noto Sans Devanagari", ["क्षि", "ति", "ज"]),
        ("محمد", "Noto Sans Arabic", ["م", "ح", "م", "د"]),
    ):
        result = fit(text, [catalogue.open(face)], box)
        assert isinstance(result, SetText)
        assert [letter.text for letter in result.letters] == letters
        whole = shapely.union_all([letter.shape for letter in result.letters])
        assert whole.symmetric_difference(result.shape).area == pytest.approx(0, abs=1e-6)
    printed = fit("Jiří", [catalogue.open("Pacifico")], text_box())
    assert isinstance(printed, SetText)
    assert printed.letters == ()

"""Marks from a file and from the command line."""

from pathlib import Path

import pytest

from namebatch.errors import MeasureError
from namebatch.measured.marks import (
    known_marks,
    marks_from_file,
    marks_from_words,
    size_from_words,
)

KNOWN = {"bottom-left": (5.0, 5.0), "top-right": (205.0, 290.0)}


def test_marks_of_a_file_and_of_options_go_together(tmp_path: Path) -> None:
    """Readings of one mark come together, in the sheet's order of marks."""
    path = tmp_path / "m.csv"
    path.write_text("mark,x_mm,y_mm\ntop-right,210,301\nbottom-left,10,16\n", encoding="utf-8")
    found = (*marks_from_file(path), *marks_from_words(["Bottom left=10.2,16.4"]))
    first, second = known_marks(found, KNOWN)
    assert (first.name, first.sheet) == ("bottom-left", (5.0, 5.0))
    assert first.read == ((10.0, 16.0), (10.2, 16.4))
    assert first.measured == pytest.approx((10.1, 16.2))
    assert second.read == ((210.0, 301.0),)


def test_decimal_commas_want_a_semicolon() -> None:
    """On the command line as in a file."""
    assert marks_from_words(["a=12,3;45,6"]) == (("--mark", "a", (12.3, 45.6)),)


@pytest.mark.parametrize("word", ["a", "a=1", "a=1,2,3", "a=x,2", "=,"])
def test_a_mark_that_is_none_is_refused(word: str) -> None:
    """The message shows how one is written."""
    with pytest.raises(MeasureError, match="--mark takes NAME=X,Y in mm"):
        marks_from_words([word])


def test_unknown_marks_are_all_named() -> None:
    """With the marks that the sheet does have."""
    found = marks_from_words(["left=1,2", "bottom-left=3,4", "middle=5,6"])
    with pytest.raises(MeasureError, match="has the marks bottom-left, top-right") as caught:
        known_marks(found, KNOWN)
    assert [problem.split(":")[1] for problem in caught.value.problems] == [
        ' "left" is no mark of this sheet',
        ' "middle" is no mark of this sheet',
    ]


@pytest.mark.parametrize("word", ["199.4,284.6", "199.4x284.6", "199,4;284,6", "199.4 × 284.6 mm"])
def test_sizes_as_people_write_them(word: str) -> None:
    """A comma, a semicolon or a cross between."""
    assert size_from_words(word) == (199.4, 284.6)


@pytest.mark.parametrize("word", ["", "199", "0,10", "-1,5", "a,b", "1,2,3"])
def test_a_size_that_is_none_is_refused(word: str) -> None:
    """The message shows how one is written."""
    with pytest.raises(MeasureError, match="--frame takes the measured width and height"):
        size_from_words(word)

"""Names of marks, and names without them."""

import pytest
from shapely import MultiPolygon, box

from namebatch.outline import Letter
from namebatch.outline.marks import called, hangs_from, marks_of, reading


@pytest.mark.parametrize(
    ("text", "below", "above"),
    [
        ("ặ", ["dot below"], ["breve"]),
        ("Ş", ["cedilla"], []),
        ("ę", ["ogonek"], []),
        ("é", [], ["acute accent"]),
        ("g", [], []),
        ("ส\u0e38", [], ["mark"]),
    ],
)
def test_marks_have_plain_names(text: str, below: list[str], above: list[str]) -> None:
    """Names are those of the Unicode Character Database, by canonical decomposition."""
    assert [called(mark) for mark in marks_of(text, True)] == below
    assert [called(mark) for mark in marks_of(text, False)] == above


def test_some_marks_hang_from_their_letter() -> None:
    """Cedilla and ogonek are joined to the letter (combining class 202), a dot below is not."""
    assert [hangs_from(text) for text in "Şęịg"] == [True, True, False, False]


def test_a_name_is_read_without_its_mark() -> None:
    """Only the mark of that letter goes; a space, which leaves no ink, stays."""
    ink = MultiPolygon([box(0, 0, 1, 1)])
    letters = [Letter(i, sign, ink) for i, sign in enumerate("Thị Ngọ") if sign != " "]
    assert reading(letters, {(2, "\u0323")}) == "Thi Ngọ"
    assert reading(letters, {(2, "\u0323"), (5, "\u0323")}) == "Thi Ngo"
    assert reading([], set()) == ""

"""What another program left in a text, and marks typed twice."""

import pytest

from namebatch.finding import Severity
from namebatch.names.leftovers import check_leftovers
from tests.names.helpers import codes

WHERE = 'Line 2, "name"'


@pytest.mark.parametrize(
    ("text", "code", "said"),
    [
        ("<b>Ann</b>", "markup", '"<b>" in it, which belongs to a web page'),
        ("Ann<br/>Lee", "markup", 'Retype it: "Ann Lee".'),
        ("Zo&#235; Hay", "markup", 'Retype it: "Zoë Hay".'),
        ("Rush &amp; Reed", "markup", 'Retype it: "Rush & Reed".'),
        ("Beatrix_M", "underscore", "Put a space or nothing there"),
        ("“Ann”", "quotes-round", "“Ann” stands in quotation marks"),
        ("'Ann'", "quotes-round", "Take them out if they are left over."),
        ("„Ann“", "quotes-round", "made as part of it"),
        ("»Ann«", "quotes-round", "made as part of it"),
        ("ส\u0e35\u0e35", "mark-twice", "U+0E35 thai character sara ii twice"),
        ("Zoe\u0308\u0308", "mark-twice", "U+0308 combining diaeresis twice"),
    ],
)
def test_each_is_told(text: str, code: str, said: str) -> None:
    """A warning says what stands there and what to do; nothing is changed."""
    (found,) = check_leftovers(text, WHERE, name=True)
    assert (found.code, found.severity) == (code, Severity.WARN)
    assert found.message.startswith(WHERE)
    assert said in found.message


@pytest.mark.parametrize(
    "text",
    [
        *("Ann", "Rush & Reed", "A&B; C", "I <3 kites", "Ann “Bo” Tern", "O'Brien", "D'Arc'"),
        *("“Ann” and “Bo”", "''", "ปิ่น", "Nguyễn", "السَّلام", "क्षिति", "שָׁלוֹם"),
    ],
)
def test_what_is_meant_is_left(text: str) -> None:
    """Nicknames in quotation marks, ampersands and marks of many scripts are fine."""
    assert list(check_leftovers(text, WHERE, name=True)) == []


def test_quotation_marks_round_other_texts_may_be_meant() -> None:
    """A motto or a file name is made as it stands; markup is none of both."""
    assert codes(list(check_leftovers("“Fly high”", WHERE, name=False))) == []
    assert codes(list(check_leftovers("kite_day", WHERE, name=False))) == []
    assert codes(list(check_leftovers("<i>Fly</i>", WHERE, name=False))) == ["markup"]

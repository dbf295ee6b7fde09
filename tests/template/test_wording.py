"""What a text box says."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.template.wording import field_alone, fixed_line, read_formula


def test_fields_and_words_are_put_together() -> None:
    """Names in braces are fields, the rest stands as it is."""
    wording = read_formula("{first} {last}, crew {number}")
    assert wording.fields == ("first", "last", "number")
    line = wording.fill({"first": "Ada", "last": "Marsh", "number": "7"})
    assert line == "Ada Marsh, crew 7"


def test_an_empty_field_leaves_no_doubled_space() -> None:
    """What an empty cell leaves is closed up; spaces typed on purpose stay when all are there."""
    wording = read_formula("{first} {middle} {last}")
    assert wording.fill({"first": "Ada", "middle": "", "last": "Marsh"}) == "Ada Marsh"
    assert wording.fill({"first": "", "middle": "", "last": " "}) == ""
    assert read_formula("{a}  {b}").fill({"a": "x", "b": "y"}) == "x  y"


@pytest.mark.parametrize(
    ("formula", "values", "line"),
    [
        ("No. {n} · {team}", {"n": "3"}, "No. 3"),
        ("{team} · {first}", {"first": "Ann"}, "Ann"),
        ("{a} · {b} · {c}", {"a": "x", "c": "z"}, "x · z"),
        ("{a} · {b} · {c}", {"a": "x"}, "x"),
        ("{a} · {b} · {c}", {"c": "z"}, "z"),
        ("{a} / {b} / {c}", {"b": "y"}, "y"),
        ("{last}, {first}", {"last": "Solo"}, "Solo"),
        ("{first} ({team})", {"first": "Ann"}, "Ann"),
        ("{first} ({team}), {town}", {"first": "Ann", "town": "Quay"}, "Ann, Quay"),
        ("{first} “{nick}” {last}", {"first": "Ann", "last": "Tern"}, "Ann Tern"),
        ("({team}) {first}", {"first": "Ann"}, "Ann"),
        ("{first}, crew {n}!", {"first": "Ann"}, "Ann, crew !"),
        ("{first} - {last}", {"first": "Ann -"}, "Ann -"),
        ("{first} {last}", {"last": "- Tern"}, "- Tern"),
        ("No. {n} {team}", {"team": "Gull"}, "No. Gull"),
    ],
)
def test_an_empty_field_leaves_no_separator(
    formula: str, values: dict[str, str], line: str
) -> None:
    """The wording's own signs beside an empty field go; words, and what was typed, stay."""
    assert read_formula(formula).fill(values) == line


def test_braces_can_be_written() -> None:
    """Doubled braces stand for themselves, as in Python."""
    assert read_formula("{{{name}}}").fill({"name": "Wren"}) == "{Wren}"


@pytest.mark.parametrize(
    ("formula", "problem"),
    [
        ("{name.__class__}", "more in its braces"),
        ("{name!r}", "more in its braces"),
        ("{name:>10}", "more in its braces"),
        ("{0}", "more in its braces"),
        ("{name[0]}", "more in its braces"),
        ("{}", "more in its braces"),
        ("{name", "without its partner"),
        ("name}", "without its partner"),
        ("plain words", "names no field"),
    ],
)
def test_nothing_more_than_names_is_understood(formula: str, problem: str) -> None:
    """No attributes, positions, conversions or layouts: a list can reach nothing by them."""
    with pytest.raises(ValueError, match=problem):
        read_formula(formula)


@given(st.text(max_size=30))
def test_a_field_alone_is_the_cell_as_it_stands(text: str) -> None:
    """Braces in a cell are letters and never fields."""
    filled = field_alone("name").fill({"name": text})
    assert filled == (text if text.strip() else "")
    assert fixed_line(text).fill({}) == text

"""Breaks that are asked for by hand."""

import pytest

from namebatch.text.breaks import break_number, broken_at


@pytest.mark.parametrize(
    ("upper", "lower", "number"),
    [
        ("Jean-", "Luc van Marram", 1),
        ("Jean-Luc", "van Marram", 2),
        ("Jean-Luc van", "Marram", 3),
        ("Jean", "Luc van Marram", 0),
        ("Jean-Luc", " van Marram", 0),
        ("Jean-L", "uc van Marram", 0),
        ("Jean-Luc van Marram", "", 0),
        ("Jan", "Marram", 0),
    ],
)
def test_a_break_is_a_space_or_a_hyphen_of_the_text(upper: str, lower: str, number: int) -> None:
    """Where no rule would break, a person may; letters that are not there are not set."""
    assert break_number("Jean-Luc van Marram", upper, lower) == number
    if number:
        found = broken_at("Jean-Luc van Marram", number)
        assert [pair[:2] for pair in found] == [(upper, lower)]
        assert "Jean-Luc van Marram"[found[0][2] :] == lower


def test_a_break_holds_in_capitals() -> None:
    """ß is two letters in capitals, and the break is where it was asked for all the same."""
    number = break_number("Weiß Groß Teasel", "Weiß Groß", "Teasel")
    assert broken_at("WEISS GROSS TEASEL", number)[0][:2] == ("WEISS GROSS", "TEASEL")


@pytest.mark.parametrize(("text", "number"), [("Ada Teasel", 0), ("Ada Teasel", 2), ("Ada-", 1)])
def test_there_is_no_break_where_there_is_nothing_to_part(text: str, number: int) -> None:
    """A number that the text does not have gives nothing."""
    assert broken_at(text, number) == ()

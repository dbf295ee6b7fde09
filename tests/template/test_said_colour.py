"""Colours as lists say them."""

import pytest

from namebatch.template.said_colour import colour_problem, read_colour

WORDS = {"gulls": "#2b6460", "sea holly": "#a13420"}


@pytest.mark.parametrize(
    ("said", "colour"),
    [
        ("gulls", "#2b6460"),
        (" Sea Holly ", "#a13420"),
        ("#E69F00", "#e69f00"),
        ("e69f00", None),
        ("#fff", None),
        ("teal", None),
        ("#12345g", None),
    ],
)
def test_words_and_digits(said: str, colour: str | None) -> None:
    """Words of the template in any letter case, and six digits behind a #; nothing else."""
    assert read_colour(said, WORDS) == colour


@pytest.mark.parametrize(
    ("said", "words"),
    [
        # The colours of words and formulas are those of CSS Color Module Level 4, from memory.
        ("e69f00", 'The colour "e69f00" lacks its #. Write "#e69f00".'),
        ("FFF", 'The colour "FFF" lacks its #. Write "#ffffff".'),
        ("#1a3", 'The colour "#1a3" has three digits of six. Write each twice, "#11aa33".'),
        ("#e69f0080", 'Leave them out: "#e69f00".'),
        ("teal", "it knows gulls and sea holly. If you mean the colour that web pages call so, "),
        ("teal", 'write "#008080".'),
        ("rgb(230, 159, 0)", 'write "#e69f00".'),
        ("gull", 'is not known. Did you mean "gulls"? This template knows gulls, sea holly; give '),
        ("#12345", 'The colour "#12345" is not known. This template knows gulls, sea holly; '),
        ("rgb(900, 0, 0)", "is not known."),
    ],
)
def test_what_is_wrong_is_said(said: str, words: str) -> None:
    """The message says what the cell lacks and how the colour is written."""
    assert words in colour_problem(said, WORDS)


def test_a_template_without_words() -> None:
    """Then only digits can be meant."""
    assert colour_problem("mauvish", {}) == (
        'The colour "mauvish" is not known. Give six hexadecimal digits as in "#17324d".'
    )

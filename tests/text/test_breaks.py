"""Breaking names into two lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.breaks import breaks


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("Anna Marlo", [("Anna", "Marlo")]),
        ("Anna van der Dune", [("Anna", "van der Dune")]),
        ("Pilar de la Orilla", [("Pilar", "de la Orilla")]),
        ("Omar al-Shatti", [("Omar", "al-Shatti")]),
        ("Jean-Luc", [("Jean-", "Luc")]),
        ("J. Marlo", []),
        ("J. P. Marlo", [("J. P.", "Marlo")]),
        ("Tom Reed Jr.", [("Tom", "Reed Jr.")]),
        ("Solo", []),
        ("van der", []),
        ("Kite - Winder", [("Kite -", "Winder")]),
    ],
)
def test_lines_end_where_a_reader_expects(text: str, lines: list[tuple[str, str]]) -> None:
    """Particles, prefixes and lone initials stay with the word that they belong to."""
    assert [(upper, lower) for upper, lower, _ in breaks(text)] == lines


@given(st.text(alphabet="ab -.\u2010é", max_size=20))
def test_no_letter_is_lost(text: str) -> None:
    """Two lines have every character of the text but the one space between them."""
    for upper, lower, start in breaks(text):
        assert text[start:] == lower
        assert upper + text[len(upper) : start] + lower == text
        assert text[len(upper) : start] in ("", " ")

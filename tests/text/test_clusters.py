"""Grapheme clusters."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.clusters import clusters


@given(st.text(max_size=40))
def test_clusters_are_the_whole_text(text: str) -> None:
    """No character is lost or moved, none stands in two clusters, and each knows its place."""
    found = clusters(text)
    assert "".join(cluster.text for cluster in found) == text
    assert all(cluster.text == text[cluster.start : cluster.end] for cluster in found)
    assert all(cluster.text for cluster in found)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Zoe\u0308", ["Z", "o", "e\u0308"]),  # a mark stays with its letter: GB9
        ("க்ரி", ["க்", "ரி"]),  # a vowel sign that takes room: GB9a
        ("क्षितिज", ["क्षि", "ति", "ज"]),  # a conjunct: GB9c
        ("각하", ["각", "하"]),  # syllables from letters: GB6 to GB8
        ("👩‍👧!", ["👩‍👧", "!"]),  # joined pictures: GB11
        ("🇳🇴🇸🇪", ["🇳🇴", "🇸🇪"]),  # two flags: GB12, GB13
        ("\r\n", ["\r\n"]),  # GB3
        ("", []),
    ],
)
def test_what_a_reader_calls_one_character(text: str, wanted: list[str]) -> None:
    """One case of each rule of UAX #29 that joins codes, written out by hand."""
    assert [cluster.text for cluster in clusters(text)] == wanted

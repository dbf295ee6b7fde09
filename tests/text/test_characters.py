"""How a character is named."""

import pytest

from namebatch.text.characters import describe


@pytest.mark.parametrize(
    ("character", "name"),
    [
        ("🎪", "U+1F3AA circus tent"),
        ("✘", "U+2718 heavy ballot x"),
        ("木", "U+6728 Han character 木"),
        ("김", "U+AE40 hangul syllable gim"),
        ("\U0001fae9", "U+1FAE9 \U0001fae9"),  # newer than Python's own tables
        ("\x07", "U+0007 (a character without a name)"),
    ],
)
def test_names(character: str, name: str) -> None:
    """Its name in Unicode, and the character where the name would only repeat the code."""
    assert describe(character) == name

"""What of a line moves as one, and where its words end."""

from namebatch.text.block import Block, block_of
from namebatch.text.catalogue import load_catalogue
from namebatch.text.setting import set_line
from namebatch.text.units import units_of, word_ends


def block(text: str, *fonts: str) -> Block:
    """A line with capitals of 5 mm."""
    line = set_line([load_catalogue().open(font) for font in fonts], text, 5.0)
    found = block_of(text, [(0, line)], "centre", 1.6, optical=False)
    assert found is not None
    return found


def ends(text: str, *fonts: str) -> list[bool]:
    """For each gap between units, whether a word ends there."""
    return [bool(end) for end in word_ends(units_of(block(text, *fonts), 1.0), text)]


def test_words_end_at_spaces() -> None:
    """A hyphen or an apostrophe joins a word, a space of any kind ends one."""
    assert ends("Bo Li", "Noto Sans") == [False, True, False]
    assert ends("B\u00a0O'N-i", "Noto Sans") == [True, False, False, False, False]


def test_words_end_where_the_direction_turns() -> None:
    """Beside a name that runs back the space is found though its neighbours are not."""
    assert ends("Bo שלום", "Noto Sans", "Heebo Bold") == [False, True, False, False, False]


def test_joined_words_are_units() -> None:
    """Joined words are one unit each, and the space between them ends a word."""
    units = units_of(block("محمد سعيد", "Noto Sans Arabic SemiBold"), 1.0)
    assert [unit.joined for unit in units] == [True, True]
    assert ends("محمد سعيد", "Noto Sans Arabic SemiBold") == [True]


def test_one_unit_has_no_gaps() -> None:
    """A single letter has no gap after it."""
    assert ends("B", "Noto Sans") == []

"""Tidying: unseen characters, white space, NFC and signs, and saying what was done."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.tidy import tidy


@pytest.mark.parametrize(
    ("before", "after", "changes"),
    [
        ("Zoë", "Zoë", ()),
        ("Ada  Teasel", "Ada Teasel", ("two spaces made one space",)),
        ("A   B  C", "A B C", ("three spaces made one space", "two spaces made one space")),
        (" Ada", "Ada", ("space at the start removed",)),
        ("Ada  ", "Ada", ("two spaces at the end removed",)),
        ("Ada\u00a0Teasel", "Ada Teasel", ("no-break space made one space",)),
        ("Ada\r\nTeasel", "Ada Teasel", ("line break made one space",)),
        ("Ada\tTeasel", "Ada Teasel", ("tab made one space",)),
        ("Ada \n Teasel", "Ada Teasel", ("line break made one space",)),
        ("Zoe\u0308", "Zoë", ("accents joined to their letters",)),
        ("\u212b", "\u00c5", ("letters put into their usual form",)),
        ("   ", "", ("three spaces only, taken as empty",)),
        ("山田\u3000太郎", "山田 太郎", ("ideographic space made one space",)),
        ("a\U0001f3aab", "a\U0001f3aab", ()),
        ("O`Neill", "O’Neill", ("grave accent made an apostrophe (’)",)),
        ("O´Neill", "O’Neill", ("acute accent made an apostrophe (’)",)),
        ("O‵Neill", "O’Neill", ("reversed prime made an apostrophe (’)",)),
        ("O′Neill", "O’Neill", ("prime made an apostrophe (’)",)),
        ("O＇Neill", "O’Neill", ("full-width apostrophe made an apostrophe (’)",)),
        ("O'Neill", "O'Neill", ()),
        ("O’Neill", "O’Neill", ()),
        ("Hawaiʻi", "Hawaiʻi", ()),
        ("` Ada ´", "` Ada ´", ()),
        ("Anne\u2011Marie", "Anne-Marie", ("special hyphen made a plain one",)),
        ("Anne–Marie", "Anne–Marie", ()),
        ("A\u00adda", "Ada", ("soft hyphen U+00AD (not seen) removed",)),
        ("\ufeffAda", "Ada", ("byte order mark U+FEFF (not seen) removed",)),
        (
            "Ada \u200b Bo",
            "Ada Bo",
            ("zero width space U+200B (not seen) removed", "two spaces made one space"),
        ),
        ("\ud83c\udfaa", "\U0001f3aa", ("halves of a sign joined",)),
        ("x\ud800y", "x\ufffdy", ("U+D800 (half of a sign) put as U+FFFD",)),
    ],
)
def test_each_change_is_named(before: str, after: str, changes: tuple[str, ...]) -> None:
    """Every kind of change gives the tidied text and says in words what was done."""
    tidied = tidy(before)
    assert (tidied.text, tidied.changes) == (after, changes)


@pytest.mark.parametrize("text", ["क्\u200dष", "می\u200cخواهم", "Ada\u200f שלום"])
def test_joiners_stay(text: str) -> None:
    """Zero-width joiners and direction marks that belong to the spelling are kept."""
    assert tidy(text).text == text


@given(st.text(max_size=40))
def test_says_so_exactly_if_it_changed(text: str) -> None:
    """There is a note if and only if the text is not what it was."""
    tidied = tidy(text)
    assert bool(tidied.changes) == (tidied.text != text)


@given(
    st.text(
        alphabet=st.characters(
            exclude_categories=["Cs", "Cf"],
            exclude_characters="`´′‵＇\u2010\u2011\u1fef\u1ffd\u034f\u180b\u180c\u180d\u180f"
            + "".join(map(chr, (*range(0xFE00, 0xFE10), *range(0xE0000, 0xE01F0)))),
        ),
        max_size=40,
    )
)
def test_agrees_with_the_rule_stated_independently(text: str) -> None:
    """Collapse what Unicode calls separators plus tab and line ends, trim, NFC (UAX #15).

    Unseen characters and signs that stand for others have rules and tests of their own.
    """
    parts = re.split(
        "|".join(
            re.escape(character)
            for character in map(chr, range(0x3001))
            if unicodedata.category(character) in ("Zs", "Zl", "Zp") or character in "\t\n\r"
        ),
        text,
    )
    assert tidy(text).text == unicodedata.normalize("NFC", " ".join(part for part in parts if part))


@given(st.text(max_size=40))
def test_idempotent(text: str) -> None:
    """Tidying what is tidy changes nothing."""
    once = tidy(text).text
    assert tidy(once).text == once
    assert tidy(once).changes == ()

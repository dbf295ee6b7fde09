"""Characters that no piece can carry, and texts in messages."""

import pytest
import regex
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.characters import described, is_unusable, shown, unusable_in

HELD = (
    *("\x00", "\x07", "\x0b", "\x0c", "\x1b", "\x1f", "\x7f", "\x85", "\x9f"),
    *("\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069"),
    *("\u00ad", "\u2060", "\u115f", "\u3164", "\uffa0", "\u2800"),
    *("\u200b", "\ufeff", "\ufffd", "\ud800", "\udfff", "\ue000", "\U0010fffd"),
    *("\ufdd0", "\uffff", "\U0010ffff", "\u0378"),
)


@pytest.mark.parametrize("character", HELD, ids=lambda character: f"{ord(character):04X}")
def test_unusable(character: str) -> None:
    """Controls, direction overrides, unseen marks, private and unassigned codes are unusable."""
    assert is_unusable(character)
    assert unusable_in(f"Ada{character}") == (character,)


@pytest.mark.parametrize(
    "character", "aé\u0301\u200c\u200d\u200e\u200f\u061cक’-&\U0001f3aa\ufe0f\U0001fae8"
)
def test_usable(character: str) -> None:
    """Letters, marks, joiners, direction marks and signs are fine here."""
    assert unusable_in(f"Ada{character}") == ()


@pytest.mark.parametrize(
    ("character", "words"),
    [
        ("\u202e", "U+202E right-to-left override"),  # UnicodeData.txt
        ("\x1b", "U+001B escape"),  # NameAliases.txt
        ("\x00", "U+0000 null"),
        ("\ufffd", "U+FFFD replacement character"),
        ("\ue000", "U+E000 a private-use character"),
        ("\uffff", "U+FFFF a code that stands for no character"),
        ("\U0001fae9", "U+1FAE9 \U0001fae9"),  # Unicode 16.0 (2024), newer than the tables of 3.13
        ("\x9f", "U+009F a control character"),
    ],
)
def test_described(character: str, words: str) -> None:
    """A character is named by its code and its Unicode name or kind."""
    assert described(character) == words


@given(st.text(max_size=200))
def test_shown_is_safe_for_a_terminal(text: str) -> None:
    """What is shown in a message has nothing in it that a terminal would act upon."""
    safe = shown(text)
    unseen = regex.compile(r"[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Cn}\p{Zl}\p{Zp}]")
    assert not [c for c in safe if unseen.match(c) and c not in "\u200c\u200d"]
    safe.encode("utf-8")


def test_shown_is_short() -> None:
    """Long texts are cut, and one sees that they were."""
    assert shown("x" * 100, 10) == "x" * 10 + "…"

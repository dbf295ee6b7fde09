"""What the marks of a letter are called, and how a name reads without them."""

import unicodedata
from collections.abc import Collection, Sequence

from namebatch.outline.model import Letter

BELOW = (202, 214, 218, 220, 222, 233)
"""Combining classes of marks that stand below a letter or hang from it (UAX #44, table 15)."""
ATTACHED_BELOW = (202, 214)


def marks_of(text: str, below: bool) -> list[str]:
    """The combining marks of a letter below it, or the others, as characters."""
    signs = unicodedata.normalize("NFD", text)
    marks = [sign for sign in signs if unicodedata.combining(sign)]
    return [mark for mark in marks if (unicodedata.combining(mark) in BELOW) == below]


def hangs_from(text: str) -> bool:
    """True if a mark is joined to the foot of the letter, as cedilla and ogonek are."""
    signs = unicodedata.normalize("NFD", text)
    return any(unicodedata.combining(sign) in ATTACHED_BELOW for sign in signs)


def called(mark: str) -> str:
    """A mark's name in plain words, for example ``dot below``."""
    name = unicodedata.name(mark, "mark").lower()
    return name.removeprefix("combining ") if name.startswith("combining ") else "mark"


def reading(letters: Sequence[Letter], lost: Collection[tuple[int, str]]) -> str:
    """A name as it reads when marks of it are not seen.

    Args:
        letters: of one name, in the order of its text.
        lost: place of a letter in `letters`, and the mark.
    """
    found = ""
    end = letters[0].index if letters else 0
    for place, letter in enumerate(letters):
        found += " " * (letter.index > end)  # a space leaves no ink
        signs = unicodedata.normalize("NFD", letter.text)
        for at, mark in lost:
            signs = signs.replace(mark, "", 1) if at == place else signs
        found += signs
        end = letter.index + len(letter.text)
    return unicodedata.normalize("NFC", found)

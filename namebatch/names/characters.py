"""Characters that no piece can carry, and how texts are shown in messages."""

import unicodedata
from typing import Final

import regex

JOINERS: Final = "\u200c\u200d"
"""Zero-width non-joiner and joiner: part of the spelling in many scripts, always kept."""

_BIDI: Final = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# Tidying drops these where they mean nothing, which is everywhere but for a few scripts.
_UNSEEN: Final = frozenset("\u00ad\u200b\u2060\u2061\u2062\u2063\u2064\ufeff")
# Letters and a pattern of dots by name, and nothing to see: Hangul fillers, the empty Braille cell.
_BLANK: Final = frozenset("\u115f\u1160\u3164\uffa0\u2800")
_DAMAGED: Final = "\ufffd"

# Control characters have no names in the Unicode Character Database; these are the aliases
# of its NameAliases.txt that turn up in lists.
_CONTROLS: Final = {
    0x00: "null",
    0x01: "start of heading",
    0x03: "end of text",
    0x04: "end of transmission",
    0x07: "alert",
    0x08: "backspace",
    0x0B: "line tabulation",
    0x0C: "form feed",
    0x1A: "substitute",
    0x1B: "escape",
    0x1C: "file separator",
    0x1D: "group separator",
    0x1E: "record separator",
    0x1F: "unit separator",
    0x7F: "delete",
    0x85: "next line",
}
_UNNAMED: Final = {
    "Cc": "a control character",
    "Cn": "a code that stands for no character",
    "Co": "a private-use character",
    "Cs": "half of a sign (a surrogate)",
}

# Python's own tables are years old: the library knows the signs that came since.
_NO_CHARACTER: Final = regex.compile(r"\p{Cn}")


def _category(character: str) -> str:
    """General category; `So` for a sign that came after Python's own tables."""
    own = unicodedata.category(character)
    return "So" if own == "Cn" and not _NO_CHARACTER.match(character) else own


def is_unusable(character: str) -> bool:
    """True if a text with this character cannot be made.

    Control characters (tab and line breaks too: tidying has removed those that are only
    white space), marks that turn the reading direction, unseen marks without a meaning of
    their own (soft hyphens too), blank letters, the replacement character, halves of pairs,
    private-use and unassigned codes.
    """
    if character in _BIDI or character in _UNSEEN or character in _BLANK:
        return True
    if character == _DAMAGED:
        return True
    return _category(character) in _UNNAMED


def unusable_in(text: str) -> tuple[str, ...]:
    """The distinct unusable characters of a text, in order of first appearance."""
    if text.isascii() and text.isprintable():
        return ()
    return tuple(dict.fromkeys(character for character in text if is_unusable(character)))


def code_of(character: str) -> str:
    """The code point as people write it: ``U+00E9``."""
    return f"U+{ord(character):04X}"


def described(character: str) -> str:
    """Code and name of a character: ``U+202E right-to-left override``."""
    name = unicodedata.name(character, "").lower() or _CONTROLS.get(ord(character), "")
    kind = name or _UNNAMED.get(_category(character), character)
    return f"{code_of(character)} {kind}"


def remedy_for(character: str) -> str:
    """What to do about an unusable character, as a sentence."""
    if character == _DAMAGED:
        return "A character was lost before the list came here: retype the text"
    if character in _BIDI:
        return "It is not seen and turns the reading direction: delete it, or retype the text"
    if character in _BLANK:
        return "It shows nothing: put a space there, or delete it"
    if _category(character) in ("Co", "Cn"):
        return "No typeface is sure to show it: replace it or leave it out"
    return "It is not seen: delete it, or retype the text"


def without_controls(text: str) -> str:
    """A text without control characters, but for white space, and without turned reading."""
    return "".join(sign for sign in text if not _is_control(sign))


def with_controls_shown(text: str) -> str:
    """A text with the code in the place of each of these: ``<U+0007>``."""
    return "".join(f"<{code_of(sign)}>" if _is_control(sign) else sign for sign in text)


def _is_control(sign: str) -> bool:
    return sign in _BIDI or (unicodedata.category(sign) == "Cc" and not sign.isspace())


def shown(text: str, limit: int = 60) -> str:
    """A text made safe for a message: unseen characters by code, long ones shortened.

    Args:
        text: anything that came out of a list.
        limit: most characters taken over from the text.
    """
    cut = text[:limit]
    safe = cut if cut.isprintable() else "".join(map(_as_seen, cut))
    return safe + "…" if len(text) > limit else safe


def _as_seen(character: str) -> str:
    """The character, or its code if nobody would see it."""
    plain = _is_seen(character) or character in JOINERS
    return character if plain else f"<{code_of(character)}>"


def _is_seen(character: str) -> bool:
    newer = unicodedata.category(character) == "Cn" and _category(character) == "So"
    return newer or character.isprintable()

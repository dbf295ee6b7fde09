"""How a character is named to a person."""

import unicodedata

import regex

_SEEN = regex.compile(r"[^\p{C}\p{Z}]")


def describe(character: str) -> str:
    """``🎪`` → ``U+1F3AA circus tent``; a sign whose name is not known here is shown instead.

    Names of Han characters only repeat their code: they are shown too.
    """
    code = f"U+{ord(character):04X}"
    if unicodedata.name(character, "").startswith("CJK UNIFIED IDEOGRAPH"):
        return f"{code} Han character {character}"
    name = unicodedata.name(character, "").lower()
    if name:
        return f"{code} {name}"
    seen = _SEEN.match(character)  # signs newer than Python's own tables
    return f"{code} {character}" if seen else f"{code} (a character without a name)"

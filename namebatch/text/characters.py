"""How a character is named to a person."""

import unicodedata


def describe(character: str) -> str:
    """``🎪`` → ``U+1F3AA circus tent``; a character without a name gives its code alone."""
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "").lower()
    return f"{code} {name}" if name else f"{code} (a character without a name)"

"""How a character is named to a person."""

import unicodedata


def describe(character: str) -> str:
    """``🎪`` → ``U+1F3AA circus tent``; a character without a name gives its code alone.

    Names of Han characters only repeat their code: they are shown instead.
    """
    code = f"U+{ord(character):04X}"
    if unicodedata.name(character, "").startswith("CJK UNIFIED IDEOGRAPH"):
        return f"{code} Han character {character}"
    name = unicodedata.name(character, "").lower()
    return f"{code} {name}" if name else f"{code} (a character without a name)"

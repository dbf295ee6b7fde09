"""Colours as a list says them: a word of the template, six digits, or something near to that."""

import re
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Final

from PIL import ImageColor

_HEX: Final = re.compile("#[0-9a-f]{6}")
_BARE: Final = re.compile("(?:[0-9a-f]{3}){1,2}")
_SHORT: Final = re.compile("#[0-9a-f]{3}")
_SEE_THROUGH: Final = re.compile("#[0-9a-f]{8}|#[0-9a-f]{4}")
_NEAR: Final = 0.75


def read_colour(said: str, words: Mapping[str, str]) -> str | None:
    """The colour that a cell of the list says.

    Args:
        said: the cell, not empty.
        words: of the template, in small letters → ``#rrggbb``.

    Returns:
        ``#rrggbb``, or None if it says none.
    """
    small = said.strip().casefold()
    colour = words.get(small, small)
    return colour if _HEX.fullmatch(colour) else None


def colour_problem(said: str, words: Mapping[str, str]) -> str:
    """What is wrong with a colour that cannot be read, and how it is written, in sentences.

    Args:
        said: the cell.
        words: of the template, in small letters → ``#rrggbb``.
    """
    small = said.strip().casefold()
    if _BARE.fullmatch(small):
        return f'The colour "{said}" lacks its #. Write "{_full("#" + small)}".'
    if _SHORT.fullmatch(small):
        return f'The colour "{said}" has three digits of six. Write each twice, "{_full(small)}".'
    if _SEE_THROUGH.fullmatch(small):
        return (
            f'The colour "{said}" has digits for how far one sees through it, and print has no '
            f'such thing. Leave them out: "{_full(small[: 7 if len(small) == 9 else 4])}".'
        )
    own = " and ".join(words) if len(words) < 3 else ", ".join(words)
    meant = _web_colour(small)
    if meant:
        knows = f"; it knows {own}" if words else ""
        return (
            f'The colour "{said}" is no word of this template{knows}. If you mean the colour that '
            f'web pages call so, write "{meant}".'
        )
    near = get_close_matches(small[:80], list(words), n=1, cutoff=_NEAR)
    return (
        f'The colour "{said}" is not known. '
        + (f'Did you mean "{near[0]}"? ' if near else "")
        + (f"This template knows {', '.join(words)}; " if words else "")
        + ("give one of those or" if words else "Give")
        + ' six hexadecimal digits as in "#17324d".'
    )


def _full(colour: str) -> str:
    """Six digits from three or six."""
    return "#" + "".join(2 * digit for digit in colour[1:]) if len(colour) == 4 else colour


def _web_colour(small: str) -> str:
    """A word or formula of CSS Color as ``#rrggbb``; empty if it is none."""
    if len(small) > 60:
        return ""
    try:
        red, green, blue = ImageColor.getrgb(small)[:3]
    except ValueError:
        return ""
    return f"#{red:02x}{green:02x}{blue:02x}" if max(red, green, blue) < 256 else ""

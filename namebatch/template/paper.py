"""Sizes of sheets in mm."""

import re
from math import isfinite

from namebatch.errors import WorkshopError
from namebatch.template.problems import nearest, shown

NAMED_MM = {
    # ISO 216:2007, portrait.
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "a5": (148.0, 210.0),
    # ASME Y14.1, 8½ × 11 in (from memory, not read in the standard).
    "letter": (215.9, 279.4),
}
LEAST_MM = 20.0
MOST_MM = 3000.0

_SIZE = re.compile(r"(\d{1,5}(?:\.\d{1,6})?)\s*[x×*]\s*(\d{1,5}(?:\.\d{1,6})?)\s*(?:mm)?", re.ASCII)


def sheet_size(text: str) -> tuple[float, float]:
    """Width and height in mm of a sheet given by name or as ``WxH``.

    Args:
        text: ``a3``, ``a4``, ``a5``, ``letter`` (small or capital letters), or two numbers
            in mm with an x between them, each from 20 to 3000.

    Raises:
        WorkshopError: for anything else, with what would be right.
    """
    word = text.strip().lower()
    if word in NAMED_MM:
        return NAMED_MM[word]
    match = _SIZE.fullmatch(word)
    if match is None:
        guess = nearest(word, NAMED_MM)
        hint = f' Did you mean "{guess}"?' if guess else ""
        raise WorkshopError(
            f"Sheet size {shown(text)} is not known. Write {', '.join(NAMED_MM)}, or width and "
            f"height in mm like 320x450, with a point for decimals.{hint}"
        )
    width, height = float(match[1]), float(match[2])
    for side in (width, height):
        if not (isfinite(side) and LEAST_MM <= side <= MOST_MM):
            raise WorkshopError(
                f"Sheet size {shown(text)}: {side:g} mm is outside {LEAST_MM:g} to {MOST_MM:g} mm. "
                "Give width and height in mm."
            )
    return width, height

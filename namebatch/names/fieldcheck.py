"""Checks of a text that is to stand on a piece."""

import re
from collections.abc import Iterator
from typing import Final

from namebatch.finding import Finding, hold, warn
from namebatch.names import limits
from namebatch.names.characters import described, remedy_for, shown, unusable_in

# "=" and anything; or "+", "-", "@" and a call, a pipe, a cell or sheet reference, or sums.
# A dash, a number with a plus, or an @ before a nickname are fine.
_FORMULA: Final = re.compile(
    r"=\s*\S|[+\-@]\s*(?:[A-Za-z_][\w.]*\s*[(|!]|\$?[A-Za-z]{1,3}\$?\d+\b|\d+\s*[-+*/^]\s*\d)"
)
_MOST_SHOWN: Final = 3


def check_field(text: str, where: str, *, optional: bool) -> Iterator[Finding]:
    """What is wrong or doubtful about a used text.

    Args:
        text: tidied.
        where: line and column, the beginning of every message.
        optional: an empty text is fine.

    Yields:
        Holds for an empty, over-long or unusable text; a warning for what looks like a
        spreadsheet formula.
    """
    if not text:
        if not optional:
            yield hold("empty-field", f"{where} is empty. Fill it in, or delete the line. Held.")
        return
    if len(text) > limits.FIELD_CHARACTERS:
        yield hold(
            "text-too-long",
            f'{where}: "{shown(text)}" has {len(text):,} characters; a piece carries at most '
            f"{limits.FIELD_CHARACTERS}. Shorten it. Held.",
        )
    unusable = unusable_in(text)
    for character in unusable[:_MOST_SHOWN]:
        yield hold(
            "unusable-character",
            f'{where}: "{shown(text)}" has {described(character)}. {remedy_for(character)}. Held.',
        )
    if len(unusable) > _MOST_SHOWN:
        more = len(unusable) - _MOST_SHOWN
        yield hold("unusable-character", f"{where}: {more} more such characters. Held.")
    if _FORMULA.match(text):
        yield warn(
            "formula-like",
            f'{where}: "{shown(text)}" looks like a spreadsheet formula; it is made as the plain '
            "text it is. Check the list if a name was meant.",
        )

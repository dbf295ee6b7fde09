"""Signs that another program left in a text, and marks that were typed twice."""

import re
import unicodedata
from collections.abc import Iterator
from html import unescape
from itertools import pairwise
from typing import Final

from namebatch.finding import Finding, warn
from namebatch.names.characters import described, shown

_TAG: Final = re.compile(r"</?[A-Za-z][A-Za-z0-9]*(?:\s[^<>]*)?/?>")
_BREAK: Final = re.compile(r"<br\s*/?>", re.IGNORECASE)
_ENTITY: Final = re.compile(r"&(?:#\d{1,7}|#[xX][0-9A-Fa-f]{1,6}|[A-Za-z]{2,10}\d{0,2});")
_UNDERSCORE: Final = re.compile(r"[^\W_]_|_[^\W_]")
_QUOTES: Final = (
    ('"', '"'), ("'", "'"), ("“", "”"), ("„", "“"), ("„", "”"), ("”", "”"), ("‘", "’"), ("‚", "‘"),
    ("«", "»"), ("»", "«"), ("‹", "›"), ("「", "」"), ("『", "』"),
)  # fmt: skip


def check_leftovers(text: str, where: str, *, name: bool) -> Iterator[Finding]:
    """Warnings for markup, underscores, quotation marks all round, and a mark typed twice.

    Args:
        text: tidied.
        where: line and column, the beginning of every message.
        name: it is a person's name; quotation marks round other texts may be wanted.
    """
    found = _TAG.search(text) or _ENTITY.search(text)
    if found:
        plain = " ".join(unescape(_TAG.sub("", _BREAK.sub(" ", text))).split())
        instead = f': "{shown(plain)}"' if plain else ""
        yield warn(
            "markup",
            f'{where}: "{shown(text)}" has "{shown(found[0])}" in it, which belongs to a web page '
            f"and would be made as part of the text. Retype it{instead}.",
        )
    if name and _UNDERSCORE.search(text):
        yield warn(
            "underscore",
            f'{where}: "{shown(text)}" has an underscore in it, which would be made. Put a space '
            "or nothing there, if no underscore is meant.",
        )
    if name and _is_quoted(text):
        yield warn(
            "quotes-round",
            f"{where}: {shown(text)} stands in quotation marks, which would be made as part of it. "
            "Take them out if they are left over.",
        )
    yield from _doubled_mark(text, where)


def _is_quoted(text: str) -> bool:
    """True if a text stands in one pair of quotation marks, with no other in it."""
    inside = text[1:-1]
    return any(
        text.startswith(begin)
        and text.endswith(end)
        and inside.strip() != ""
        and begin not in inside
        and end not in inside
        for begin, end in _QUOTES
    )


def _doubled_mark(text: str, where: str) -> Iterator[Finding]:
    """The same mark twice on one letter: the second lies on the first, or over the letter."""
    if text.isascii():
        return
    for one, other in pairwise(text):
        if one == other and unicodedata.category(one) == "Mn":
            yield warn(
                "mark-twice",
                f'{where}: "{shown(text)}" has {described(one)} twice on one letter. Delete one '
                "of the two.",
            )
            return

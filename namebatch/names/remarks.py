"""What stands in a name's cell and is no name: addresses, numbers, orders, remarks."""

import re
from collections.abc import Iterator
from typing import Final

from namebatch.finding import Finding, hold, warn
from namebatch.names.characters import shown
from namebatch.names.place import kind as of_list
from namebatch.names.placeholders import may_be_placeholder

_MAIL: Final = re.compile(r"[^\s@<>]+@[^\s@<>]+\.[^\W\d]{2,}")
_WEB: Final = re.compile(r"https?://|www\.\w", re.IGNORECASE)
_DATE: Final = re.compile(
    r"\d{1,4}([./-])\d{1,2}\1\d{1,4}\.?|\d{4}年\d{1,2}月\d{1,2}日(?: \d{1,2}:\d{2}(?::\d{2})?)?"
)
_NUMBER: Final = re.compile(r"[+-]?\d+(?:[.,]\d+)*")
_PHONE: Final = re.compile(r"(?:\+|00|\(?0)?[\d(][\d\s()/.-]{5,}\d")
_FEWEST_PHONE_DIGITS: Final = 6
_PIECES: Final = (
    r"x|×|\*|pcs?|pieces?|copies|times|mal|stück|stk|fois|pièces?|unidades|uds?|stuks|pezzi|pz|szt|"
    r"kpl|ks|db|st|шт"
)
_ORDER: Final = re.compile(
    rf"(?<![\w.])(?:\d{{1,3}} ?(?:{_PIECES})\b\.?|\d{{1,3}} ?[×*]|[x×*] ?\d{{1,3}})(?!\w)",
    re.IGNORECASE,
)
_REMARK: Final = re.compile(r"(?:^|\s)[(\[{].*|（.*|\s[-–—]\s.*", re.DOTALL)
_HYPHEN: Final = re.compile(r"\w(?: -| ?- )\w|\w- \w")
_STRAY: Final = re.compile(r"[,;:]$|^[,;:.]")
_REVERSED: Final = re.compile(r"([^\W\d_][^,]*), ?([^\W\d_][^,]*)")
# Behind a comma these follow a name and are no first names; degrees have a full stop as a rule.
_AFTER_COMMA: Final = re.compile(
    r"\b(?:[js]r|junior|senior|ii|iii|iv|phd|md|dds|rn|esq|msc|bsc|mba|ma|ba|cpa|jd|llm)\b",
    re.IGNORECASE,
)


def check_name(text: str, where: str, *, alone: bool = False) -> Iterator[Finding]:
    """What is doubtful about a text where a person's name should stand.

    Args:
        text: tidied, not empty.
        where: line and column, the beginning of every message.
        alone: the list has no other column that it could have been swapped with.

    Yields:
        A hold for a mail or web address; warnings for a number, date or telephone number, an
        order or remark inside the cell, a surname put first.
    """
    kind = _no_name(text)
    swapped = "" if alone else "Were two columns swapped? "
    if kind in ("a mail address", "a web address"):
        yield hold(
            "not-a-name",
            f'{where}: "{shown(text)}" is {kind}, not a name. {swapped}Put the name there. Held.',
        )
        return
    if kind:
        yield warn(
            "not-a-name",
            f'{where}: "{shown(text)}" looks like {kind}; it is made as it stands. {swapped}Put '
            f"the name there, or delete the {of_list(where)}, if it is not meant.",
        )
        return
    yield from _extras(text, where)


def check_whole_name(text: str, where: str) -> Iterator[Finding]:
    """A warning for a whole name, all its fields together, that is seldom a person's.

    Args:
        text: the fields with spaces between them; Frei or Test is a surname behind a first name.
        where: the beginning of the message.
    """
    if may_be_placeholder(text):
        yield warn(
            "placeholder-perhaps",
            f'{where}: "{shown(text)}" stands more often for a missing name than for a person; it '
            f"is made as it stands. Put the name there, or delete the {of_list(where)}.",
        )


def _no_name(text: str) -> str:
    """What a text is that has nothing of a name; empty if it may be one."""
    if _MAIL.search(text):
        return "a mail address"
    if _WEB.search(text):
        return "a web address"
    if _DATE.fullmatch(text):
        return "a date"
    if _NUMBER.fullmatch(text):
        return "a number"
    if _PHONE.fullmatch(text) and sum(map(str.isdigit, text)) >= _FEWEST_PHONE_DIGITS:
        return "a telephone number"
    return ""


def _extras(text: str, where: str) -> Iterator[Finding]:
    order = _ORDER.search(text)
    remark = _REMARK.search(text)
    if order:
        yield warn(
            "order-in-name",
            f'{where}: "{shown(text)}" has "{shown(order[0])}" in it, which would be made as part '
            "of the name. If it says how many, put the number into a quantity column.",
        )
    elif remark:
        yield warn(
            "remark-in-name",
            f'{where}: "{shown(text)}" has "{shown(remark[0].strip())}" in it, which would be made '
            "as part of the name. If it is a remark, put it into a column of its own.",
        )
    elif _HYPHEN.search(text):
        yield warn(
            "space-at-hyphen",
            f'{where}: "{shown(text)}" has a space beside a hyphen. Take it out if the two belong '
            "together.",
        )
    if _STRAY.search(text):
        yield warn(
            "stray-sign",
            f'{where}: "{shown(text)}" begins or ends with a sign that no name has there. Take it '
            "out if it is left over.",
        )
    elif _is_reversed(text):
        first, last = (part.strip() for part in text.split(","))
        yield warn(
            "surname-first",
            f'{where}: "{shown(text)}" has a comma in it, as in a register; it is made as it '
            f'stands. Write "{shown(f"{last} {first}")}" if that is meant.',
        )


def _is_reversed(text: str) -> bool:
    found = _REVERSED.fullmatch(text)
    if found is None or "." in found[2]:
        return False
    return _AFTER_COMMA.search(found[2]) is None

"""Where a name may be broken into two lines."""

import unicodedata

PARTICLES = frozenset({
    "van", "von", "vom", "zu", "zum", "zur", "der", "den", "dem", "des", "de", "da", "das",
    "do", "dos", "du", "di", "del", "della", "delle", "dello", "degli", "dei", "la", "le",
    "las", "los", "el", "al", "bin", "ibn", "bint", "ben", "abu", "umm", "ter", "ten", "te",
    "op", "aan", "'t", "in", "het", "af", "av", "y", "e", "i", "mac", "mc", "st", "saint",
    "sankt", "san", "santa", "são", "sao", "ap", "ab", "ferch", "ó", "ní", "nic", "mhic", "uí",
    "ua", "o", "d", "l", "dell", "dall", "nell", "фон", "де", "ван", "дер",
})  # fmt: skip
"""Words that belong to the word behind them (name particles of European and Arabic names).

Common practice, no source; a list of words, not of names.
"""
HYPHENS = "-\u2010\u2011"
JOINED_AFTER = ("al-", "el-", "ar-", "as-", "ad-", "at-", "az-", "an-", "ibn-", "bin-", "abd-")
"""What a hyphen never lets go of, in small letters."""


def breaks(text: str) -> tuple[tuple[str, str, int], ...]:
    """The ways to break a text into two lines.

    A line ends at a space, which is dropped, or after a hyphen, which stays. It never ends
    behind a particle (``van der``, ``de la``, ``al-``), an initial's full stop that is all that
    stands before it (``J.``), or before a Roman numeral or an addition such as ``Jr.``

    Returns:
        Upper line, lower line, index at which the lower one starts; in text order.
    """
    found = []
    for index, character in enumerate(text):
        if character == " ":
            upper, lower, start = text[:index], text[index + 1 :], index + 1
        elif character in HYPHENS:
            upper, lower, start = text[: index + 1], text[index + 1 :], index + 1
        else:
            continue
        if _lettered(upper) and _lettered(lower) and not _clings(upper, lower):
            found.append((upper, lower, start))
    return tuple(found)


def _lettered(part: str) -> bool:
    """Something to read stands on it, and it neither starts nor ends with a space."""
    return part.strip() == part and any(c.isalnum() for c in part)


def _clings(upper: str, lower: str) -> bool:
    """The last word above belongs to the first one below."""
    last = upper.split(" ")[-1]
    if last.casefold() in JOINED_AFTER:
        return True
    if last.casefold().strip(".,") in PARTICLES:
        return True
    if upper == last and _is_initial(last):
        return True
    first = lower.split(" ")[0].strip(".,").casefold()
    return first in ("jr", "sr", "ii", "iii", "iv") or not any(c.isalnum() for c in first)


def _is_initial(word: str) -> bool:
    """``J.`` or ``J``: one letter with its marks, perhaps a full stop."""
    base = [c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c)]
    return len([c for c in base if c.isalpha()]) == 1 and len(base) <= 2

"""Which 8-bit Latin code page a text is in, by the letters that its words put together.

The code pages of western, central European, Turkish and Baltic machines share most letters.
What tells them apart is the company letters keep: read in the wrong one, ř in Dvořák turns to
ø, and no western language has ø and á in one word. So words are counted that fit no single
language of a code page; names from many countries in one list do each other no harm.
"""

import re
from itertools import pairwise
from typing import Final

_PAGES: Final = {
    "cp1252": (
        "äöüß",  # German
        "àâçéèêëîïôùûüÿœ",  # French
        "áéíóúüñ",  # Spanish
        "áâãàçéêíóôõúü",  # Portuguese
        "àçèéíïòóúü",  # Catalan
        "àèéìíòóùú",  # Italian
        "áéíóúàèëïöüêç",  # Dutch
        "æøåéü",  # Danish, Norwegian
        "åäöéüà",  # Swedish
        "åäöšž",  # Finnish
        "áðéíóúýþæö",  # Icelandic
        "áéíóúàèìòù",  # Irish, Scottish Gaelic
        "âêîôûäëïöáéàèìòù",  # Welsh
    ),
    "cp1250": (
        "ąćęłńóśźż",  # Polish
        "áčďéěíňóřšťúůýž",  # Czech
        "áäčďéíĺľňóôŕšťúýž",  # Slovak
        "áéíóöőúüű",  # Hungarian
        "čćđšž",  # Croatian, Bosnian, Serbian, Slovene
        "ăâîşţ",  # Romanian, in the letters that the code page has
    ),
    "cp1254": ("çğıöşüâîû",),  # Turkish
    "cp1257": (
        "ąčęėįšųūž",  # Lithuanian
        "āčēģīķļņšūž",  # Latvian
        "äöõüšž",  # Estonian
    ),
}
_ALPHABETS: Final = {page: tuple(map(frozenset, letters)) for page, letters in _PAGES.items()}
# Signs that stand beside letters in good text: marks of omission, quotes, dashes, ª and º.
_BESIDE_LETTERS: Final = "’ªº·´°–—“”„»«…\u00a0®™"
_WORDS: Final = re.compile(rf"[^\s,;\"'()./&+\-{_BESIDE_LETTERS}]+")
_MOST_MISFITS: Final = 0.2


def latin_page(data: bytes) -> str | None:
    """The Latin code page with the fewest words that fit no language of it.

    Args:
        data: the lines of a text that have other than ASCII bytes.

    Returns:
        A codec; Windows-1252 when nothing speaks for another one; None if more than a fifth
        of the words fit none, so that the text is in some other script or code page.
    """
    misfits = {page: _misfits(data.decode(page, "replace"), page) for page in _PAGES}
    best = min(misfits, key=lambda page: misfits[page])
    return best if misfits[best] <= _MOST_MISFITS else None


def _misfits(text: str, page: str) -> float:
    """Share of the words with other than ASCII letters that fit no language of the page."""
    words = [word for word in _WORDS.findall(text) if not word.isascii()]
    if not words:
        return 0.0
    return sum(not _fits(word, page) for word in words) / len(words)


def _fits(word: str, page: str) -> bool:
    foreign = {letter.lower()[:1] for letter in word if not letter.isascii()}
    # A capital after a small letter: "Andrž" with a capital at its end is some other page.
    humps = any(
        not letter.isascii() and letter.isupper() and before.islower()
        for before, letter in pairwise(word)
    )
    # İ is the one letter whose small form is ASCII with a mark.
    foreign.discard("i")
    return not humps and any(foreign <= alphabet for alphabet in _ALPHABETS[page])

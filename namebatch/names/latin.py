"""Which 8-bit Latin code page a text is in, by the letters that its words put together.

The code pages of western, central European, Turkish and Baltic machines share most letters.
What tells them apart is the company letters keep: read in the wrong one, ř in Dvořák turns to
ø, and no western language has ø and á in one word. A word that reads well both ways (Niño or
Nińo) says nothing. Windows-1252 is by far the commonest, so another page is taken only for
words that it alone makes sense of.
"""

import re
import unicodedata
from itertools import pairwise
from typing import Final

USUAL: Final = "cp1252"
"""The page that is taken when nothing speaks for another one."""

_WESTERN: Final = (
    "äöüß",  # German
    "àâçéèêëîïôùûüÿœ",  # French
    "áéíóúüñ",  # Spanish
    "áâãàçéêíóôõúü",  # Portuguese
    "àçèéíïòóúü",  # Catalan
    "àèéìíòóùú",  # Italian
    "áéíóúàèëïöüêç",  # Dutch
    "æøåéüäö",  # Danish, Norwegian
    "åäöéüà",  # Swedish
    "åäöõüšž",  # Finnish, Estonian
    "áðéíóúýþæö",  # Icelandic
    "áéíóúàèìòù",  # Irish, Scottish Gaelic
    "âêîôûäëïöáéàèìòù",  # Welsh
    # what this page has of languages that need another one for the rest of their letters
    "áéíóúýäôšž",  # Czech, Slovak, Croatian, Slovene
    "áéíóöúü",  # Hungarian
    "çöüâîû",  # Turkish
)
_CENTRAL: Final = (
    "ąćęłńóśźż",  # Polish
    "áčďéěíňóřšťúůýž",  # Czech
    "áäčďéíĺľňóôŕšťúýž",  # Slovak
    "áéíóöőúüű",  # Hungarian
    "čćđšž",  # Croatian, Bosnian, Serbian, Slovene
    "ăâîşţ",  # Romanian, in the letters that the code page has
)
_PAGES: Final = {
    USUAL: _WESTERN,
    "cp1250": _CENTRAL,
    "cp1254": ("çğıöşüâîû",),  # Turkish
    "cp1257": (
        "ąčęėįšųūž",  # Lithuanian
        "āčēģīķļņšūž",  # Latvian
        "äöõüšž",  # Estonian
    ),
    "iso8859_2": _CENTRAL,
    "mac_roman": _WESTERN,
    "cp1258": ("àáâãèéêìíòóôõùúýăđơư\u0300\u0301\u0303\u0309\u0323",),  # Vietnamese
}
_ALPHABETS: Final = {page: tuple(map(frozenset, letters)) for page, letters in _PAGES.items()}
# Where no western language has these letters: -ić, -ński, -ő and -ş of other pages look so.
_NEVER_WESTERN: Final = re.compile("iæ$|ñ[bcdfghj-np-tv-z]|õ$|þ$|^ð")
# Signs that stand beside letters in good text: marks of omission, quotes, dashes, ª and º.
_BESIDE_LETTERS: Final = re.compile("[’ªº·´°–—“”„»«…\u00a0®™]")
# On this page most of them have the codes of other scripts' letters.
_BESIDE_ON_MAC: Final = re.compile("’")
_WORDS: Final = re.compile(rb"[0-9A-Za-z\x80-\xff]+")
_MOST_MISFITS: Final = 0.2
_LEAST_EVIDENCE: Final = 0.04
_ALL_FOREIGN: Final = 3


def latin_page(data: bytes) -> str | None:
    """The Latin code page of a text, if it is in one.

    Args:
        data: the lines of a text that have other than ASCII bytes.

    Returns:
        A codec; None if more than a fifth of the words fit none, so that the text is in some
        other script or code page.
    """
    page = nearest_latin_page(data)
    words = _words(data)
    misfits = sum(not _fits(word, page) for word in words)
    return page if misfits <= _MOST_MISFITS * len(words) else None


def nearest_latin_page(data: bytes) -> str:
    """The Latin code page that suits a text best, however badly.

    Windows-1252 unless the words clearly speak for another one.
    """
    words = _words(data)
    usual = {word: _fits(word, USUAL) for word in words}
    best, most = USUAL, 0
    for page in _PAGES:
        changed = [word for word in words if _read(word, page) != _read(word, USUAL)]
        won = sum(not usual[word] and _fits(word, page) for word in changed)
        lost = sum(usual[word] and not _fits(word, page) for word in changed)
        clear = won > 2 * lost and won > _LEAST_EVIDENCE * len(changed)
        if clear and won - lost > most:
            best, most = page, won - lost
    return best


def fits_page(data: bytes, page: str) -> bool:
    """True if every word of a line makes sense in a page; always, for a page not Latin."""
    return page not in _PAGES or all(_fits(word, page) for word in _words(data))


def _words(data: bytes) -> tuple[bytes, ...]:
    """The distinct words that have other than ASCII bytes."""
    return tuple(dict.fromkeys(word for word in _WORDS.findall(data) if not word.isascii()))


def _read(word: bytes, page: str) -> str | None:
    try:
        return word.decode(page)
    except UnicodeDecodeError:
        return None


def _fits(word: bytes, page: str) -> bool:
    text = _read(word, page)
    if text is None:
        return False
    beside = _BESIDE_ON_MAC if page == "mac_roman" else _BESIDE_LETTERS
    parts = beside.split(text.lstrip("‘‚‹").rstrip("›"))
    return all(part.isascii() or _part_fits(part, page) for part in parts)


def _part_fits(part: str, page: str) -> bool:
    if not any(character.isalpha() for character in part):
        # a price, a fraction
        return len(part) == 1 or (part.isprintable() and any(map(str.isdigit, part)))
    foreign = {letter.lower()[:1] for letter in part if not letter.isascii()}
    # A capital after a small letter: "Andrž" with a capital at its end is some other page.
    humps = any(
        not letter.isascii() and letter.isupper() and before.islower()
        for before, letter in pairwise(part)
    )
    # Names in Latin letters have plain ones among them; in other scripts every byte is high.
    alien = len(part) >= _ALL_FOREIGN and not any(letter.isascii() for letter in part)
    if humps or alien:
        return False
    if _PAGES[page] is _WESTERN and _NEVER_WESTERN.search(part.lower()):
        return False
    # İ is the one letter whose small form is ASCII with a mark.
    foreign.discard("i")
    return any(foreign <= alphabet for alphabet in _ALPHABETS[page])


def one_script(text: str) -> bool:
    """True if nearly every word keeps to one script, and some to another than Latin.

    Western letters read in a Cyrillic or Arabic page give words that mix both.
    """
    words = [word for word in re.findall(r"[^\W\d_]+|\ufffd", text) if not word.isascii()]
    scripts = [{_is_latin(letter) for letter in word} for word in words]
    damaged = words.count("\ufffd")
    mixed = damaged + sum(len(kinds) > 1 for kinds in scripts)
    return {False} in scripts and mixed <= _MOST_MISFITS * len(words)


def _is_latin(letter: str) -> bool:
    return letter.isascii() or unicodedata.name(letter, "").startswith("LATIN")

"""Names cut to initials, where a template allows it."""

import re
import unicodedata
from collections.abc import Sequence
from typing import Final

from namebatch.text.clusters import clusters
from namebatch.text.kept import (
    HYPHENS,
    hyphen_holds,
    in_brackets,
    is_initial,
    plain,
    with_next,
    with_previous,
)
from namebatch.text.particles import ELIDED

NOT_ABBREVIATED = 2
"""Words of so many signs gain nothing from a full stop."""
# From memory of the languages; common practice, no source.
_FAMILY_NAME_FIRST: Final = frozenset(["vi", "hu", "zh", "ja", "ko", "th", "km", "lo", "my"])
_VIETNAMESE: Final = re.compile("[\u1ea0-\u1ef9\u01a0\u01a1\u01af\u01b0]")
_AND: Final = frozenset(["y", "e", "i", "und", "and", "og", "och", "et", "и", "та", "й"])
_TITLES: Final = frozenset(
    ["sir", "dame", "lady", "lord", "dr", "prof", "rev", "mr", "mrs", "ms", "miss", "mx", "m"]
    + ["mme", "mlle", "frau", "herr", "hr", "count", "countess", "baron", "baroness", "captain"]
)
_ELISION: Final = re.compile(rf"({'|'.join(sorted(ELIDED))})['’](?=\w)", re.IGNORECASE)


def initials(text: str, language: str = "") -> tuple[str, ...]:
    """Shorter and shorter forms of a name, its family name whole.

    ``Anna Maria van der Berg`` gives ``Anna M. van der Berg`` and ``A. M. van der Berg``;
    ``Jean-Luc Moss`` gives ``J.-L. Moss``. Particles, titles, additions (Jr.) and what stands in
    brackets stay whole; in the last form brackets are left out. Only scripts with capital letters
    have initials, and not languages in which the family name comes first.

    Args:
        text: one line.
        language: BCP 47 tag, empty when unknown; Vietnamese is known by its letters.

    Returns:
        The forms from the longest; empty when there are none shorter than the text.
    """
    words = text.split(" ")
    if not has_initials(text, language):
        return ()
    family = _family(words)
    all_given = [_short(words, at) if at < family[0] else word for at, word in enumerate(words)]
    forms = [[words[0], *all_given[1:]], all_given]
    forms.append([word for at, word in enumerate(all_given) if not _bracketed(words, at)])
    return _shorter(text, forms)


def all_initials(text: str, language: str = "") -> tuple[str, ...]:
    """The name with its family name cut too: ``A. M. van der B.``; empty as for `initials`."""
    words = text.split(" ")
    if not has_initials(text, language):
        return ()
    short = [_short(words, at) for at in range(len(words))]
    return _shorter(
        text, [short, [word for at, word in enumerate(short) if not _bracketed(words, at)]]
    )


def has_initials(text: str, language: str = "") -> bool:
    """Whether names like this are cut to initials: by script, language and number of words."""
    words = text.split(" ")
    if len(words) < 2 or not all(_has_case(word) for word in words if _lettered(word)):
        return False
    return language.partition("-")[0] not in _FAMILY_NAME_FIRST and not _VIETNAMESE.search(
        unicodedata.normalize("NFC", text)
    )


def _shorter(text: str, forms: Sequence[Sequence[str]]) -> tuple[str, ...]:
    joined = dict.fromkeys(" ".join(words) for words in forms)
    return tuple(form for form in joined if len(form) < len(text))


def _family(words: Sequence[str]) -> range:
    """Places of the family name: one word with its particles, or two about an ``y``."""
    last = len(words) - 1
    while last > 0 and (with_previous(words, last) or _bracketed(words, last)):
        last -= 1
    first = _with_particles(words, last)
    if first > 1 and plain(words[first]) in _AND:
        first = _with_particles(words, first - 1)
    return range(first, last + 1)


def _with_particles(words: Sequence[str], at: int) -> int:
    """Where the particles before a word begin; the first word of all is a given name."""
    while at > 1 and with_next(words, at - 1):
        at -= 1
    return at


def _bracketed(words: Sequence[str], at: int) -> bool:
    return (
        in_brackets(" ".join(words[:at]))
        or in_brackets(" ".join(words[: at + 1]))
        or (words[at][:1] in "([“«„" and words[at] != "")
    )


def _short(words: Sequence[str], at: int) -> str:
    """A word as an initial, unless it is none that is cut."""
    word = words[at]
    whole = (
        _bracketed(words, at)
        or (at < len(words) - 1 and with_next(words, at))
        or (at > 0 and with_previous(words, at))
        or plain(word).rstrip(".") in _TITLES
    )
    return word if whole else _initial(word)


def _initial(word: str, least: int = NOT_ABBREVIATED) -> str:
    """The first cluster of each part between hyphens, with a full stop; prefixes as they are."""
    for hyphen in HYPHENS:
        before, _, after = word.partition(hyphen)
        if before and after:
            if _lettered(word) and not is_initial(before) and hyphen_holds(before, after):
                return before + hyphen + _initial(after, 1)
            return _initial(before, 1) + hyphen + _initial(after, 1)
    elided = _ELISION.match(word)
    if elided:
        return elided[0] + _initial(word[elided.end() :], 1)
    if not _lettered(word) or len(word) <= least or word.endswith("."):
        return word
    return clusters(word)[0].text + "."


def _lettered(word: str) -> bool:
    return any(character.isalpha() for character in word)


def _has_case(word: str) -> bool:
    return any(unicodedata.category(character) in ("Lu", "Ll", "Lt") for character in word)

"""Names cut to initials, where a template allows it."""

import unicodedata

from namebatch.text.breaks import HYPHENS, JOINED_AFTER, PARTICLES
from namebatch.text.clusters import clusters

NOT_ABBREVIATED = 2
"""Words of so many letters gain nothing from a full stop."""


def initials(text: str) -> tuple[str, ...]:
    """Shorter and shorter forms of a name.

    ``Anna Maria van der Berg`` gives ``A. M. van der Berg`` and ``A. M. van der B.``;
    ``Jean-Luc Moss`` gives ``J.-L. Moss``. Particles stay whole. Only scripts with capital
    letters have initials; other texts have none.

    Returns:
        The forms from the longest; empty when there are none shorter than the text.
    """
    words = text.split(" ")
    if len(words) < 2 or not all(_has_case(word) for word in words if _lettered(word)):
        return ()
    given = _given(words)
    forms = [" ".join([*(_initial(w) for w in words[:given]), *words[given:]])]
    forms.append(" ".join(_initial(word) for word in words))
    return tuple(form for form in dict.fromkeys(forms) if len(form) < len(text))


def _given(words: list[str]) -> int:
    """How many words stand before the family name and its particles."""
    last = len(words) - 1
    while last > 1 and words[last - 1].casefold() in PARTICLES:
        last -= 1
    return last


def _initial(word: str) -> str:
    """The first cluster of each part between hyphens, with a full stop; particles as they are."""
    if word.casefold() in PARTICLES:
        return word
    for prefix in JOINED_AFTER:
        if word.casefold().startswith(prefix) and len(word) > len(prefix):
            return word[: len(prefix)] + _initial(word[len(prefix) :])
    for hyphen in HYPHENS:
        if hyphen in word.strip(hyphen):
            return hyphen.join(_initial(part) for part in word.split(hyphen))
    if not _lettered(word) or (len(word) <= NOT_ABBREVIATED and word.endswith(".")):
        return word
    return clusters(word)[0].text + "."


def _lettered(word: str) -> bool:
    return any(character.isalpha() for character in word)


def _has_case(word: str) -> bool:
    return any(unicodedata.category(character) in ("Lu", "Ll", "Lt") for character in word)

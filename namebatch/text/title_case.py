"""Names in capitals or small letters written as names: first letters large, the rest small.

What a person typed in mixed case is taken for what they meant (McNeil, DiCaprio, van der Aa) and
stays. Of a word in one case only the pieces between hyphens, points and apostrophes are written
anew. MCNEIL and mcneil become McNeil: Mc before a consonant is Scottish or Irish. Before a vowel
(Mcewan, and Mcebisi in southern Africa) it is so only where the language is said to be English,
Irish or Scots. Mac is never parted: nothing tells Macdonald from Macy.
"""

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from namebatch.text.particles import ELIDED, clings, may_be_particle, particles

Lower = Callable[[str, str], str]

# Typed in capitals among other words. Small, or in a text all in capitals, those that are names
# as well (Vi, Xi, Ix) are names.
_NUMERALS: Final = frozenset(
    ["II", "III", "IV", "VI", "VII", "VIII", "IX", "XI", "XII", "XIII", "XIV", "XV", "XVI"]
)
_NAMES_AS_WELL: Final = frozenset({"VI", "IX", "XI"})
_NO_NUMERALS: Final = frozenset({"vi"})
# Three i in a row are in no name: these are numerals even where nothing stands before them.
_NUMERALS_ALONE: Final = frozenset({"III", "VIII", "XIII"})
# Behind a title: honorary, retired (German). Elsewhere e.h. are somebody's initials.
_BEHIND_TITLE: Final = frozenset({"e.h.", "h.c.", "a.d.", "i.r."})
_MC: Final = re.compile("mc(?=[bcdfgjklmnpqrstvxz][a-z])")
_MC_ANYWHERE: Final = re.compile("mc(?=[a-z]{2})")
_MC_TONGUES: Final = frozenset({"en", "ga", "gd", "sco"})
_APOSTROPHES: Final = "'’‘"
_HYPHENS: Final = "-\u2010\u2011"
# Uzbek writes letters with an apostrophe: O'ktam.
_NOT_ELIDED: Final = frozenset({"uz"})
_SMALL_ELIDED: Final = frozenset({"fr", "ca", "oc", "pt"})
_INITIALS: Final = 2
# Dutch ij is one letter, with an accent on both halves or, for want of a key, on the first.
_DIGRAPH: Final = re.compile("ij(?!\u0301)|íj\u0301?")
_AND: Final = "\u0587"
"""Armenian "and", one letter of two."""
_DOTTED: Final = frozenset({"tr", "az", "crh", "gag"})


@dataclass(frozen=True, slots=True)
class _Setting:
    """Where a word stands.

    Attributes:
        tongue: language, first part of the tag.
        lower: small letters by the language.
        first: it is the first word.
        before: the word before it, as typed; empty for the first.
        particle: it is written small.
        shouted: the whole text is in capitals.
    """

    tongue: str
    lower: Lower
    first: bool
    before: str
    particle: bool
    shouted: bool


def titled(text: str, tongue: str, lower: Lower) -> str:
    """A text with its words written as names.

    Args:
        text: any.
        tongue: first part of a BCP 47 tag, small letters; empty when unknown.
        lower: small letters by language.

    Returns:
        The text in Unicode Normalization Form C.
    """
    whole = unicodedata.normalize("NFC", text)
    words = whole.split(" ")
    filled = [at for at, word in enumerate(words) if any(map(str.isalpha, word))]
    typed = [words[at] for at in filled]
    # Single letters are capitals anyway; they tell nothing.
    shouted = "".join(word for word in typed if len(word) > 1).isupper()
    small = _small_words(typed, tongue, lower)
    for order, at in enumerate(filled):
        before = typed[order - 1] if order else ""
        where = _Setting(tongue, lower, order == 0, before, order in small, shouted)
        words[at] = _word(words[at], where)
    return unicodedata.normalize("NFC", " ".join(words))


def _small_words(typed: Sequence[str], tongue: str, lower: Lower) -> frozenset[int]:
    """Places of the particles; in a text of mixed case those typed small are meant so."""
    plain = [lower(word, tongue).replace("’", "'") for word in typed]
    found = particles(plain, tongue)
    if "".join(typed).islower():
        return found
    meant = {
        at
        for at, word in enumerate(typed[:-1])
        if word.islower() and may_be_particle(plain[at], tongue)
    }
    return found | meant


def _word(word: str, where: _Setting) -> str:
    if where.particle and (word.islower() or word.isupper()):
        return where.lower(word, where.tongue)
    if word == _AND and not where.first:
        return word
    if _is_numeral(word, where):
        return word.upper()
    if word in _BEHIND_TITLE and where.before.endswith("."):
        return word
    # AJ, DJ among words in mixed case: typed like that on purpose.
    if where.first and not where.shouted and word.isupper() and len(word) <= _INITIALS:
        return word
    pieces = list(_pieces(word))
    return "".join(_piece(pieces, at, where) for at in range(len(pieces)))


def _is_numeral(word: str, where: _Setting) -> bool:
    """True for a Roman numeral behind a name: a king's, or a third of the same name."""
    figure = word.strip(".,").upper()
    if figure not in _NUMERALS or where.tongue in _NO_NUMERALS:
        return False
    if where.first and figure not in _NUMERALS_ALONE:
        return False
    if figure in _NAMES_AS_WELL:
        return word.isupper() and not where.shouted
    return word.isupper() or word.islower()


def _pieces(word: str) -> Iterator[str]:
    """Stretches of letters with their marks, and what is between them."""
    start = 0
    for at in range(1, len(word) + 1):
        if at == len(word) or _is_letter(word[at]) != _is_letter(word[at - 1]):
            yield word[start:at]
            start = at


def _is_letter(character: str) -> bool:
    return unicodedata.category(character)[0] in "LM" or character in "\u200c\u200d"


def _piece(pieces: list[str], at: int, where: _Setting) -> str:
    piece = pieces[at]
    if not (piece.islower() or piece.isupper()):
        return piece
    between = pieces[at - 1] if at else ""
    if between[-1:].isdigit():
        return piece  # 3rd, 2ND
    if between.endswith(".") and len(piece) > 1 and piece.islower():
        return piece  # Sig.ra
    if between and between[-1] in _APOSTROPHES:
        before = where.lower(pieces[at - 2], where.tongue) if at > 1 else ""
        large = len(piece) > 1 and before in ELIDED and where.tongue not in _NOT_ELIDED
        return _large(piece, where) if large else where.lower(piece, where.tongue)
    if at + 2 < len(pieces) and pieces[at + 1] in _APOSTROPHES and not where.first:
        small = where.lower(piece, where.tongue)
        stays = piece.islower() or where.tongue in _SMALL_ELIDED
        if stays and small in ("d", "l"):
            return small
    hyphen = at + 2 < len(pieces) and pieces[at + 1] in _HYPHENS
    if piece.islower() and hyphen and clings(piece, first=at == 0):
        return piece
    return _large(piece, where)


def _large(piece: str, where: _Setting) -> str:
    """The first letter that has case large, the rest small."""
    if len(piece) == 1 and piece.isupper():
        return piece
    whole = where.lower(piece, where.tongue)
    # An ʻokina stands before the letter: ʻIolani.
    at = next((at for at, sign in enumerate(whole) if sign.title() != sign), len(whole))
    before, small = whole[:at], whole[at:]
    if where.tongue == "nl" and (digraph := _DIGRAPH.match(small)):
        return before + digraph[0].upper() + small[digraph.end() :]
    dotted = where.tongue in _DOTTED or piece[at : at + 1] == "İ"
    if dotted and small.startswith("i"):
        rest = small[1:].lstrip("\u0307") if where.tongue == "lt" else small[1:]
        return before + "İ" + rest
    mc = (_MC_ANYWHERE if where.tongue in _MC_TONGUES else _MC).match(small)
    if mc:
        return before + "Mc" + small[2:3].upper() + small[3:]
    rest = small[1:]
    if where.tongue == "lt" and small[:1] in ("i", "j", "į"):
        rest = rest.removeprefix("\u0307")
    # Of two letters in one sign only the first is large: ǅ.
    return before + small[:1].title() + rest

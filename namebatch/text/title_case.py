"""Names in capitals or small letters written as names: first letters large, the rest small.

What a person typed in mixed case is taken for what they meant (McNeil, DiCaprio, van der Aa) and
stays. Of a word in one case only the pieces between hyphens, points and apostrophes are written
anew. MCNEIL in a list in capitals becomes Mcneil: nothing tells it from Mcebisi.
"""

import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

Lower = Callable[[str, str], str]

# Words between a person's names that are not names themselves, from memory of the languages.
_PARTICLES: Final = frozenset(
    [
        "van",
        "von",
        "der",
        "den",
        "de",
        "del",
        "della",
        "dei",
        "degli",
        "di",
        "da",
        "do",
        "dos",
        "das",
        "du",
        "des",
        "la",
        "las",
        "los",
        "le",
        "ter",
        "ten",
        "te",
        "op",
        "in",
        "aan",
        "zu",
        "zum",
        "zur",
        "vom",
        "am",
        "im",
        "af",
        "av",
        "y",
        "e",
        "i",
        "bin",
        "ibn",
        "bint",
        "ben",
        "al",
        "el",
        "of",
        "the",
        "and",
        "und",
        "et",
        "og",
        "och",
        "'t",
        "'s",
    ]
)
# In capitals these are as likely names or initials as particles.
_DOUBTFUL_IN_CAPITALS: Final = frozenset(
    ["la", "le", "al", "el", "te", "am", "im", "in", "op", "y", "e", "i", "ben"]
)
_NO_PARTICLES: Final = frozenset({"vi"})
_NUMERALS: Final = frozenset(
    ["II", "III", "IV", "VI", "VII", "VIII", "IX", "XI", "XII", "XIII", "XIV", "XV", "XVI"]
)
_APOSTROPHES: Final = "'’‘"
# What stands before an apostrophe when a capital follows it: O'Neill, D'Angelo, Dell'Acqua.
_ELIDED: Final = frozenset(["o", "d", "l", "n", "m", "dell", "dall", "nell", "all", "degl", "sant"])
# Uzbek writes letters with an apostrophe: O'ktam.
_NOT_ELIDED: Final = frozenset({"uz"})
_SMALL_ELIDED: Final = frozenset({"fr", "ca", "oc", "pt"})
_INITIALS: Final = 2
_DOTTED: Final = frozenset({"tr", "az", "crh", "gag"})


@dataclass(frozen=True, slots=True)
class _Setting:
    """Where a word stands.

    Attributes:
        tongue: language, first part of the tag.
        lower: small letters by the language.
        first: it is the first word.
        last: no word follows.
        shouted: the whole text is in capitals.
    """

    tongue: str
    lower: Lower
    first: bool
    last: bool
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
    # Single letters are capitals anyway; they tell nothing.
    shouted = "".join(words[at] for at in filled if len(words[at]) > 1).isupper()
    for at in filled:
        where = _Setting(tongue, lower, at == filled[0], at == filled[-1], shouted)
        words[at] = _word(words[at], where)
    return unicodedata.normalize("NFC", " ".join(words))


def _word(word: str, where: _Setting) -> str:
    if not where.last and _is_particle(word, where):
        return where.lower(word, where.tongue)
    if not where.first and word.strip(".,") in _NUMERALS and where.tongue not in _NO_PARTICLES:
        return word
    # AJ, DJ among words in mixed case: typed like that on purpose.
    if where.first and not where.shouted and word.isupper() and len(word) <= _INITIALS:
        return word
    pieces = list(_pieces(word))
    return "".join(_piece(pieces, at, where) for at in range(len(pieces)))


def _is_particle(word: str, where: _Setting) -> bool:
    small = where.lower(word, where.tongue).replace("’", "'")
    if small not in _PARTICLES or where.tongue in _NO_PARTICLES:
        return False
    return word.islower() or (
        word.isupper() and not where.first and small not in _DOUBTFUL_IN_CAPITALS
    )


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
        large = len(piece) > 1 and before in _ELIDED and where.tongue not in _NOT_ELIDED
        return _large(piece, where) if large else where.lower(piece, where.tongue)
    if at + 2 < len(pieces) and pieces[at + 1] in _APOSTROPHES and not where.first:
        small = where.lower(piece, where.tongue)
        stays = piece.islower() or where.tongue in _SMALL_ELIDED
        if stays and small in ("d", "l"):
            return small
    if piece.islower() and at + 2 < len(pieces) and piece in _PARTICLES:
        return piece  # al-Rashid
    return _large(piece, where)


def _large(piece: str, where: _Setting) -> str:
    """The first letter that has case large, the rest small."""
    if len(piece) == 1 and piece.isupper():
        return piece
    whole = where.lower(piece, where.tongue)
    # An ʻokina stands before the letter: ʻIolani.
    at = next((at for at, sign in enumerate(whole) if sign.title() != sign), len(whole))
    before, small = whole[:at], whole[at:]
    if where.tongue == "nl" and small.startswith("ij"):
        return before + "IJ" + small[2:]
    dotted = where.tongue in _DOTTED or piece[at : at + 1] == "İ"
    if dotted and small.startswith("i"):
        return before + "İ" + small[1:]
    rest = small[1:]
    if where.tongue == "lt" and small[:1] in ("i", "j", "į"):
        rest = rest.removeprefix("\u0307")
    # Of two letters in one sign only the first is large: ǅ.
    return before + small[:1].title() + rest

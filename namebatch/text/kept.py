"""Which words of a name are never parted by the end of a line.

The lists are those of letter case (`particles`) and, below, words that have a capital and belong
to the word behind them all the same. From memory of the languages; common practice, no source.
"""

import re
import unicodedata
from collections.abc import Sequence
from typing import Final

from namebatch.text.particles import ELIDED, PARTICLES

HYPHENS: Final = "-\u2010\u2011"
_HYPHEN: Final = re.compile(f"[{HYPHENS}]")


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_SAINTS: Final = _set("st ste sta sto sv saint sainte sankt san santa santo são sao св")
_SONS: Final = _set("mac mc mag nic nig mhic ó ní uí ua o ap ab ferch verch fitz giolla ghiolla")
_ARTICLE_BEHIND: Final = _set("mac nic mhic mag ó")
_SERVANTS: Final = _set("abd abdul abdel abdal abdol abdoul abu abou umm oum")
_OTHERS: Final = _set(
    "d l dell dall nell dello delle degli dela delos delas aan uit bij vd binti binte ould aït "
    # Thai; Greek; Arabic, without its marks; Hebrew, without its points
    "ณ του της των ντε φον "
    "عبد ابو ابي ابا ام ابن بن ابنة بنت ال ولد بو بني "
    "בן בת אבו אל דה דל ון פון"
)
_KEPT: Final = PARTICLES | _SAINTS | _SONS | _SERVANTS | _OTHERS
_SHORT: Final = _set("d v z vd v.d t")  # d. Cruz, v. d. Beek: typed small
_FIRST_NAMES: Final = _set("ben")
_BEFORE_HYPHEN: Final = _KEPT | _set(
    "ar as ad at az an ash adh ath ud аль эль ар ас аш ат ад аз ан абд абу бен"
)
_SUFFIXES: Final = _set("jr sr jnr snr jun sen ii iii iv júnior filho neto sobrinho")
_NUMERALS: Final = _set("I V X VII VIII XII XIII XIV")
_AFTER: Final = _set(
    "oğlu oglu oghlu ogly qızı qizi kızı kyzy uly ұлы қызы оглы кызы улы "
    "uddin ullah al-din el-din ad-din ud-din al-deen el-deen ud-deen الدين الدین الله זאדה زاده"
)
_AFTER_HYPHEN: Final = _set("zade zadeh oglu oğlu oghlu qizi kizi kızı san sama kun chan ji зада")
_ORDINAL: Final = re.compile(r"\d+(st|nd|rd|th|e|er|º|ª|\.)")
_APOSTROPHES: Final = str.maketrans("’‘ʼ`´", "'''''")
_MARKED: Final = re.compile("[\u0590-\u06ff]")
_BRACKETS: Final = (("(", ")"), ("[", "]"), ("“", "”"), ("«", "»"), ("„", "“"))


def with_next(words: Sequence[str], at: int) -> bool:
    """True if a word belongs to the one behind it: ``van``, ``Mac``, ``St.``, ``d’``, ``عبد``.

    Args:
        words: of a text, as typed.
        at: which; not the last.
    """
    typed = words[at]
    word = plain(typed)
    if not any(map(str.isalnum, word)):
        return False
    if word.endswith("'"):
        return word[:-1] in ELIDED or word == "a'"
    if word.endswith("."):
        bare = word.rstrip(".")
        return bare in _SAINTS or (typed.islower() and bare in _SHORT)
    bare = word.rstrip(HYPHENS)
    if bare != word:
        return bare in _BEFORE_HYPHEN
    if word == "an":
        return at > 0 and plain(words[at - 1]) in _ARTICLE_BEHIND
    if word in _FIRST_NAMES and at == 0 and not typed.islower():
        return plain(words[1]) in _KEPT
    return _HYPHEN.split(word)[-1] in _KEPT  # Moss-Ó Ruari as well


def with_previous(words: Sequence[str], at: int) -> bool:
    """True if a word belongs to the one before it: ``Jr.``, ``III``, ``3rd``, ``oğlu``, ``الدين``.

    Args:
        words: of a text, as typed.
        at: which; not the first.
    """
    word = plain(words[at])
    if not any(map(str.isalnum, word)):
        return True
    if word.rstrip(".") in _SUFFIXES or word in _AFTER or _ORDINAL.fullmatch(word):
        return True
    return words[at].strip(",") in _NUMERALS and at == len(words) - 1


def hyphen_holds(before: str, after: str) -> bool:
    """True if pieces about a hyphen stay together: ``al-``, ``Saint-``, ``J.-L.``, ``-zade``."""
    first, last = plain(before), plain(after)
    alone = is_initial(before) or (is_initial(after) and last not in _KEPT)
    return alone or first in _BEFORE_HYPHEN or last in _AFTER_HYPHEN


def in_brackets(text: str) -> bool:
    """True if a text ends within brackets or quotation marks."""
    return any(text.count(left) > text.count(right) for left, right in _BRACKETS) or (
        text.count('"') % 2 == 1
    )


def is_initial(word: str) -> bool:
    """``J.`` or ``J``: one letter with its marks, perhaps a full stop."""
    base = [c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c)]
    return len([c for c in base if c.isalpha()]) == 1 and len(base) <= 2


def plain(word: str) -> str:
    """A word as the lists have it: small, straight apostrophes, without vowel signs and tatweel."""
    small = unicodedata.normalize("NFC", word).casefold().translate(_APOSTROPHES).strip(",;:")
    if not _MARKED.search(small):
        return small
    apart = unicodedata.normalize("NFD", small).replace("\u0640", "")
    return "".join(sign for sign in apart if not unicodedata.combining(sign))

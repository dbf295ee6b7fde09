"""The language that a text is most likely in, where nobody has said it."""

from collections import Counter
from collections.abc import Iterable, Mapping
from functools import lru_cache

import regex

from namebatch.text.runs import LIKELY_LANGUAGE

UNKNOWN = "und"
CHARACTER_SETS: Mapping[str, str] = {"ja": "shift_jis", "zh-Hans": "gb2312", "zh-Hant": "big5"}
"""Language → the national character set of its everyday Han characters (Python's codecs)."""

CLEAR = 0.9
"""Share of the texts that tell their language which a whole list goes by."""

_HAN = regex.compile(r"\p{Han}")
_KANA = regex.compile(r"[\p{Hiragana}\p{Katakana}]")
_HANGUL = regex.compile(r"\p{Hangul}")
_EAST = frozenset({"Hani", "Hira", "Kana", "Bopo", "Hang"})


def likely_language(script: str, text: str, said: str = "") -> str:
    """The likely language of a stretch of a text.

    Han characters are drawn differently in Chinese and in Japanese. Kana or Hangul beside them
    settle it; else it is taken for the language whose everyday characters they all are, if there
    is but one, as with most simplified names. Otherwise the face's own forms stand.

    Args:
        script: of the stretch, an ISO 15924 tag.
        text: the whole line.
        said: what the names are said to be in, a BCP 47 tag; Chinese, Japanese and Korean count
            for their own scripts alone.

    Returns:
        A BCP 47 tag, ``und`` if it cannot be told.
    """
    if said and (script in _EAST or said.split("-")[0].lower() not in ("zh", "ja", "ko")):
        return said
    if script == "Hani":
        return _of_han(text)
    return LIKELY_LANGUAGE.get(script, UNKNOWN)


def leaves_open(text: str) -> bool:
    """Whether a text has Han characters and does not tell how they are drawn."""
    return bool(_HAN.search(text)) and _of_han(text) == UNKNOWN


def list_language(texts: Iterable[str]) -> str:
    """How Han characters of a list are drawn where a text alone leaves it open.

    Returns:
        The language of at least `CLEAR` of the texts that tell theirs; empty if there is none.
    """
    found = Counter(_of_han(text) for text in texts if _HAN.search(text))
    del found[UNKNOWN]
    if not found:
        return ""
    tag, count = found.most_common(1)[0]
    return tag if count >= CLEAR * found.total() else ""


@lru_cache(maxsize=64)
def _of_han(text: str) -> str:
    if _KANA.search(text):
        return "ja"
    if _HANGUL.search(text):
        return "ko"
    characters = "".join(_HAN.findall(text))
    able = [tag for tag, codec in CHARACTER_SETS.items() if _encodes(characters, codec)]
    return able[0] if len(able) == 1 else UNKNOWN


def _encodes(text: str, codec: str) -> bool:
    try:
        text.encode(codec)
    except UnicodeEncodeError:
        return False
    return True

"""Characters that are not seen: kept where they carry meaning, dropped elsewhere and told.

Meaning has, by the Unicode Standard (chapter 23.2 on joiners and 23.4 on variation selectors,
UTS #51 on emoji, UAX #9 on directions):

- a zero-width joiner or non-joiner after a letter of a joining or conjunct script (Arabic,
  Devanagari, Sinhala, Malayalam …), and the joiner between two pictures of one emoji;
- a variation selector after a picture, an ideograph or a letter of the few other scripts with
  variants;
- the letters of a flag after the black flag;
- a direction mark where letters of both directions stand in one text.

The others (a byte order mark, soft hyphen, zero-width space, word joiner, …) come with text copied
from web pages and address books. What overrides the direction is never dropped: it changes what
was seen; `namebatch.names.characters` holds it.
"""

import re
import unicodedata
from typing import Final

from fontTools import unicodedata as script_data

_JOINERS: Final = "\u200c\u200d"
_DIRECTIONS: Final = "\u061c\u200e\u200f\u202a\u202b\u202c\u2066\u2067\u2068\u2069"
_PICTURE_SELECTORS: Final = "\ufe0e\ufe0f"
_KEYCAP: Final = "\u20e3"
_BLACK_FLAG: Final = "\U0001f3f4"
_CLASS: Final = (
    f"[{_JOINERS}{_DIRECTIONS}\u00ad\u034f\u180b-\u180f\u200b\u2060-\u2064\u206a-\u206f"
    "\ufe00-\ufe0f\ufeff\ufff9-\ufffb\U000e0001\U000e0020-\U000e007f\U000e0100-\U000e01ef]"
)
_UNSEEN: Final = re.compile(_CLASS)
_UNSEEN_RUN: Final = re.compile(f"{_CLASS}*")
_JOINING: Final = (
    "Arab Syrc Mong Nkoo Mand Mani Phag Adlm Rohg Sogd Deva Beng Guru Gujr Orya Taml Telu Knda "
    "Mlym Sinh Khmr Mymr Tibt Laoo Java Bali Sund Cakm Newa Tirh Gran Brah Mtei Sylo"
)
# Scripts with standardised variants besides emoji (StandardizedVariants.txt).
_VARIANTS: Final = frozenset({"Hani", "Mymr", "Phag", "Hira", "Kana"})


def without_unseen(text: str) -> tuple[str, tuple[str, ...]]:
    """A text without unseen characters that mean nothing where they stand.

    Returns:
        The text, and what was removed in words; doing it again changes nothing.
    """
    if not _UNSEEN.search(text):
        return text, ()
    both = _both_directions(_UNSEEN.sub("", text))
    kept: list[str] = []
    dropped: dict[str, None] = {}
    for at, character in enumerate(text):
        if not _UNSEEN.match(character) or _means(character, kept, _after(text, at), both):
            kept.append(character)
        else:
            dropped[_called(character)] = None
    return "".join(kept), tuple(f"{name} (not seen) removed" for name in dropped)


def _called(character: str) -> str:
    name = unicodedata.name(character, "").lower() or "unseen mark"
    if character == "\ufeff":
        name = "byte order mark"
    return f"{name} U+{ord(character):04X}"


def _both_directions(text: str) -> bool:
    classes = {unicodedata.bidirectional(character) for character in text}
    return not classes.isdisjoint(("R", "AL")) and not classes.isdisjoint(("L", "EN", "AN"))


def _after(text: str, at: int) -> str:
    """The next character that is seen; empty at the end."""
    run = _UNSEEN_RUN.match(text, at + 1)
    end = run.end() if run else at + 1
    return text[end : end + 1]


def _means(character: str, before: list[str], after: str, both: bool) -> bool:
    """True if an unseen character has a meaning after what was kept and before what is seen."""
    if character in _DIRECTIONS:
        return both
    last = before[-1] if before else " "
    if character in _JOINERS:
        return _joins(character, last, before, after)
    if character in _PICTURE_SELECTORS:
        return after == _KEYCAP or unicodedata.category(last) in ("So", "Sm", "Sk", "Po", "Pd")
    if "\u180b" <= character <= "\u180f":
        return _script(before) == "Mong"
    if "\ufe00" <= character <= "\ufe0d" or character >= "\U000e0100":
        return unicodedata.category(last) == "Lo" and script_data.script(last) in _VARIANTS
    if "\U000e0020" <= character <= "\U000e007f":
        flag = "".join(before).rstrip("".join(map(chr, range(0xE0020, 0xE007F))))
        return flag.endswith(_BLACK_FLAG)
    if character == "\u034f":
        return unicodedata.category(after or " ").startswith("M") and last != " "
    return False


def _joins(character: str, last: str, before: list[str], after: str) -> bool:
    if last in _JOINERS:
        return False
    if _script(before) in _JOINING:
        return True
    if character == "\u200d" and _is_picture(before) and after:
        return unicodedata.category(after) in ("So", "Sm")
    # A joiner at the start of a word shows a letter in its middle or final form.
    return bool(after) and last == " " and script_data.script(after) == "Arab"


def _script(before: list[str]) -> str:
    """Script of the last character that has one; marks take that of their letter."""
    for character in reversed(before[-8:]):
        script = str(script_data.script(character))
        if script != "Zinh":
            return script
    return "Zyyy"


def _is_picture(before: list[str]) -> bool:
    last = before[-1] if before else " "
    # Skin tones (U+1F3FB to U+1F3FF) are modifier symbols, Sk.
    return last == "\ufe0f" or unicodedata.category(last) in ("So", "Sk")

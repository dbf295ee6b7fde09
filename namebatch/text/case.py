"""Capital and small letters by the rules of languages: what ``case`` of a text box does.

Python's own mappings are those of Unicode's UnicodeData.txt and the unconditional part of
SpecialCasing.txt, final sigma among them. What depends on the language is added here:

- Turkish, Azeri and their kin: i ↔ İ and ı ↔ I (SpecialCasing.txt; Crimean Tatar and Gagauz
  from memory).
- Lithuanian: a dot above that stands only under another accent goes in capitals and comes back
  in small letters (SpecialCasing.txt).
- Greek letters, in any language: capitals lose accents and breathings, keep the dialytika, get one
  where the lost accent parted two vowels (ρολόι, ΡΟΛΟΪ), and a lone ή keeps its accent (the
  rule of ICU's upper-casing for "el").
- Armenian և: ԵՎ, in Western Armenian (``hyw``) ԵՒ (ICU likewise).
- Irish: letters prefixed to a capital stay small (hUiginn, hUIGINN; from memory).
- German ß: SS. ẞ is as good in German since 2017 and keeps Weiß apart from Weiss, but many faces
  lack it and the name would be held or set in another face; whoever wants it types it, and it
  stays.
- İ becomes i in every language: the i with a second dot that SpecialCasing.txt gives where the
  language is unknown is in no name.

Scripts without case come back as they are. Georgian has capitals (Mtavruli) for whole words only:
``capitals`` uses them, ``title`` does not.
"""

import re
import unicodedata
from typing import Final

from namebatch.template.textbox import Case
from namebatch.text.title_case import titled

_DOTLESS: Final = frozenset({"tr", "az", "crh", "gag"})
# Letters alone, not the base of an accented one: î and Î keep to each other in Turkish too.
_LONE_SMALL_I: Final = re.compile("i(?![\u0300-\u036f])")
_LONE_CAPITAL_I: Final = re.compile("I(?![\u0300-\u036f])")
_EXTRA_DOT: Final = re.compile("([ij]\u0328?)\u0307")
_WANTS_DOT: Final = re.compile("([IJ]\u0328?)(?=[\u0300\u0301\u0303])")
_GREEK: Final = re.compile("(?:[\u0370-\u03ff\u1f00-\u1fff][\u0300-\u036f]*)+")
_GREEK_LETTER: Final = re.compile("([\u0370-\u03ff\u1f00-\u1fff])([\u0300-\u036f]*)")
_ACCENTS: Final = frozenset("\u0300\u0301\u0342")
_BREATHINGS: Final = frozenset("\u0313\u0314")
_DIALYTIKA: Final = "\u0308"
_IOTA_BELOW: Final = "\u0345"
# Macron and breve mark length and stay.
_LOST: Final = _ACCENTS | _BREATHINGS | {_IOTA_BELOW}
_VOWELS: Final = "αεηιουω"
_IRISH_PREFIX: Final = re.compile(
    r"(?<!\w)([hnt](?=[AEIOU])|m(?=B)|g(?=C)|n(?=[DG])|bh(?=F)|b(?=P)|d(?=T)|t(?=S))"
)


def recased(text: str, how: Case, language: str = "") -> str:
    """A text in the letter case that a text box asks for.

    Args:
        text: one name or line.
        how: ``as-typed``, ``capitals``, ``small``, or ``title``: names from lists in capitals or
            small letters written as names; words in mixed case stay as typed.
        language: BCP 47 tag; empty when unknown.

    Returns:
        The text in Unicode Normalization Form C; ``as-typed`` gives it back untouched. Doing
        the same again changes nothing.
    """
    if how == "as-typed":
        return text
    tongue = language.split("-")[0].lower()
    if how == "capitals":
        return in_capitals(text, tongue)
    if how == "small":
        return in_small_letters(text, tongue)
    return titled(text, tongue, in_small_letters)


def in_capitals(text: str, tongue: str = "") -> str:
    """A text in capitals.

    Args:
        text: in any normal form.
        tongue: first part of a BCP 47 tag, small letters; empty when unknown.
    """
    apart = unicodedata.normalize("NFD", text)
    if tongue in _DOTLESS:
        apart = _LONE_SMALL_I.sub("I\u0307", apart)
    if tongue == "lt":
        apart = _EXTRA_DOT.sub(r"\1", apart)
    if tongue != "hyw":
        apart = apart.replace("և", "ԵՎ")
    # Every second piece is a prefix that stays small.
    pieces = _IRISH_PREFIX.split(apart) if tongue == "ga" else [apart]
    pieces[::2] = [_GREEK.sub(_greek_capitals, piece).upper() for piece in pieces[::2]]
    return unicodedata.normalize("NFC", "".join(pieces))


def in_small_letters(text: str, tongue: str = "") -> str:
    """A text in small letters; arguments as for `in_capitals`."""
    apart = unicodedata.normalize("NFD", text)
    if tongue == "lt":
        apart = _WANTS_DOT.sub("\\1\u0307", apart)
    if tongue != "lt":
        apart = apart.replace("I\u0307", "i")
    if tongue in _DOTLESS:
        apart = _LONE_CAPITAL_I.sub("ı", apart)
    return unicodedata.normalize("NFC", apart.lower())


def _greek_capitals(run: re.Match[str]) -> str:
    """Greek letters in capitals; everything in and out is in Normalization Form D."""
    whole = run[0]
    if whole in ("η\u0301", "Η\u0301"):
        return "Η\u0301"
    out: list[str] = []
    parted = False
    for letter, marks in _GREEK_LETTER.findall(whole):
        kept = "".join(mark for mark in marks if mark not in _LOST)
        if parted and letter in "ιυΙΥ" and _DIALYTIKA not in kept:
            kept = _DIALYTIKA + kept
        accented = any(mark in _ACCENTS for mark in marks)
        parted = accented and _DIALYTIKA not in kept and letter.lower() in _VOWELS
        out.append(letter.upper() + kept + "Ι" * marks.count(_IOTA_BELOW))
    return "".join(out)

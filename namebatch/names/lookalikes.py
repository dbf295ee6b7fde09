"""Letters of another script among those that they look like: a Cyrillic а in a Latin name.

The print looks right and is not: the letter is set apart from its neighbours, perhaps in another
face, and nobody finds the name in a list. So it is a warning; nothing is changed, for only the
person who wrote the list knows which script was meant.
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from typing import Final

from fontTools import unicodedata as script_data

from namebatch.finding import Finding, warn
from namebatch.names.characters import code_of, shown

# Pairs of UTS #39's confusables.txt whose shapes are the same or nearly so in upright faces: the
# letter, then the Latin (or, without one, Greek) letter that it looks like.
_PAIRS: Final = {
    "Cyrl": "аa еe оo рp сc уy хx іi јj ѕs һh ԁd ԛq ԝw үy ѵv гr "
    "АA ВB ЕE КK МM НH ОO РP СC ТT ХX ІI ЈJ ЅS ԌG ԜW ҮY УY ӀI ЗƷ ГΓ ПΠ ФΦ",
    "Grek": "αa εɛ ιi νv οo ρp υu γy σo ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX ΓΓ ΠΠ ΦΦ",
    "Armn": "օo ոn սu հh ցg զq ՕO ՍU ՏS",
}
_LOOKS: Final = {pair[0]: pair[1] for pairs in _PAIRS.values() for pair in pairs.split()}
_LOOKS_IN: Final = {
    script: frozenset(pair[1] for pair in pairs.split()) for script, pairs in _PAIRS.items()
}
_SCRIPTS: Final = {"Latn": "Latin", "Cyrl": "Cyrillic", "Grek": "Greek", "Armn": "Armenian"}
_ORDINALS: Final = (
    *("first", "second", "third", "fourth", "fifth", "sixth"),
    *("seventh", "eighth", "ninth", "tenth"),
)
_WORD: Final = re.compile(r"[^\W\d_](?:[^\W\d_]|[\u0300-\u036f])*")
_NUMERAL: Final = re.compile("[IVX]+")
# Between letters; a nought also at an end of a word. A one there may be a number that is wanted.
_DIGIT: Final = re.compile(
    r"(?<=[^\W\d_])[01](?=[^\W\d_])|(?<!\w)0(?=[^\W\d_]{2})|(?<=[^\W\d_]{2})0(?!\w)"
)
_LETTER: Final = re.compile(r"(?<=\d)[lIOo](?=\d)")
# Compatibility decompositions (UnicodeData.txt) that are letters in disguise.
_STYLED: Final = ("<font>", "<circle>", "<square>", "<wide>")
_SHAPED: Final = ("<initial>", "<medial>", "<final>", "<isolated>")
_MOST_SHOWN: Final = 3


def check_lookalikes(text: str, where: str) -> Iterator[Finding]:
    """Warnings for words of two scripts, and for letters in disguise.

    Args:
        text: tidied.
        where: line and column, the beginning of every message.
    """
    if text.isascii():
        return
    # Arabic and Chinese texts go out here: nothing in them looks like anything in Latin.
    words = [(word[0], _letters_by_script(word[0])) for word in _WORD.finditer(text)]
    for word, scripts in words:
        if len(scripts) > 1:
            yield _mixed(word, scripts, where)
    yield from _whole_words(words, text, where)
    yield from _disguised(text, where)


def check_digits(text: str, where: str) -> Iterator[Finding]:
    """A warning for digits among letters, or the other way round, that look like each other."""
    letter = _LETTER.search(text)
    if letter:
        looks = "nought" if letter[0] in "Oo" else "one"
        yield warn(
            "letter-in-number",
            f'{where}: "{shown(text)}" has the letter {letter[0]} between digits, which looks like '
            f"a {looks}. Retype it if a digit was meant.",
        )
        return
    found = _DIGIT.search(text)
    if found:
        looks = "the letter O" if found[0] == "0" else "the letter l or I"
        yield warn(
            "digit-in-name",
            f'{where}: "{shown(text)}" has the digit {found[0]} among letters, which looks like '
            f"{looks}. Retype it if a letter was meant.",
        )


def alphabet(text: str) -> str:
    """The one alphabet of a text, of the four that have letters in common.

    Returns:
        A script's code (``Latn``); empty where there are letters of several, of another, or none.
    """
    if text.isascii():
        return "Latn" if any(map(str.isalpha, text)) else ""
    scripts = {str(script_data.script(sign)) for sign in text if sign.isalpha()}
    return scripts.pop() if len(scripts) == 1 and scripts <= _SCRIPTS.keys() else ""


def alphabet_name(script: str) -> str:
    """What people call one of the four alphabets."""
    return _SCRIPTS[script]


def looks_like(text: str, script: str) -> bool:
    """True if every letter of a text could be taken for one of another alphabet."""
    return all(_has_look(script, _look(sign)) for sign in text if sign.isalpha())


def _letters_by_script(word: str) -> Counter[str]:
    scripts = (str(script_data.script(sign)) for sign in word)
    return Counter(script for script in scripts if script in _SCRIPTS)


def _look(letter: str) -> str:
    """The shape of a letter without its marks, named by a Latin letter where there is one."""
    base = unicodedata.normalize("NFD", letter)[0]
    return _LOOKS.get(base, base)


def _has_look(script: str, look: str) -> bool:
    if script == "Latn":
        return look.isascii() or look in "Ʒɛ"
    return look in _LOOKS_IN[script]


def _strays(word: str, script: str) -> list[int]:
    """Places of the letters that are not of the script but of another of the four."""
    return [
        at
        for at, sign in enumerate(word)
        if str(script_data.script(sign)) in _SCRIPTS and script_data.script(sign) != script
    ]


def _mixed(word: str, scripts: Counter[str], where: str) -> Finding:
    for script, _ in scripts.most_common():
        strays = _strays(word, script)
        if all(_has_look(script, _look(word[at])) for at in strays):
            which = ", ".join(_stray(word, at, script) for at in strays[:_MOST_SHOWN])
            more = f" and {len(strays) - _MOST_SHOWN} more" if len(strays) > _MOST_SHOWN else ""
            return warn(
                "look-alike-letter",
                f'{where}: in "{shown(word)}" {which}{more}; the other letters are '
                f"{_SCRIPTS[script]}. Printed, it may be set in another face. Retype the word in "
                "one alphabet if it is a slip.",
            )
    both = " and ".join(_SCRIPTS[script] for script in scripts)
    return warn(
        "scripts-mixed",
        f'{where}: "{shown(word)}" has {both} letters in one word. Retype it in one alphabet, '
        "unless that is what is wanted.",
    )


def _stray(word: str, at: int, script: str) -> str:
    order = _ORDINALS[at] if at < len(_ORDINALS) else f"{at + 1}th"
    letter = word[at]
    own = _SCRIPTS[str(script_data.script(letter))]
    return f"the {order} letter is a {own} {letter} ({code_of(letter)})"


def _whole_words(words: list[tuple[str, Counter[str]]], text: str, where: str) -> Iterator[Finding]:
    """A whole word that only looks like the script of the words beside it."""
    total = sum((scripts for _, scripts in words), Counter[str]())
    if len(total) < 2:
        return
    main = total.most_common(1)[0][0]
    for word, scripts in words:
        (own, _), *others = scripts.most_common() or [("", 0)]
        if others or own in ("", main) or _NUMERAL.fullmatch(word):
            continue
        # Latin words in other alphabets are common, and short ones look like anything: Bo, Ace.
        if main != "Latn" and len(word) > 1:
            continue
        if all(_has_look(main, _look(letter)) for letter in word):
            yield warn(
                "look-alike-letter",
                f'{where}: in "{shown(text)}" every letter of "{shown(word)}" is '
                f"{_SCRIPTS[own]} and looks {_SCRIPTS[main]}, as the other words are. Retype it "
                "if it is a slip.",
            )


def _disguised(text: str, where: str) -> Iterator[Finding]:
    """Letters made for formulas or old typefaces, which look like plain ones."""
    for sign in text:
        kind = unicodedata.decomposition(sign).partition(" ")[0]
        ligature = "\ufb00" <= sign <= "\ufb17"
        # Words that are one sign (U+FDF0 to U+FDFD) are written like that.
        shaped = kind in _SHAPED and not "\ufdf0" <= sign <= "\ufdfd"
        if not (ligature or shaped or (kind in _STYLED and (sign.islower() or sign.isupper()))):
            continue
        plain = unicodedata.normalize("NFKC", text)
        yield warn(
            "letter-in-disguise",
            f'{where}: "{shown(text)}" has {sign} ({code_of(sign)}), a sign that stands for plain '
            f'letters. Few faces have it: retype it, "{shown(plain)}".',
        )
        return

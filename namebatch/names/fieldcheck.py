"""Checks of a text that is to stand on a piece."""

import re
import unicodedata
from collections.abc import Iterator
from typing import Final

from fontTools import unicodedata as script_data

from namebatch.finding import Finding, hold, note, warn
from namebatch.names import limits
from namebatch.names.characters import code_of, described, remedy_for, shown, unusable_in
from namebatch.names.leftovers import check_leftovers
from namebatch.names.lookalikes import check_digits, check_lookalikes
from namebatch.names.misread import check_misread
from namebatch.names.place import kind
from namebatch.names.placeholders import is_lone_sign, is_placeholder
from namebatch.names.remarks import check_name

# "=" and anything; or "+", "-", "@" and a call, a pipe, a cell or sheet reference, or sums.
# A dash, a number with a plus, or an @ before a nickname are fine.
_FORMULA: Final = re.compile(
    r"=\s*\S|[+\-@]\s*(?:[A-Za-z_][\w.]*\s*[(|!]|\$?[A-Za-z]{1,3}\$?\d+\b|\d+\s*[-+*/^]\s*\d)"
)
# As `held.csv` shows signs that nobody sees.
_CODE: Final = re.compile(r"<U\+[0-9A-F]{4,6}>")
_MOST_SHOWN: Final = 3
_MOST_MARKS: Final = 4


def check_field(
    text: str, where: str, *, optional: bool, name: bool = False, alone: bool = False
) -> Iterator[Finding]:
    """What is wrong or doubtful about a used text.

    Args:
        text: tidied.
        where: line and column, the beginning of every message.
        optional: an empty text is fine.
        name: it is a person's name.
        alone: the list has no other column.

    Yields:
        Holds for an empty, over-long or unusable text, for a placeholder, and for marks without a
        letter or too many on one; in an over-long one no more is looked for.
        Warnings for a sign alone, for letters that look like those of
        another script, for what another program left in it, for what looks like a spreadsheet
        formula or like two columns in one, and for a name that hardly is one.
    """
    if not text:
        if not optional:
            remedy = f"Fill it in, or delete the {kind(where)}"
            yield hold("empty-field", f"{where} is empty. {remedy}. Held.")
        return
    if is_placeholder(text):
        instead = "leave the cell empty" if optional else f"delete the {kind(where)}"
        yield hold(
            "placeholder",
            f'{where}: "{shown(text)}" says that something is missing, and is not made. Put the '
            f"text there, or {instead}. Held.",
        )
        return
    if is_lone_sign(text):
        yield warn(
            "lone-sign",
            f'{where}: "{shown(text)}" is a sign alone; it is made as it stands. If it stands for '
            f"something missing, put the text there, or delete the {kind(where)}.",
        )
        return
    if len(text) > limits.FIELD_CHARACTERS:
        yield hold(
            "text-too-long",
            f'{where}: "{shown(text)}" has {len(text):,} characters; a piece carries at most '
            f"{limits.FIELD_CHARACTERS}. Shorten it. Held.",
        )
    code = _CODE.search(text)
    if code:
        yield hold(
            "unusable-character",
            f'{where}: "{shown(text)}" has {code[0]}, which stands for a sign that is not seen. '
            "Delete it, or retype the text. Held.",
        )
    unusable = unusable_in(text)
    for character in unusable[:_MOST_SHOWN]:
        yield hold(
            "unusable-character",
            f'{where}: "{shown(text)}" has {described(character)}. {remedy_for(character)}. Held.',
        )
    if len(unusable) > _MOST_SHOWN:
        more = len(unusable) - _MOST_SHOWN
        yield hold("unusable-character", f"{where}: {more} more such characters. Held.")
    if len(text) > limits.FIELD_CHARACTERS:
        return  # some of the patterns below take the square of a text's length
    yield from _lone_mark(text, where)
    yield from _flood(text, where)
    yield from check_misread(text, where)
    yield from check_lookalikes(text, where)
    yield from check_leftovers(text, where, name=name)
    formula = _FORMULA.match(text) is not None
    yield from _plainly(text, where, formula)
    if name and not formula:
        yield from check_digits(text, where)
        yield from check_name(text, where, alone=alone)


def _plainly(text: str, where: str, formula: bool) -> Iterator[Finding]:
    """Signs that say something to programs and nothing on a piece."""
    if formula:
        yield warn(
            "formula-like",
            f'{where}: "{shown(text)}" looks like a spreadsheet formula; it is made as the plain '
            "text it is. Check the list if a name was meant.",
        )
    elif "|" in text:
        yield warn(
            "bar-in-text",
            f'{where}: "{shown(text)}" has "|" in it, and it is made as part of the text. If it '
            f"parts two columns, give the list a header {kind(where)} with it, or use commas.",
        )


def check_letters(text: str, where: str, page: str) -> Iterator[Finding]:
    """A note on a used text whose letters may be others than those that were read.

    The list has one warning for all of them; the note leads to the pieces that are to be looked at.

    Args:
        text: tidied.
        where: line and column, the beginning of the message.
        page: the code page that was guessed; empty when the letters are certain.
    """
    letters = tuple(dict.fromkeys(sign for sign in text if not sign.isascii()))
    if not page or not letters:
        return
    some = ", ".join(f"{shown(sign)} ({code_of(sign)})" for sign in letters[:_MOST_SHOWN])
    more = len(letters) - _MOST_SHOWN
    some += f" and {more} more" if more > 0 else ""
    yield note(
        "letters-guessed",
        f'{where}: "{shown(text)}" has {some}, read as {page}, which was a guess. If the letters '
        'are wrong, save the list as "CSV UTF-8" and give that.',
    )


def _flood(text: str, where: str) -> Iterator[Finding]:
    """More marks on one letter than any spelling has: a joke, or damage.

    Only marks that any script may use are counted (script Zinh): Vietnamese and phonetic spellings
    have two or three, and scripts with more bring their own.
    """
    if text.isascii():
        return
    marks = 0
    for sign in unicodedata.normalize("NFD", text):
        own = unicodedata.category(sign) in ("Mn", "Me") and script_data.script(sign) == "Zinh"
        marks = marks + 1 if own else 0
        if marks > _MOST_MARKS:
            yield hold(
                "marks-flood",
                f'{where}: "{shown(text)}" has a letter with more than {_MOST_MARKS} marks on it, '
                "which would run over everything round it. Retype the text. Held.",
            )
            return


def _lone_mark(text: str, where: str) -> Iterator[Finding]:
    """A combining mark at the start or behind a space (general category M) sits on nothing."""
    before = " "
    for sign in text:
        if before == " " and unicodedata.category(sign).startswith("M"):
            yield hold(
                "mark-without-letter",
                f'{where}: "{shown(text)}" has {described(sign)} with no letter before it to sit '
                "on. Put the letter before it, or delete the mark. Held.",
            )
            return
        before = sign

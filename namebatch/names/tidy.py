"""Tidying a cell: what does not show on a piece or was typed for want of a key; and saying so.

The rule, whole: unseen characters that mean nothing where they stand go (`unseen`), every run of
white space becomes one space, white space at the ends goes, the text is put into Unicode
Normalization Form C (UAX #15), and accents that stand for apostrophes become apostrophes
(`signs`). White space is what Unicode files under space separators (Zs), line and paragraph
separators, tab, line feed, carriage return.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from namebatch.names import limits
from namebatch.names.signs import with_usual_signs
from namebatch.names.unseen import without_unseen

_SPACES: Final = (
    " \t\n\r\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a"
    "\u2028\u2029\u202f\u205f\u3000"
)
_RUN: Final = re.compile(f"[{_SPACES}]+")
_ODD: Final = re.compile("  |`")
_SURROGATE: Final = re.compile("[\ud800-\udfff]")
_SHIELDED: Final = re.compile(r"'+[=+\-@]")
_BREAKS: Final = frozenset("\n\r\u2028\u2029")
_NUMBERS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@dataclass(frozen=True, slots=True)
class Tidied:
    """A tidied text.

    Attributes:
        text: the result; tidying it again changes nothing.
        changes: what was done, in words; empty if the text came as it is.
    """

    text: str
    changes: tuple[str, ...] = ()


def tidy(text: str) -> Tidied:
    """Tidy one cell by the rule above. Halves of surrogate pairs become U+FFFD."""
    # Nearly every cell of a real list goes out here.
    if text.isascii() and text.isprintable() and not _ODD.search(text) and text == text.strip():
        return Tidied(text)
    whole, lost = _without_surrogates(text)
    seen, unseen = without_unseen(whole)
    spaced = _RUN.sub(" ", seen).strip(" ")
    composed = unicodedata.normalize("NFC", spaced)
    usual, signs = with_usual_signs(composed)
    changes = (*_space_changes(seen), *_form_changes(spaced, composed))
    return Tidied(usual, (*lost, *unseen, *changes, *signs))


def tidy_start(text: str) -> str:
    """The beginning of a cell, tidied: enough to tell headers, blank cells and long ones.

    Looking for the header line may not cost more for one endless cell than for a long one;
    one character past the longest cell is kept, so that it is seen to be too long.
    """
    if len(text) > limits.CELL_CHARACTERS:
        return tidy(bare(text)[: limits.CELL_CHARACTERS + 1]).text
    return unshielded(tidy(text).text)


def is_shielded(text: str) -> bool:
    """True if an apostrophe stands before what a spreadsheet would take for a formula.

    ``held.csv`` writes such cells, and so do careful people; a list read back has them. A text
    that had an apostrophe there itself comes with two.
    """
    return _SHIELDED.match(text) is not None


def unshielded(text: str) -> str:
    """A text without the apostrophe that shields it, if it has one."""
    return text[1:] if is_shielded(text) else text


def bare(text: str) -> str:
    """A text without white space at its ends."""
    return text.strip(_SPACES)


def _without_surrogates(text: str) -> tuple[str, tuple[str, ...]]:
    """Surrogate pairs joined, single halves replaced: neither can be written to a file."""
    if not _SURROGATE.search(text):
        return text, ()
    whole = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    codes = dict.fromkeys(
        f"U+{ord(half):04X}"
        for half in _SURROGATE.findall(text)
        if half not in whole and "\ufffd" in whole
    )
    if not codes:
        return whole, ("halves of a sign joined",)
    return whole, (f"{', '.join(codes)} (half of a sign) put as U+FFFD",)


def _space_changes(text: str) -> Iterator[str]:
    """Say what happened to white space; each kind once, in a fixed order."""
    first = _RUN.match(text)
    if first and first.end() == len(text):
        yield f"{_kind(text)} only, taken as empty"
        return
    if first:
        yield f"{_kind(first[0])} at the start removed"
    inner = [run[0] for run in _RUN.finditer(text) if run.start() > 0 and run.end() < len(text)]
    yield from dict.fromkeys(f"{_kind(run)} made one space" for run in inner if run != " ")
    last = _RUN.search(text, _last_visible(text))
    if last:
        yield f"{_kind(last[0])} at the end removed"


def _last_visible(text: str) -> int:
    return len(text.rstrip(_SPACES))


def _kind(run: str) -> str:
    """Words for a run of white space: ``two spaces``, ``line break``, ``no-break space``."""
    if set(run) == {" "}:
        count = _NUMBERS[len(run)] if len(run) < len(_NUMBERS) else str(len(run))
        return "space" if len(run) == 1 else f"{count} spaces"
    kinds = dict.fromkeys(_space_name(character) for character in run if character != " ")
    return " and ".join(kinds)


def _space_name(character: str) -> str:
    if character in _BREAKS:
        return "line break"
    if character == "\t":
        return "tab"
    return unicodedata.name(character).lower()


def _form_changes(before: str, after: str) -> Iterator[str]:
    if before == after:
        return
    if len(after) < len(before):
        yield "accents joined to their letters"
    else:
        yield "letters put into their usual form"

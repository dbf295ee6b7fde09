"""Which delimiter a text list uses."""

import re
from collections.abc import Callable
from itertools import islice
from typing import Final

from namebatch.names.records import split_records
from namebatch.names.tidy import tidy_start

NAMES: Final = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
"""Delimiters that are looked for, and what people call them."""

_USUAL: Final = (",", ";", "\t")

_SEP: Final = re.compile(r'"?sep=([^\w"\r\n])"?\1*[ \t]*(?:\r\n|\r|\n|$)', re.IGNORECASE)
_SAMPLE_RECORDS: Final = 50


def announced(text: str) -> tuple[str, int] | None:
    """The delimiter of a first line ``sep=;`` and where the next line starts, or None."""
    found = _SEP.match(text)
    return (found[1], found.end()) if found else None


def find_delimiter(text: str, known: Callable[[str], bool], preferred: str = ",") -> str:
    """The likeliest delimiter of a text.

    What counts is, in this order: headers that the job knows, then how many of the first
    lines have as many cells as the first, then the number of cells; `preferred` wins ties.
    A bar stands in names and remarks too: it must make more headers known than any other.

    Args:
        text: the whole list.
        known: tells whether a cell is a header that the job can use.
        preferred: taken when nothing speaks for another one.
    """
    order = sorted(_USUAL, key=lambda delimiter: delimiter != preferred)
    scores = {delimiter: _score(text, delimiter, known) for delimiter in order}
    best = max(order, key=lambda delimiter: scores[delimiter])
    bars = _score(text, "|", known)
    return "|" if bars[0] > scores[best][0] and bars[2] > 1 else best


def delimiter_under_headers(text: str, known: Callable[[str], bool]) -> str:
    """The delimiter of pasted lines whose first is plainly one of headers; empty if it is not.

    Its first cell, or two of its cells, must be headers that the job knows: one word further on
    may be a name (``Teal, First``).

    Args:
        text: what was pasted.
        known: tells whether a cell is a header that the job can use.
    """
    delimiter = find_delimiter(text, known)
    for record in split_records(text, delimiter):
        cells = [tidy_start(cell) for cell in record.cells]
        if any(cells):
            told = known(cells[0]) or sum(map(known, cells)) > 1
            return delimiter if told and len(cells) > 1 else ""
    return ""


def _score(text: str, delimiter: str, known: Callable[[str], bool]) -> tuple[int, float, int]:
    sample = list(islice(split_records(text, delimiter), _SAMPLE_RECORDS))
    filled = [record for record in sample if any(tidy_start(cell) for cell in record.cells)]
    if not filled:
        return 0, 0.0, 0
    first = filled[0].cells
    matches = sum(known(tidy_start(cell)) for cell in first)
    if len(first) == 1:
        return matches, 0.0, 1
    alike = sum(len(record.cells) == len(first) for record in filled)
    return matches, alike / len(filled), len(first)

"""Splitting delimited text into records: RFC 4180, with what people write by hand.

The standard library's reader joins the rest of the file into one cell when a quote is never
closed, and its limit on a cell's length is a global. This one gives up only the line at
fault, and the next line is read as if nothing had happened: no line of a list is ever lost.
"""

import re
from collections.abc import Iterator
from typing import Final

from namebatch.finding import Finding, hold
from namebatch.names import limits
from namebatch.names.table import Record

_LINE: Final = re.compile(r"[^\r\n]*")
_BREAK: Final = re.compile(r"\r\n|\r|\n")
_EMPTY: Final = re.compile(r"[\r\n]+")
_QUOTED: Final = re.compile(r'"([^"]*+(?:""[^"]*+)*+)"')


def split_records(
    text: str, delimiter: str, *, line: int = 1, start: int = 0, quotes: bool = True
) -> Iterator[Record]:
    """Split text into records, blank ones included; a line break at the end adds none.

    Empty lines that follow one another are one record, see `Record.lines`.

    Args:
        text: the whole file.
        delimiter: one character.
        line: number of the line at `start`.
        start: where in the text to begin.
        quotes: False takes quotation marks as they stand.

    Yields:
        Records in order; one with a finding when its quotes do not close.
    """
    at = start
    while at < len(text):
        empty = _EMPTY.match(text, at)
        if empty is not None:
            count = _breaks_in(text, at, empty.end())
            yield Record(line, ("",), lines=count)
            at, line = empty.end(), line + count
            continue
        record, end, breaks = _one_record(text, at, delimiter, line, quotes)
        yield record
        after = _BREAK.match(text, end)
        at = after.end() if after else len(text)
        line += breaks + 1


def _one_record(
    text: str, at: int, delimiter: str, line: int, quotes: bool
) -> tuple[Record, int, int]:
    """The record at a place, where it ends, and how many line breaks are inside it."""
    end = _end_of_line(text, at)
    if not quotes or text.find('"', at, end) < 0:
        return Record(line, _plain_cells(text[at:end], delimiter)), end, 0
    cells: list[str] = []
    here = at
    while True:
        cell, after, fault = _one_cell(text, here, delimiter)
        if fault:
            broken = Record(line, _plain_cells(text[at:end], delimiter), (_fault(fault, line),))
            return broken, end, 0
        cells.append(cell)
        if after >= len(text) or text[after] != delimiter:
            return Record(line, tuple(cells)), after, _breaks_in(text, at, after)
        here = after + 1
        if len(cells) > limits.COLUMNS:
            end = _end_of_line(text, here)
            cells.append(text[here:end])
            return Record(line, tuple(cells)), end, _breaks_in(text, at, end)


def _breaks_in(text: str, start: int, end: int) -> int:
    pairs = text.count("\r\n", start, end)
    return text.count("\n", start, end) + text.count("\r", start, end) - pairs


def _end_of_line(text: str, at: int) -> int:
    found = _LINE.match(text, at)
    return found.end() if found else len(text)


def _plain_cells(line: str, delimiter: str) -> tuple[str, ...]:
    # One more than allowed is enough to hold the row, and a line of commas stays small.
    return tuple(line.split(delimiter, limits.COLUMNS))


def _one_cell(text: str, at: int, delimiter: str) -> tuple[str, int, str]:
    """A cell, where it ends, and which fault it has (``""`` for none)."""
    if not text.startswith('"', at):
        stop = _end_of_cell(text, at, delimiter)
        return text[at:stop], stop, ""
    quoted = _QUOTED.match(text, at)
    if quoted is None:
        return "", at, "open"
    stop = _end_of_cell(text, quoted.end(), delimiter)
    rest = text[quoted.end() : stop]
    if rest.strip(" \t"):
        return "", at, "after"
    return quoted[1].replace('""', '"') + rest, stop, ""


def _end_of_cell(text: str, at: int, delimiter: str) -> int:
    found = re.compile(f"[{re.escape(delimiter)}\r\n]").search(text, at)
    return found.start() if found else len(text)


def _fault(kind: str, line: int) -> Finding:
    if kind == "open":
        what = "a quotation mark opens a cell and none closes it"
    else:
        what = "there is text after the quotation mark that closes a cell"
    remedy = "A quotation mark inside a quoted cell is written twice; delete it or double it"
    return hold("quotes-unbalanced", f"Line {line}: {what}. {remedy}. Held.")

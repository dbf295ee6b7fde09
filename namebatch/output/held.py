"""The rows that were not made, as a table that a spreadsheet opens, for whoever sent the list.

Mended, it is a list itself: our columns come first and `names` passes over them (`names.ours`).
"""

import csv
from collections.abc import Callable, Iterable, Sequence
from io import StringIO
from pathlib import Path

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.names.characters import with_controls_shown
from namebatch.names.ours import REASON, TO_DO
from namebatch.names.row import Row
from namebatch.output.customers import customers_of
from namebatch.output.plainwords import asked

FILE = "held.csv"
FOLDER = "held"
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``held.csv``; with its headings only when nothing is held.

    Of a list with several orders there is a table for each beside it, in ``held/``, of those of
    which something is held.

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called once, when the files are there.
    """
    (folder / FILE).write_bytes(held_csv(job))
    asked = [one for one in customers_of(job) if one.order.held]
    if asked:
        (folder / FOLDER).mkdir()
    for one in asked:
        (folder / FOLDER / f"{one.stem}.csv").write_bytes(held_csv(one.job))
    progress(1, 1)


def held_csv(job: Job) -> bytes:
    """The table: line, reason, what to do, then the list's columns and cells beyond its headers.

    Of a spreadsheet it is the row. Our headings make way for a list that has columns of these
    names: ``line in the list``.

    Returns:
        RFC 4180 in UTF-8 with a byte order mark, without which spreadsheets guess the
        encoding and spoil every accent.
    """
    stream = StringIO(newline="")
    table = csv.writer(stream, lineterminator="\r\n")
    held = [row for row in job.rows if row.held]
    headers = _headers(job.names.headers, held)
    taken = {header.strip().casefold() for header in headers}
    ours = (
        _free(job.names.place.lower(), "in the list", taken),
        _free(REASON, "for holding", taken),
        _free(TO_DO, "with it", taken),
    )
    table.writerow([*ours, *(_harmless(header) for header in headers)])
    for row in held:
        values = (_harmless(row.values.get(header, "")) for header in headers)
        table.writerow([row.line, _harmless(_reason(row)), _to_do(row), *values])
    return stream.getvalue().encode("utf-8-sig", errors="replace")


def _headers(headers: Sequence[str], held: Iterable[Row]) -> tuple[str, ...]:
    """The list's headers and whatever else a held row has a cell under, by its place."""
    return tuple(dict.fromkeys((*headers, *(key for row in held for key in row.values))))


def _free(name: str, more: str, taken: Iterable[str]) -> str:
    """A heading that the list does not have: with more words, then with a number."""
    heading, number = name, 1
    while heading in taken:
        number += 1
        heading = f"{name} {more}" if number == 2 else f"{name} {more} ({number})"
    return heading


def _reason(row: Row) -> str:
    """All that holds a row, in one cell."""
    return " | ".join(f.message for f in row.findings if f.severity is Severity.HOLD)


def _to_do(row: Row) -> str:
    """What to do about it, in words that need neither workshop nor template."""
    asks = (asked(f, row.place) for f in row.findings if f.severity is Severity.HOLD)
    return " ".join(dict.fromkeys(asks))


def _harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: a leading apostrophe makes it text.

    Signs that nobody sees and that programs obey are shown; `names` holds a cell with such a code.

    One that has an apostrophe there already gets another: read as a list again, one is taken
    off, and the text is as it stood.
    """
    cell = with_controls_shown(cell)
    risky = any(one.startswith(_FORMULA_STARTS) for one in (cell, cell.lstrip(), cell.lstrip("'")))
    return f"'{cell}" if risky else cell

"""The rows that were not made, as a table that a spreadsheet opens."""

import csv
from collections.abc import Callable
from io import StringIO
from pathlib import Path

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.names.row import Row

FILE = "held.csv"
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``held.csv``; with its headings only when nothing is held.

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called once, when the file is there.
    """
    (folder / FILE).write_bytes(held_csv(job))
    progress(1, 1)


def held_csv(job: Job) -> bytes:
    """The table: line, reason, then the list's own columns.

    Returns:
        RFC 4180 in UTF-8 with a byte order mark, without which spreadsheets guess the
        encoding and spoil every accent.
    """
    stream = StringIO(newline="")
    table = csv.writer(stream, lineterminator="\r\n")
    headers = job.names.headers
    table.writerow(["line", "reason", *(_harmless(header) for header in headers)])
    for row in job.rows:
        if row.held:
            values = (_harmless(row.values.get(header, "")) for header in headers)
            table.writerow([row.line, _harmless(_reason(row)), *values])
    return stream.getvalue().encode("utf-8-sig", errors="replace")


def _reason(row: Row) -> str:
    """All that holds a row, in one cell."""
    return " | ".join(f.message for f in row.findings if f.severity is Severity.HOLD)


def _harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: a leading apostrophe makes it text."""
    risky = cell.startswith(_FORMULA_STARTS) or cell.lstrip().startswith(_FORMULA_STARTS)
    return f"'{cell}" if risky else cell

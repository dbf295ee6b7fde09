"""Finding the header line, or the want of one."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from namebatch.errors import ListError
from namebatch.finding import Finding, note, warn
from namebatch.names import limits
from namebatch.names.characters import shown
from namebatch.names.columns import listed
from namebatch.names.quantity import read_quantity
from namebatch.names.table import Record, Table
from namebatch.names.tidy import tidy_start
from namebatch.names.wanted import Wanted

_NAMES_WITH_COMMAS: Final = (
    ' If each line is one name that has commas in it, put every name in quotation marks ("…").'
)


@dataclass(frozen=True, slots=True)
class Heading:
    """The headers and where the rows begin.

    Attributes:
        headers: distinct; a column without a name is called ``column 3``.
        first: index of the first record that is a row.
        blank: blank records passed on the way.
        findings: what was assumed.
    """

    headers: tuple[str, ...]
    first: int
    blank: int
    findings: tuple[Finding, ...] = ()


def find_heading(table: Table, wanted: Wanted, *, pasted: bool = False) -> Heading:
    """Find the headers of a table.

    The first record that is not blank is the header line if any of its cells (pasted text:
    its first cell) is a header that the job knows. A single column without one is a list of
    names. Pasted columns without one are taken in the order of the fields, then quantity.

    Raises:
        ListError: if the list is empty, or its columns have no headers.
    """
    filled = ((at, cells) for at, cells in _tidied(table.records) if any(cells))
    found = next(filled, None)
    if found is None:
        raise ListError("The list is empty. Put one name on each line, under a header.")
    at, cells = found
    record, blank = table.records[at], sum(one.lines for one in table.records[:at])
    if any(map(wanted.known, cells[:1] if pasted else cells)):
        width = _width(table) if table.grid else len(_trimmed(cells))
        return replace(_named(table, record, cells[:width], at), blank=blank)
    below = list(islice(filled, limits.TITLE_LINES))
    if not pasted:
        _refuse_title(table, cells, below, wanted)
    width = _width(table) if table.grid or pasted else len(_trimmed(cells))
    if width == 1:
        return Heading(
            ("name",), at, blank, tuple(_headless(table, record, cells[0], below, wanted))
        )
    if pasted:
        return replace(_in_order(table, wanted, width, at), blank=blank)
    called = table.place.lower()
    raise ListError(
        f"None of the headers of the list is one that the template needs. "
        f"{table.place} {record.line} has {listed(_trimmed(cells))}; the template needs "
        f"{listed(wanted.fields)}. Add a header {called}, or say --column "
        f"FIELD=HEADER.{_NAMES_WITH_COMMAS if not table.grid else ''}",
        tuple(f'no column for the field "{name}"' for name in _needed(wanted)),
    )


def _needed(wanted: Wanted) -> tuple[str, ...]:
    """Fields that must have a column.

    What stands in the first line may be names, not headers, so nothing in it is offered as the
    nearest one.
    """
    return tuple(name for name in wanted.fields if name not in wanted.optional)


def _tidied(records: Sequence[Record]) -> Iterator[tuple[int, tuple[str, ...]]]:
    for at, record in enumerate(records):
        yield at, tuple(tidy_start(cell) for cell in record.cells)


def _trimmed(cells: Sequence[str]) -> tuple[str, ...]:
    width = max((at for at, cell in enumerate(cells, start=1) if cell), default=0)
    return tuple(cells[:width])


def _width(table: Table) -> int:
    """Columns up to the last one with anything in it."""
    return max(_filled(row.cells) for row in table.records)


def _filled(cells: Sequence[str]) -> int:
    """How many cells there are up to the last that is not blank: only that one is looked at."""
    count = len(cells)
    while count and not tidy_start(cells[count - 1]):
        count -= 1
    return count


def _named(table: Table, record: Record, cells: Sequence[str], at: int) -> Heading:
    if record.findings:
        called = table.place.lower()
        raise ListError(f"The header {called} cannot be read. {record.findings[0].message}")
    if len(cells) > limits.COLUMNS:
        raise ListError(
            f"The list has {len(cells):,} columns or more; at most {limits.COLUMNS} are read. "
            "Delete those that are not needed."
        )
    long = max(cells, key=len)
    if len(long) > limits.CELL_CHARACTERS:
        raise ListError(
            f"{table.place} {record.line}: a header is longer than "
            f"{limits.CELL_CHARACTERS:,} characters "
            f'("{shown(long, 30)}"). Is a quotation mark missing there?'
        )
    headers: dict[str, None] = {}
    findings: list[Finding] = []
    for column, cell in enumerate(cells, start=1):
        name = unused(cell or f"column {column}", headers)
        headers[name] = None
        if cell and name != cell:
            text = (
                f'{table.place} {record.line}: the header "{shown(cell)}" stands there more than '
                f'once; the one in column {column} is called "{shown(name)}" here. Check that '
                "the right one is used, or rename it in the list."
            )
            findings.append(warn("header-twice", text))
    return Heading(tuple(headers), at + 1, at, tuple(findings))


def unused(name: str, taken: Container[str]) -> str:
    """The name, or with the first free number behind it: ``name (2)``."""
    if name not in taken:
        return name
    number = 2
    while f"{name} ({number})" in taken:
        number += 1
    return f"{name} ({number})"


def _refuse_title(
    table: Table,
    first: Sequence[str],
    below: Sequence[tuple[int, tuple[str, ...]]],
    wanted: Wanted,
) -> None:
    """A header line further down means that there is a title above it."""
    for at, cells in below:
        if len(_trimmed(cells)) > 1 and any(map(wanted.known, cells)):
            line, called = table.records[at].line, table.place.lower()
            raise ListError(
                f"{table.place} {line} looks like the header {called} ({listed(_trimmed(cells))}), "
                f'and "{shown(_trimmed(first)[0])}" stands above it. Delete what is above it.'
            )


def _headless(
    table: Table,
    record: Record,
    first: str,
    below: Sequence[tuple[int, tuple[str, ...]]],
    wanted: Wanted,
) -> Iterator[Finding]:
    called = table.place.lower()
    yield note(
        "no-header",
        f'The list has no header {called}: every {called} is a name, from "{shown(first)}" on '
        f"{called} {record.line} on.",
    )
    for at, cells in below:
        if cells and wanted.known(cells[0]):
            yield warn(
                "header-below",
                f'{table.place} {table.records[at].line}: "{shown(cells[0])}" looks like a '
                f"header, but stands below other {called}s; it is taken as a name. If it is a "
                "header, delete what is above it.",
            )


def _in_order(table: Table, wanted: Wanted, width: int, at: int) -> Heading:
    """Pasted columns without headers: the fields in order, then how many."""
    headers = (*wanted.fields, unused("quantity", wanted.fields))[:width]
    if width > len(wanted.fields) + 1:
        raise ListError(
            f"The pasted text has {width} columns and no header line; the template needs "
            f"{listed(wanted.fields)}. Paste the header line too."
        )
    last = tidy_start(table.records[at].cells[-1]) if table.records[at].cells else ""
    if width > len(wanted.fields) and read_quantity(last, "").finding is not None:
        text = (
            f'Without a header line the last pasted column is how many to make; "{shown(last)}" '
            "is not. Paste the header line too."
        )
        return Heading(headers, at, at, (warn("columns-in-order", text),))
    text = f"The pasted text has no header line: its columns are taken as {listed(headers)}."
    return Heading(headers, at, at, (note("columns-in-order", text),))

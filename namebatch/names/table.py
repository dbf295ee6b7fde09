"""What every reader of a list format returns: numbered records of raw cells."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from namebatch.errors import ListError
from namebatch.finding import Finding
from namebatch.names import limits
from namebatch.names.tidy import bare


@dataclass(frozen=True, slots=True)
class Record:
    """One record of the file, nothing tidied yet; or a run of blank ones.

    Attributes:
        line: physical line on which it starts, or row of the spreadsheet; from 1.
        cells: as they stand in the file.
        findings: what is wrong with the way it is written (a quote never closed).
        guess: name of the code page that its letters were guessed to be in; empty when they
            are certain.
        lines: how many it stands for: more than one only if all of them are blank.
    """

    line: int
    cells: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    guess: str = ""
    lines: int = 1


@dataclass(frozen=True, slots=True)
class Table:
    """A list as read, before anything is known about its columns.

    Attributes:
        records: in list order, blank ones included, see `Record.lines`.
        reading: how it was read, for people.
        place: what people call a record's place: ``Line`` or ``Row``.
        grid: True for spreadsheets, where a cell without a header is a column without a
            name; in text it is a sign of a stray delimiter.
        blank_before: empty rows above the first record that the reader left out.
        findings: about the reading as a whole.
    """

    records: tuple[Record, ...]
    reading: str
    place: str
    grid: bool
    blank_before: int = 0
    findings: tuple[Finding, ...] = ()


def few_enough(records: Iterable[Record], name: str) -> Iterator[Record]:
    """The records, refused as soon as more of them have anything in them than a job could hold.

    Blank ones that follow one another come as one: files end in hundreds of thousands of them.

    Args:
        records: in list order.
        name: of the list, for messages.

    Raises:
        ListError: there are too many (a header is not counted), or too many cells in them.
    """
    filled = cells = blanks = 0
    run: Record | None = None
    for record in records:
        if not record.findings and not any(map(bare, record.cells)):
            if run is not None and run.cells == record.cells:
                blanks += record.lines
                continue
            if run is not None:
                yield replace(run, lines=blanks)
            run, blanks = record, record.lines
            continue
        if run is not None:
            yield replace(run, lines=blanks)
            run = None
        there = sum(bool(cell) and not cell.isspace() for cell in record.cells)
        cells += there
        filled += there > 0
        if cells > limits.CELLS:
            raise ListError(
                f'"{name}" has more than {limits.CELLS:,} cells with something in them. Delete '
                "columns that are not needed, or split the list into several ones."
            )
        if filled > limits.FILLED_ROWS + 1:
            raise ListError(
                f'"{name}" has more than {limits.FILLED_ROWS:,} lines, more than a job can hold. '
                "Split the list into several ones."
            )
        yield record
    if run is not None:
        yield replace(run, lines=blanks)

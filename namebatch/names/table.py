"""What every reader of a list format returns: numbered records of raw cells."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from namebatch.errors import ListError
from namebatch.finding import Finding
from namebatch.names import limits


@dataclass(frozen=True, slots=True)
class Record:
    """One record of the file, nothing tidied yet.

    Attributes:
        line: physical line on which it starts, or row of the spreadsheet; from 1.
        cells: as they stand in the file.
        findings: what is wrong with the way it is written (a quote never closed).
        guess: name of the code page that its letters were guessed to be in; empty when they
            are certain.
    """

    line: int
    cells: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    guess: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A list as read, before anything is known about its columns.

    Attributes:
        records: in list order, blank ones included.
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

    Args:
        records: in list order.
        name: of the list, for messages.

    Raises:
        ListError: there are too many; a header is not counted.
    """
    filled = 0
    for record in records:
        filled += any(cell and not cell.isspace() for cell in record.cells)
        if filled > limits.FILLED_ROWS + 1:
            raise ListError(
                f'"{name}" has more than {limits.FILLED_ROWS:,} lines, more than a job can hold. '
                "Split the list into several ones."
            )
        yield record

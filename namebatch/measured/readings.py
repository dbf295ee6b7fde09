"""Tables of readings: a few named columns of words and numbers, in whatever form lists come."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import Final

from namebatch.errors import ListError, MeasureError
from namebatch.names.characters import shown
from namebatch.names.formats import read_table
from namebatch.names.formats.model import Source
from namebatch.names.table import Record
from namebatch.names.tidy import tidy_start
from namebatch.ordinary import open_ordinary

LARGEST_BYTES: Final = 1_000_000
MOST_ROWS: Final = 1_000
LARGEST_MM: Final = 10_000.0
_DECIMALS: Final = "With commas for decimals, semicolons must stand between the cells."
_NUMBER: Final = re.compile(r"[+-]?(\d{1,7}([.,]\d{0,6})?|[.,]\d{1,6})")


@dataclass(frozen=True, slots=True)
class Reading:
    """One line of a table of readings.

    Attributes:
        place: ``Line 3``.
        name: what was measured, small letters.
        values: column → number; an empty cell of a column that may be empty is left out.
    """

    place: str
    name: str
    values: Mapping[str, float]


def read_readings(
    path: Path, name_column: str, needed: Sequence[str], optional: Sequence[str] = ()
) -> tuple[Reading, ...]:
    """Read a table of readings: CSV with commas, semicolons or tabs, XLSX or ODS.

    Lines without any number in a needed column are left out: forms are filled in part.

    Args:
        path: the file.
        name_column: header of the column that says what was measured.
        needed: headers of columns of numbers.
        optional: headers of columns of numbers that may be missing or empty.

    Raises:
        MeasureError: the file or a value cannot be used, with all lines at fault.
    """
    wanted = (name_column, *needed, *optional)
    records, place = _records(path, wanted)
    columns = _columns(records, wanted, path.name)
    missing = [name for name in (name_column, *needed) if name not in columns]
    if missing:
        raise MeasureError(
            f'"{shown(path.name)}" has no column {" and ".join(missing)}. Its first line must be '
            f"{','.join((name_column, *needed))}, like a list with commas or semicolons."
        )
    problems: list[str] = []
    found: list[Reading] = []
    for record in records[1:]:
        where = f"{place} {record.line}"
        cells = {name: _cell(record, at) for name, at in columns.items()}
        beyond = record.cells[len(records[0].cells) :]
        if record.findings:
            problems.append(f"{where}: a quotation mark is not closed.")
        elif any(map(tidy_start, beyond)):
            problems.append(f"{where} has more cells than the first line. {_DECIMALS}")
        elif any(cells[name] for name in needed):
            values = _values(cells, needed, optional, where, problems)
            found.append(Reading(where, cells[name_column].strip().lower(), values))
    if problems:
        raise MeasureError(f'"{shown(path.name)}" cannot be used yet.', problems[:20])
    if not found:
        raise MeasureError(f'"{shown(path.name)}" holds no readings. Fill in {needed[-1]}.')
    return tuple(found)


def number_of(text: str) -> float | None:
    """A number with a point or a comma for decimals, `mm` allowed behind it; else None."""
    word = text.strip().lower().removesuffix("mm").strip().replace("\u2212", "-")
    if not _NUMBER.fullmatch(word):
        return None
    value = float(word.replace(",", "."))
    return value if isfinite(value) and abs(value) <= LARGEST_MM else None


def _records(path: Path, wanted: Sequence[str]) -> tuple[tuple[Record, ...], str]:
    """The lines of the file that are not blank, and what a line is called."""
    name = shown(path.name, 200)
    try:
        with open_ordinary(path) as file:
            data = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise MeasureError(f'"{name}" cannot be opened: {reason}. Check the name.') from error
    if len(data) > LARGEST_BYTES:
        raise MeasureError(f'"{name}" is too large for a few readings. Is it the right file?')
    try:
        source = Source(name, path.suffix.lower(), data, lambda cell: _key(cell) in wanted)
        table = read_table(source)
    except ListError as error:
        raise MeasureError(error.what) from error
    records = tuple(record for record in table.records if any(map(tidy_start, record.cells)))
    if len(records) > MOST_ROWS:
        raise MeasureError(f'"{name}" has more than {MOST_ROWS:,} lines. Is it the right file?')
    return records, table.place


def _columns(records: Sequence[Record], wanted: Sequence[str], name: str) -> dict[str, int]:
    """Column → its place in a record, from the first one."""
    if not records:
        raise MeasureError(f'"{shown(name)}" is empty. Its first line must be {",".join(wanted)}.')
    columns: dict[str, int] = {}
    for at, cell in enumerate(records[0].cells):
        key = _key(cell)
        if key in wanted:
            columns.setdefault(key, at)
    return columns


def _key(cell: str) -> str:
    return tidy_start(cell).strip().lower().replace(" ", "_")


def _cell(record: Record, at: int) -> str:
    return tidy_start(record.cells[at]).strip() if at < len(record.cells) else ""


def _values(
    cells: Mapping[str, str],
    needed: Sequence[str],
    optional: Sequence[str],
    where: str,
    problems: list[str],
) -> dict[str, float]:
    """The numbers of one line; what is none is noted."""
    values: dict[str, float] = {}
    for name in (*needed, *optional):
        text = cells.get(name, "")
        if not text and name in optional:
            continue
        value = number_of(text)
        if value is None:
            problems.append(
                f'{where}: {name} is "{shown(text)}"; write millimetres, for example 12.3. '
                f"{_DECIMALS}"
            )
        else:
            values[name] = value
    return values

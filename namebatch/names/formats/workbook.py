"""Reading a checked spreadsheet package through python-calamine, for XLSX and ODS alike."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta
from typing import TypeAlias

from python_calamine import (
    CalamineSheet,
    CalamineWorkbook,
    SheetMetadata,
    SheetTypeEnum,
    SheetVisibleEnum,
)

from namebatch.errors import ListError, NamebatchError
from namebatch.finding import Finding, note
from namebatch.names import limits
from namebatch.names.characters import shown
from namebatch.names.formats.package import damaged, repack
from namebatch.names.table import Record, Table, few_enough

Cell: TypeAlias = int | float | str | bool | time | date | datetime | timedelta


def read_workbook(parts: Mapping[str, bytes], name: str, kind: str) -> Table:
    """Read the first visible sheet that is not empty.

    Args:
        parts: of the package, already checked for their extent.
        name: of the file, for messages.
        kind: ``XLSX`` or ``ODS``.

    Raises:
        ListError: if the workbook cannot be opened or all its sheets are empty.
    """
    try:
        return _read(parts, name, kind)
    except (NamebatchError, MemoryError, KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:  # a panic in the reader does not derive from Exception
        raise damaged(name) from error


def _read(parts: Mapping[str, bytes], name: str, kind: str) -> Table:
    with CalamineWorkbook.from_filelike(repack(parts)) as book:
        visible = [(at, meta) for at, meta in enumerate(book.sheets_metadata) if _is_list(meta)]
        for at, meta in visible[: limits.SHEETS_TRIED]:
            sheet = book.get_sheet_by_index(at)
            records = tuple(few_enough(_records(sheet, name), name))
            if records:
                return Table(
                    records=records,
                    reading=f'{kind}, sheet "{shown(meta.name)}"',
                    place="Line",
                    grid=True,
                    blank_before=records[0].line - 1,
                    findings=_others(len(book.sheets_metadata), meta.name),
                )
    raise ListError(
        f'"{name}" has no sheet with anything in it that is in view. Put the list on the first '
        "sheet, with headers in its first row."
    )


def _is_list(meta: SheetMetadata) -> bool:
    return meta.visible == SheetVisibleEnum.Visible and meta.typ == SheetTypeEnum.WorkSheet


def _records(sheet: CalamineSheet, name: str) -> Iterator[Record]:
    start = sheet.start
    if start is None:
        return
    if sheet.height > limits.ROWS:
        raise ListError(
            f'"{name}" has {sheet.height:,} rows; at most {limits.ROWS:,} are read. '
            "Split it into several lists."
        )
    for offset, cells in enumerate(sheet.to_python(skip_empty_area=True)):
        yield Record(start[0] + offset + 1, tuple(cell_text(cell) for cell in cells))


def _others(sheets: int, read: str) -> tuple[Finding, ...]:
    if sheets == 1:
        return ()
    text = (
        f'The workbook has {sheets} sheets; only "{shown(read)}" was read. If the list is '
        "elsewhere, move that sheet to the front."
    )
    return (note("other-sheets", text),)


def cell_text(cell: Cell) -> str:
    """A cell's value as text: whole numbers without ``.0``, dates and times as in ISO 8601.

    Numbers have at most 15 significant digits, as spreadsheets show them.
    """
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else f"{cell:.15g}"
    if isinstance(cell, datetime):
        whole_day = cell.time() == time()
        return cell.date().isoformat() if whole_day else cell.isoformat(timespec="seconds")
    if isinstance(cell, date | time):
        return cell.isoformat()
    return str(cell)

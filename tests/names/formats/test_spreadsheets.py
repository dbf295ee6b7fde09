"""XLSX and ODS, written by openpyxl and odfpy and read back; damage and traps."""

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from namebatch.errors import ListError
from namebatch.names import limits
from namebatch.names.formats import workbook, xlsx
from namebatch.names.formats.model import Source
from namebatch.names.formats.package import unpack
from tests.names.helpers import NAME_ONLY, codes, finding, read

CellValue = str | int | float | bool | date | time | None


def xlsx_bytes(*sheets: Sequence[Sequence[CellValue]]) -> bytes:
    """A workbook with the given sheets, by openpyxl."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for number, rows in enumerate(sheets, start=1):
        sheet = book.create_sheet(f"Sheet {number}")
        for row in rows:
            sheet.append(list(row))
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def ods_bytes(*sheets: Sequence[Sequence[str | float | None]]) -> bytes:
    """A document with the given sheets, by odfpy."""
    document = OpenDocumentSpreadsheet()
    for number, rows in enumerate(sheets, start=1):
        table = Table(name=f"Sheet {number}")
        for row in rows:
            line = TableRow()
            for value in row:
                line.addElement(ods_cell(value))
            table.addElement(line)
        document.spreadsheet.addElement(table)
    file = io.BytesIO()
    document.write(file)
    return file.getvalue()


def ods_cell(value: str | float | None) -> TableCell:
    """One cell, by odfpy."""
    if value is None:
        return TableCell()
    kind = "string" if isinstance(value, str) else "float"
    cell = TableCell(valuetype=kind, **({} if kind == "string" else {"value": value}))
    cell.addElement(P(text=str(value)))
    return cell


def edited(data: bytes, changes: Mapping[str, bytes]) -> bytes:
    """A package with some parts replaced."""
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(file, "w") as new:
        for part in old.namelist():
            new.writestr(part, changes.get(part, old.read(part)), zipfile.ZIP_DEFLATED)
    return file.getvalue()


FIRST = '<row r="1"><c r="A1"><v>1</v></c></row>'
SHEET = "xl/worksheets/sheet1.xml"
LATE: list[list[str | float | None]] = [[None], [None], [None, None, "name"], [None, None, "Ada"]]
ROWS: list[list[str | float | None]] = [["Name", "Qty"], ["Zoë", 2], [None, None], ["Bo", 3.0]]


@pytest.mark.parametrize(
    ("file", "data"),
    [("list.xlsx", xlsx_bytes(ROWS)), ("list.ods", ods_bytes(ROWS))],
    ids=["xlsx", "ods"],  # not the bytes, which tell the time
)
def test_rows_and_numbers(tmp_path: Path, file: str, data: bytes) -> None:
    """Rows keep the numbers that the spreadsheet shows; whole numbers have no point."""
    names = read(tmp_path, data, file=file)
    assert [(r.line, dict(r.values), r.quantity) for r in names.rows] == [
        (2, {"Name": "Zoë", "Qty": "2"}, 2),
        (4, {"Name": "Bo", "Qty": "3"}, 3),
    ]
    assert names.blank_lines == 1
    assert names.reading == f'{file[-4:].strip(".").upper()}, sheet "Sheet 1"'


@pytest.mark.parametrize(
    ("file", "data"),
    [("list.xlsx", xlsx_bytes([], LATE)), ("list.ods", ods_bytes([], LATE))],
    ids=["xlsx", "ods"],  # not the bytes, which tell the time
)
def test_first_sheet_with_something(tmp_path: Path, file: str, data: bytes) -> None:
    """Empty sheets and blank rows and columns before the list are passed over, and counted."""
    names = read(tmp_path, data, file=file)
    assert [(row.line, row.fields["name"]) for row in names.rows] == [(4, "Ada")]
    assert names.blank_lines == 2
    assert 'only "Sheet 2" was read' in finding(names.findings, "other-sheets").message


def test_values_as_text(tmp_path: Path) -> None:
    """Dates are ISO 8601, truth values as spreadsheets write them, fractions as they are."""
    when = datetime(2026, 7, 4, 9, 30)
    row: list[CellValue] = [when.date(), when, when.time(), True, 2.5, 12345678901]
    names = read(tmp_path, xlsx_bytes([["name", *"abcdef"], ["Ada", *row]]), file="x.xlsx")
    assert list(names.rows[0].values.values())[1:] == [
        *("2026-07-04", "2026-07-04T09:30:00", "09:30:00", "TRUE", "2.5", "12345678901")
    ]


def test_hidden_sheets_are_passed_over(tmp_path: Path) -> None:
    """A sheet that nobody sees is not the list."""
    book = openpyxl.Workbook()
    book.active.append(["name"])
    book.active.append(["Ghost"])
    book.active.sheet_state = "hidden"
    seen = book.create_sheet("Seen")
    seen.append(["name"])
    seen.append(["Ada"])
    book.active = 1
    book.save(tmp_path / "x.xlsx")
    names = read(tmp_path, (tmp_path / "x.xlsx").read_bytes(), file="x.xlsx")
    assert [row.fields["name"] for row in names.rows] == ["Ada"]


def test_messages_say_line(tmp_path: Path) -> None:
    """One word for the places of any list, whatever it came in; the number is that of the row."""
    names = read(tmp_path, xlsx_bytes([["name", "qty"], ["Ada", 2.5]]), file="x.xlsx")
    assert names.rows[0].findings[0].message.startswith('Line 2, "qty": "2.5" is not a whole')


def test_one_column_without_header(tmp_path: Path) -> None:
    """A single column of names needs no header in a spreadsheet either."""
    names = read(tmp_path, xlsx_bytes([["Ada"], ["Bo"]]), file="x.xlsx")
    assert [(row.line, row.fields["name"]) for row in names.rows] == [(1, "Ada"), (2, "Bo")]


def test_nameless_column_in_a_spreadsheet(tmp_path: Path) -> None:
    """A remark beside the list is a column of its own and holds nothing."""
    names = read(tmp_path, xlsx_bytes([["name"], ["Ada", "late"]]), file="x.xlsx")
    assert not names.rows[0].held
    assert names.rows[0].values == {"name": "Ada", "column 2": "late"}


def test_formula_errors_are_told(tmp_path: Path) -> None:
    """A cell whose formula failed is read as empty, and the list says which cell."""
    sheet = b"""<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
    <sheetData><row r="1"><c r="A1" t="str"><v>name</v></c><c r="B1" t="str"><v>qty</v></c></row>
    <row r="2"><c r="A2" t="str"><v>Ada</v></c><c r="B2" t="e"><v>#N/A</v></c></row>
    </sheetData></worksheet>"""
    data = edited(xlsx_bytes([["x"]]), {SHEET: sheet})
    names = read(tmp_path, data, file="x.xlsx")
    assert "(cells B2)" in finding(names.findings, "cell-errors").message


CELLS = st.one_of(
    st.none(),
    st.integers(-(10**9), 10**9),
    st.text(alphabet=st.sampled_from("abéम ÅZ,;\"'-"), min_size=1, max_size=8).filter(
        lambda text: text == " ".join(text.split())
    ),
)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=5))
def test_agrees_with_another_reader(rows: list[list[CellValue]]) -> None:
    """Cells are those that openpyxl, a reader of its own, finds in the same file."""
    data = xlsx_bytes([["name", "a", "b"], *rows])
    table = xlsx.read(Source("x.xlsx", ".xlsx", data, NAME_ONLY.known))
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    outside = [["" if v is None else str(v) for v in row] for row in sheet.values]
    while outside and not any(outside[-1]):
        outside.pop()
    found = [list(record.cells) for record in table.records for _ in range(record.lines)]
    assert found == outside


@pytest.mark.parametrize("file", ["list.xlsx", "list.ods"])
def test_empty_workbook(tmp_path: Path, file: str) -> None:
    """A workbook with nothing in it is told as such."""
    with pytest.raises(ListError, match="no sheet with anything in it"):
        read(tmp_path, xlsx_bytes([]) if file.endswith("x") else ods_bytes([]), file=file)


@pytest.mark.parametrize("file", ["list.xlsx", "list.ods"])
@pytest.mark.parametrize("keep", [0.3, 0.6, 0.95])
def test_cut_off_file(tmp_path: Path, file: str, keep: float) -> None:
    """Half a spreadsheet is refused in plain words."""
    data = xlsx_bytes(ROWS) if file.endswith("x") else ods_bytes(ROWS)
    with pytest.raises(ListError, match=r"ZIP archive, not a list|is damaged"):
        read(tmp_path, data[: int(len(data) * keep)], file=file)


@pytest.mark.parametrize("at", range(0, 60, 7))
def test_flipped_bytes(tmp_path: Path, at: int) -> None:
    """A flipped byte gives a list or a ListError, nothing else."""
    data = bytearray(xlsx_bytes(ROWS))
    data[len(data) * at // 60] ^= 0x55
    try:
        names = read(tmp_path, bytes(data), file="x.xlsx")
    except ListError as error:
        assert "x.xlsx" in error.what  # noqa: PT017 - either way is fine
    else:
        assert names.rows


def test_zip_bomb(tmp_path: Path) -> None:
    """A package that states more than the limit is refused before anything is unpacked."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("xl/workbook.xml", "<workbook/>")
        with package.open("xl/worksheets/sheet1.xml", "w") as part:
            for _ in range(limits.UNZIPPED_BYTES // 2**24 + 1):
                part.write(bytes(2**24))
    with pytest.raises(ListError, match="would unpack to 272 MiB; at most 256 MiB"):
        read(tmp_path, file.getvalue(), file="x.xlsx")


def test_zip_bomb_that_lies() -> None:
    """A part that is larger than its directory entry says is never unpacked past that size."""
    data = bytearray(edited(xlsx_bytes([["x"]]), {SHEET: bytes(2**22)}))
    true, stated = (2**22).to_bytes(4, "little"), (100).to_bytes(4, "little")
    assert data.count(true) == 2
    lying = bytes(data.replace(true, stated))
    with pytest.raises(ListError, match="is damaged"):
        unpack(lying, "x.xlsx")


def test_many_parts(tmp_path: Path) -> None:
    """A package of thousands of parts is no list."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as package:
        for number in range(limits.ZIP_PARTS):
            package.writestr(f"{number}.xml", "")
        package.writestr("xl/workbook.xml", "")
    with pytest.raises(ListError, match="packed from 2,001 parts"):
        read(tmp_path, file.getvalue(), file="x.xlsx")


@pytest.mark.parametrize(
    "sheet",
    [
        f'{FIRST}<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>',
        f'{FIRST}<row r="1048576"><c/><c r="XFD1048576"><v/></c></row>',
        '<x:row r="9"><x:c r="A1"><x:v>1</x:v></x:c><x:c r="XFD999999"><x:f>1</x:f></x:c></x:row>',
    ],
)
def test_cells_in_far_corners(tmp_path: Path, sheet: str) -> None:
    """Two cells in opposite corners do not fill the memory of the machine."""
    spaces = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:x="x"'
    part = f"<worksheet {spaces}><sheetData>{sheet}</sheetData></worksheet>".encode()
    with pytest.raises(ListError, match="more than 10,000,000 cells"):
        read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: part}), file="x.xlsx")


def test_formatted_cells_far_away_are_fine(tmp_path: Path) -> None:
    """Empty cells with a style, down to the last row, do not count."""
    sheet = b"""<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
    <sheetData><row r="1"><c r="A1" t="str"><v>Ada</v></c></row>
    <row r="1048576"><c r="XFD1048576" s="0"/></row></sheetData></worksheet>"""
    names = read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: sheet}), file="x.xlsx")
    assert len(names.rows) == 1


def ods_content(body: str) -> bytes:
    """The content part of an ODS file with one table."""
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "table", "text")
    )
    return (
        f"<office:document-content {spaces}><office:body><office:spreadsheet>"
        f'<table:table table:name="S">{body}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    ).encode()


CELL = '<table:table-cell{} office:value-type="string"><text:p>Ada</text:p></table:table-cell>'


def test_repeated_cells(tmp_path: Path) -> None:
    """A repeated cell counts as often as it is repeated, and cannot fill the memory."""
    many = CELL.format(' table:number-columns-repeated="16384"')
    body = f'<table:table-row table:number-rows-repeated="1048576">{many}</table:table-row>'
    data = edited(ods_bytes([["x"]]), {"content.xml": ods_content(body)})
    with pytest.raises(ListError, match="1,048,576 rows by 16,384 columns"):
        read(tmp_path, data, file="x.ods")


def test_empty_repeats_are_fine(tmp_path: Path) -> None:
    """The empty rest of a sheet, repeated to its last row as programs write it, is nothing."""
    body = (
        f"<table:table-row>{CELL.format('')}"
        '<table:table-cell table:number-columns-repeated="16383"/></table:table-row>'
        '<table:table-row table:number-rows-repeated="1048575">'
        '<table:table-cell table:number-columns-repeated="16384"/></table:table-row>'
    )
    data = edited(ods_bytes([["x"]]), {"content.xml": ods_content(body)})
    assert [row.fields["name"] for row in read(tmp_path, data, file="x.ods").rows] == ["Ada"]


def test_entities_are_refused(tmp_path: Path) -> None:
    """A document type, where entities are declared, is refused."""
    bomb = b'<!DOCTYPE w [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><worksheet>&b;</worksheet>'
    with pytest.raises(ListError, match="is damaged"):
        read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: bomb}), file="x.xlsx")


def test_utf16_parts_are_checked_too(tmp_path: Path) -> None:
    """The check of the extent cannot be got round by another encoding of the XML."""
    text = (
        '<?xml version="1.0" encoding="UTF-16"?><worksheet><sheetData><row r="1"><c r="A1"><v>1'
        '</v></c><c r="XFD1048576"><v>1</v></c></row></sheetData></worksheet>'
    )
    with pytest.raises(ListError, match="more than 10,000,000 cells"):
        read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: text.encode("utf-16")}), file="x.xlsx")


def test_a_plain_workbook_has_no_findings(tmp_path: Path) -> None:
    """A plain workbook gives no finding at all."""
    names = read(tmp_path, xlsx_bytes([["name", "qty"], ["Ada", 1]]), file="x.xlsx")
    assert codes(names.findings) == []
    assert names.rows[0].findings == ()


@pytest.mark.parametrize(
    ("part", "kind"),
    [
        ("word/document.xml", "a text document (DOCX)"),
        ("xl/workbook.bin", "a workbook in the binary form (XLSB)"),
        ("content.xml", "an OpenDocument text or drawing"),
        ("photo.png", "a ZIP archive"),
    ],
)
def test_other_packages_are_named(tmp_path: Path, part: str, kind: str) -> None:
    """A package that is no spreadsheet is refused by what it is."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as package:
        package.writestr(part, "")
    with pytest.raises(ListError, match=re.escape(f'"x.xlsx" seems to be {kind}, not a list')):
        read(tmp_path, file.getvalue(), file="x.xlsx")


def test_a_panic_in_the_reader_is_contained(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The spreadsheet reader's panics do not derive from Exception; they are a ListError too."""

    class Panic(BaseException):
        """As the reader's own."""

    class Book:
        """A reader that panics."""

        @staticmethod
        def from_filelike(_: object) -> None:
            raise Panic

    monkeypatch.setattr(workbook, "CalamineWorkbook", Book)
    with pytest.raises(ListError, match=r"x\.xlsx\" is damaged"):
        read(tmp_path, xlsx_bytes(ROWS), file="x.xlsx")


def test_row_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A sheet with more rows than the limit is refused."""
    monkeypatch.setattr(limits, "ROWS", 3)
    with pytest.raises(ListError, match="has 4 rows; at most 3"):
        read(tmp_path, xlsx_bytes(ROWS), file="x.xlsx")


def test_limit_of_rows_with_anything_in_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What no job could hold is refused; rows without a cell do not count."""
    monkeypatch.setattr(limits, "FILLED_ROWS", 3)
    rows: list[list[str | float | None]] = [["name"], ["Ada"], [None], ["Bo"], ["Cy"]]
    assert len(read(tmp_path, xlsx_bytes(rows), file="x.xlsx").rows) == 3
    with pytest.raises(ListError, match=r"more than 3 lines.*Split the list"):
        read(tmp_path, xlsx_bytes([*rows, ["Dee"]]), file="x.xlsx")


def test_column_limit(tmp_path: Path) -> None:
    """A sheet with more columns than the limit is refused."""
    wide = [["name", *map(str, range(500))], ["Ada"]]
    with pytest.raises(ListError, match="501 columns or more; at most 500"):
        read(tmp_path, xlsx_bytes(wide), file="x.xlsx")


def test_cells_without_references(tmp_path: Path) -> None:
    """Cells and rows that do not say where they are follow one another."""
    sheet = b"""<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
    <sheetData><row><c t="str"><v>name</v></c><c t="str"><v>qty</v></c></row>
    <row><c t="str"><v>Ada</v></c><c><v>2</v></c></row></sheetData></worksheet>"""
    names = read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: sheet}), file="x.xlsx")
    assert [(row.line, row.quantity) for row in names.rows] == [(2, 2)]


def test_a_reference_that_is_none(tmp_path: Path) -> None:
    """A cell that says it is where no cell can be is damage."""
    sheet = b'<worksheet><sheetData><row><c r="4B"><v>1</v></c></row></sheetData></worksheet>'
    with pytest.raises(ListError, match="is damaged"):
        read(tmp_path, edited(xlsx_bytes([["x"]]), {SHEET: sheet}), file="x.xlsx")


def test_odd_compression(tmp_path: Path) -> None:
    """Packing that no spreadsheet program uses, and that has no bound, is refused."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_BZIP2) as package:
        package.writestr("xl/workbook.xml", "<workbook/>")
    with pytest.raises(ListError, match="packed in a way that spreadsheets do not use"):
        read(tmp_path, file.getvalue(), file="x.xlsx")

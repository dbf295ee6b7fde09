"""Spreadsheets made to do harm: bombs of every kind are refused before they are unfolded."""

import io
import re
import struct
import zipfile
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from python_calamine import CalamineSheet

from namebatch.errors import ListError
from namebatch.names import limits
from namebatch.names.formats import workbook, xlsx
from namebatch.names.formats.model import Source
from namebatch.names.formats.package import repack, unpack
from namebatch.names.table import Record
from tests.names.formats.test_spreadsheets import ods_bytes, xlsx_bytes
from tests.names.helpers import NAME_ONLY, read

SHEET = "xl/worksheets/sheet1.xml"
STRINGS = "xl/sharedStrings.xml"
NS = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
GOOD = xlsx_bytes([["name", "day"], ["Ada Teasel", 3], ["Bo Sandling", 4.5], ["Cy Marram", True]])
GOOD_ODS = ods_bytes([["name", "day"], ["Ada Teasel", 3.0], ["Bo Sandling", None]])


def packed(good: bytes, parts: Mapping[str, str | bytes]) -> bytes:
    """A package with some parts replaced, and packed as well as can be."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(good)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as new,
    ):
        for name in old.namelist():
            if name not in parts:
                new.writestr(name, old.read(name))
        for name, content in parts.items():
            new.writestr(name, content)
    return out.getvalue()


def sheet(rows: str) -> str:
    """A worksheet part."""
    return f"<worksheet {NS}><sheetData>{rows}</sheetData></worksheet>"


def text(value: str) -> str:
    """A cell with its text in place."""
    return f'<c t="inlineStr"><is><t>{value}</t></is></c>'


def strings(*texts: str) -> str:
    """A part of shared texts."""
    return f"<sst {NS}>{''.join(f'<si><t>{t}</t></si>' for t in texts)}</sst>"


def ods(rows: str) -> bytes:
    """A document of one table, its rows given."""
    spaces = "".join(
        f' xmlns:{key}="urn:oasis:names:tc:opendocument:xmlns:{key}:1.0"'
        for key in ("office", "table", "text")
    )
    content = (
        f"<office:document-content{spaces}><office:body><office:spreadsheet>"
        f'<table:table table:name="s">{rows}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    return packed(GOOD_ODS, {"content.xml": content})


def ods_row(value: str, cell: str = "", row: str = "") -> str:
    """A row of one cell, with more attributes."""
    return (
        f'<table:table-row {row}><table:table-cell office:value-type="string" {cell}>'
        f"<text:p>{value}</text:p></table:table-cell></table:table-row>"
    )


@pytest.mark.parametrize("times", [2_000, 40_000], ids=["longest text alone", "text after text"])
def test_shared_texts_unfolded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, times: int) -> None:
    """A long text in many cells is refused by what the cells come to, not by the file's size."""
    monkeypatch.setattr(limits, "SHEET_CHARACTERS", 1_000_000)
    long = "a" * 20_000
    rows = '<row><c t="s"><v>0</v></c></row>' + '<row><c t="s"><v>1</v></c></row>' * 49
    few = packed(GOOD, {STRINGS: strings("name", long), SHEET: sheet(rows)})
    assert len(read(tmp_path, few).rows) == 49
    many = rows + '<row><c t="s"><v> 1 </v></c></row>' * (times // 1_000)
    with pytest.raises(ListError, match="cells hold more than 1 million characters"):
        read(tmp_path, packed(GOOD, {STRINGS: strings("name", long), SHEET: sheet(many)}))


def test_a_long_text_that_is_used_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One long text among many short ones is no bomb."""
    monkeypatch.setattr(limits, "SHEET_CHARACTERS", 100_000)
    rows = "".join(f'<row><c t="s"><v>{min(n, 2)}</v></c></row>' for n in range(50))
    data = packed(GOOD, {STRINGS: strings("name", "a" * 9_000, "Bo"), SHEET: sheet(rows)})
    assert len(read(tmp_path, data).rows) == 49


@pytest.mark.parametrize(
    "row",
    [
        ods_row("A" * 9_000, 'table:number-columns-repeated="400"'),
        ods_row("A" * 9_000, row='table:number-rows-repeated="90000"'),
        ods_row('A<text:s text:c="2000000000"/>b'),
    ],
    ids=["columns", "rows", "spaces"],
)
def test_texts_repeated_in_ods(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, row: str) -> None:
    """Repeated cells and spaces count as often as they are repeated."""
    monkeypatch.setattr(limits, "SHEET_CHARACTERS", 1_000_000)
    with pytest.raises(ListError, match="cells hold more than 1 million characters"):
        read(tmp_path, ods(ods_row("name") + row))


def test_tables_of_ods_add_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All tables are unfolded at once, so their cells count together."""
    monkeypatch.setattr(limits, "GRID_CELLS", 100)
    with pytest.raises(ListError, match="more than 100 cells"):
        read(tmp_path, ods_bytes(*[[["name"] * 6] * 6] * 3))


@pytest.mark.parametrize("number", ["4294967295", "99999999999", "100000000"])
def test_rows_far_beyond_a_sheet(tmp_path: Path, number: str) -> None:
    """A row's number that no sheet has, its cells saying nothing, is damage; no reader breaks."""
    rows = f'<row r="1">{text("name")}</row><row r="{number}">{text("Ada")}</row>'
    with pytest.raises(ListError, match="is damaged"):
        read(tmp_path, packed(GOOD, {SHEET: sheet(rows)}))


def test_a_part_is_not_unpacked_past_its_size() -> None:
    """Of a part that is larger than the directory says no more than that is unpacked."""
    data = bytearray(packed(GOOD, {"xl/big.xml": b"a" * 20_000_000}))
    at = data.find(b"xl/big.xml", data.find(b"PK\x01\x02")) - 46
    data[at + 24 : at + 28] = struct.pack("<I", 100)
    most = 0
    real = zipfile.ZipExtFile._read1  # type: ignore[attr-defined]

    def noted(self: zipfile.ZipExtFile, n: int) -> bytes:
        nonlocal most
        most = max(most, n)
        found: bytes = real(self, n)
        return found

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(zipfile.ZipExtFile, "_read1", noted)
        with pytest.raises(ListError, match="is damaged"):
            unpack(bytes(data), "x.xlsx")
    assert most < 100_000


def test_too_much_markup(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Millions of elements are refused before any of them is looked at."""
    monkeypatch.setattr(limits, "MARKUP", 20_000)
    with pytest.raises(ListError, match="more cells and other elements in it than any list needs"):
        read(tmp_path, packed(GOOD, {STRINGS: f"<sst {NS}>{'<si/>' * 20_001}</sst>"}))


@pytest.mark.parametrize("tag", ["<si/>", "<a></a>", '<row r="1"><c/></row>'])
def test_too_many_elements(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, tag: str) -> None:
    """Elements take time one by one: so many are refused before any of them is looked at."""
    monkeypatch.setattr(limits, "ELEMENTS", 20_000)
    monkeypatch.setattr(xlsx, "check_xlsx_part", None)
    with pytest.raises(ListError, match="more cells and other elements in it than any list needs"):
        read(tmp_path, packed(GOOD, {STRINGS: f"<sst {NS}>{tag * 20_001}</sst>"}))


def test_ends_and_remarks_are_no_elements(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list of as many elements as are allowed is read, whatever stands between them."""
    part = sheet(f"<row>{text('name')}</row><!-- remark --><?a b?><row>{text('Ada')}</row>")
    data = packed(GOOD, {SHEET: part})
    parts = unpack(data, "x.xlsx").values()
    count = sum(len(re.findall(rb"<[a-zA-Z]", one)) for one in parts)
    monkeypatch.setattr(limits, "ELEMENTS", count)
    assert len(read(tmp_path, data).rows) == 1
    monkeypatch.setattr(limits, "ELEMENTS", count - 1)
    with pytest.raises(ListError, match="more cells and other elements"):
        read(tmp_path, data)


@pytest.mark.parametrize(
    "inside", ["<row/>", '<row r="2"><c r="A2" s="1" t="s"/></row>', "<a/>", "<!-- -->"]
)
def test_empty_sheets_are_looked_through_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, inside: str
) -> None:
    """However much stands in a sheet without a filled cell, no reader goes through it again."""
    handed: list[int] = []
    real = repack

    def noted(parts: Mapping[str, bytes]) -> io.BytesIO:
        handed.append(sum(map(len, parts.values())))
        return real(parts)

    monkeypatch.setattr(workbook, "repack", noted)
    few, many = (packed(GOOD, {SHEET: sheet(inside * n)}) for n in (1, 10_000))
    for data in (few, many):
        with pytest.raises(ListError, match="no sheet with anything in it"):
            read(tmp_path, data)
    assert handed[0] == handed[1]


@pytest.mark.parametrize(
    "inside",
    [
        "<a>" * 300 + "</a>" * 300,
        f"<!--{'a' * 10_000_000}-->",
        f"<{'a' * 10_000_000}/>",
        f'<a b="{"c" * 10_000_000}"/>',
    ],
    ids=["deep", "comment", "tag", "attribute"],
)
def test_markup_that_no_program_writes(tmp_path: Path, inside: str) -> None:
    """Elements in elements without end, and tags of many megabytes, are damage."""
    with pytest.raises(ListError, match="is damaged"):
        read(tmp_path, packed(GOOD, {SHEET: f"<worksheet {NS}>{inside}</worksheet>"}))


def test_sheets_that_are_all_one_part(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A thousand sheets in one empty part are not read a thousand times."""
    relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    names = "".join(f'<sheet name="s{n}" sheetId="{n + 1}" r:id="rId1"/>' for n in range(1_000))
    book = f'<workbook {NS} xmlns:r="{relation}"><sheets>{names}</sheets></workbook>'
    tried: list[object] = []
    real = workbook._records

    def noted(one: CalamineSheet, name: str) -> Iterator[Record]:
        tried.append(one)
        return real(one, name)

    monkeypatch.setattr(workbook, "_records", noted)
    with pytest.raises(ListError, match="no sheet with anything in it"):
        read(tmp_path, packed(GOOD, {"xl/workbook.xml": book, SHEET: sheet("")}))
    assert len(tried) == limits.SHEETS_TRIED


@pytest.mark.parametrize("value", ["1e308", "-1e308", "nan", "inf", "1e-320", "-700000", "2958466"])
def test_days_that_no_calendar_has(tmp_path: Path, value: str) -> None:
    """A day far away, or none at all, is a text or damage, and breaks nothing."""
    book = xlsx_bytes([["name", "day"], ["Ada", date(2020, 1, 1)]])
    part = zipfile.ZipFile(io.BytesIO(book)).read(SHEET).decode()
    data = packed(book, {SHEET: part.replace("<v>43831</v>", f"<v>{value}</v>")})
    if value == "-1e308":
        with pytest.raises(ListError, match="is damaged"):
            read(tmp_path, data)
    else:
        assert len(read(tmp_path, data).rows) == 1


PARTS = {name: zipfile.ZipFile(io.BytesIO(GOOD)).read(name) for name in (SHEET, "xl/workbook.xml")}
ODS_PART = zipfile.ZipFile(io.BytesIO(GOOD_ODS)).read("content.xml")
_NUMBER = re.compile(rb'(?<=["> ])[A-Z]?\d+(?=["< ])')
_WILD = st.sampled_from(
    [b"-1", b"0", b"99999999999", b"1e999", b"nan", b"A0", b"XFE9", b"<a>", b"&x;", b"\xff", b""]
)


@settings(max_examples=60)
@given(
    part=st.sampled_from(["content.xml", *PARTS]),
    wild=st.lists(st.tuples(st.integers(0, 60), _WILD), max_size=3),
    moved=st.tuples(st.integers(0, 3_000), st.integers(0, 200), st.integers(0, 3_000)),
    flips=st.lists(st.tuples(st.integers(0, 5_000), st.integers(0, 255)), max_size=2),
)
def test_xml_gone_wrong(
    tmp_path_factory: pytest.TempPathFactory,
    part: str,
    wild: list[tuple[int, bytes]],
    moved: tuple[int, int, int],
    flips: list[tuple[int, int]],
) -> None:
    """Numbers gone wild, stretches moved and bytes flipped inside the XML: rows or a ListError."""
    data = ODS_PART if part == "content.xml" else PARTS[part]
    for which, value in wild:
        found = list(_NUMBER.finditer(data))
        if found:
            one = found[which % len(found)]
            data = data[: one.start()] + value + data[one.end() :]
    start, length, to = (n % len(data) for n in moved)
    piece, rest = data[start : start + length % 200], data[:start] + data[start + length % 200 :]
    if moved[1] > 100:
        data = rest[:to] + piece + rest[to:]
    wounded = bytearray(data)
    for where, value_ in flips:
        wounded[where % len(wounded)] = value_
    good = GOOD_ODS if part == "content.xml" else GOOD
    try:
        names = read(tmp_path_factory.mktemp("s"), packed(good, {part: bytes(wounded)}))
    except ListError:
        return
    assert all(row.held or row.fields["name"] for row in names.rows)


def test_memory_in_a_reader(monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader that runs out of memory says so, and not that the file is damaged."""

    def full(*_: object) -> None:
        raise MemoryError

    monkeypatch.setattr(workbook, "_read", full)
    with pytest.raises(MemoryError):
        xlsx.read(Source("x.xlsx", ".xlsx", GOOD, NAME_ONLY.known))

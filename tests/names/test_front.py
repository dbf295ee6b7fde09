"""The front doors: files of every kind, pasted text, and whatever else people give."""

import csv
import hashlib
import io
import json
import os
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.errors import ListError
from namebatch.names import limits, read_list, read_pasted, rows
from namebatch.names.row import Row
from namebatch.names.table import Record
from namebatch.pipeline import MOST_PIECES
from tests.names.helpers import codes, read

ROWS = [
    ["name", "qty", "note"],
    ["Zoë Åkerblad", "2", 'says "hi", twice; or\tmore'],
    ["José", "1", "a\nb"],
]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
@pytest.mark.parametrize(
    ("codec", "mark"),
    [
        ("utf-8", b""),
        ("utf-8", b"\xef\xbb\xbf"),
        ("utf-16-le", b"\xff\xfe"),
        ("utf-16-be", b"\xfe\xff"),
        ("cp1252", b""),
    ],
    ids=["utf-8", "utf-8-mark", "utf-16-le", "utf-16-be", "windows-1252"],
)
@pytest.mark.parametrize("ending", ["\r\n", "\n"], ids=["crlf", "lf"])
@pytest.mark.parametrize("sep_line", [False, True], ids=["plain", "sep"])
def test_every_encoding_and_delimiter(
    tmp_path: Path, delimiter: str, codec: str, mark: bytes, ending: str, sep_line: bool
) -> None:
    """Every encoding with every delimiter gives the rows that csv.reader finds in the text."""
    file = io.StringIO(newline="")
    csv.writer(file, delimiter=delimiter, lineterminator=ending).writerows(ROWS)
    outside = list(csv.reader(io.StringIO(file.getvalue(), newline=""), delimiter=delimiter))
    text = (f"sep={delimiter}{ending}" if sep_line else "") + file.getvalue()
    names = read(tmp_path, mark + text.encode(codec))
    header, *rows = outside
    assert list(names.headers) == header
    assert [row.fields["name"] for row in names.rows] == [row[0] for row in rows]
    assert [row.quantity for row in names.rows] == [int(row[1]) for row in rows]
    assert [row.values["note"] for row in names.rows] == [" ".join(row[2].split()) for row in rows]
    assert [row.line for row in names.rows] == ([3, 4] if sep_line else [2, 3])
    assert ("encoding-guessed" in codes(names.findings)) == (codec == "cp1252")
    word = {",": "commas", ";": "semicolons", "\t": "tabs"}[delimiter]
    assert word in names.reading


def test_reading_tells_what_was_assumed(tmp_path: Path) -> None:
    """The reading names format, delimiter and encoding; a guess shows words to look at."""
    names = read(tmp_path, "name;qty\nZoë;1\n".encode("cp1252"))
    assert names.reading == "CSV, semicolons, Windows-1252"
    assert 'Look at "Zoë" on line 2.' in names.findings[0].message
    assert names.findings[0].severity == "warn"


def test_source_and_digest(tmp_path: Path) -> None:
    """A list knows its file name without the folder and the digest of its bytes."""
    names = read(tmp_path, "name\nAda\n", file="kite day.csv")
    assert names.source == "kite day.csv"
    assert names.sha256 == hashlib.sha256(b"name\nAda\n").hexdigest()


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"\x89PNG\r\n\x1a\n" + bytes(64), "a PNG picture"),
        (b"\xff\xd8\xff\xe0" + bytes(64), "a JPEG picture"),
        (b"%PDF-1.7\n%\xe2\xe3\n", "a PDF document"),
        (b"{\\rtf1\\ansi name}", "a text document with formatting"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(64), "an old XLS or DOC file"),
        (b"\n<!DOCTYPE html><table>", "a web page"),
        (b"PK\x03\x04" + bytes(64), "a ZIP archive"),
        (b"RIFF\x00\x10\x00\x00WEBPVP8 ", "a WebP picture"),
    ],
)
def test_other_files_are_named(tmp_path: Path, data: bytes, kind: str) -> None:
    """A file of another kind is refused by what it seems to be, whatever its suffix."""
    with pytest.raises(ListError, match=f'"list.csv" seems to be {kind}'):
        read(tmp_path, data)


def test_binary_junk(tmp_path: Path) -> None:
    """Bytes of no known kind that are full of control characters are refused."""
    with pytest.raises(ListError, match="does not seem to be text"):
        read(tmp_path, bytes(range(32)) * 20)


def test_nul_bytes(tmp_path: Path) -> None:
    """A stray NUL byte holds the row that it is in."""
    names = read(tmp_path, b"name\nA\x00da\nBo\nCy and others\n")
    assert [row.held for row in names.rows] == [True, False, False]


def test_names_that_begin_like_a_picture(tmp_path: Path) -> None:
    """Two letters that begin some binary formats begin names too."""
    assert len(read(tmp_path, "BM Teasel\nMZ Sandling\n", file="list.txt").rows) == 2


@pytest.mark.parametrize(
    ("name", "message"),
    [("none.csv", "There is no file"), ("folder", "is a folder"), ("a\x00b", "cannot be used")],
)
def test_no_such_list(tmp_path: Path, name: str, message: str) -> None:
    """A missing file, a folder and an impossible name are told apart."""
    (tmp_path / "folder").mkdir()
    with pytest.raises(ListError, match=message):
        read_list(tmp_path / name, ["name"])


def test_file_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file beyond the limit is refused before it is read whole."""
    monkeypatch.setattr(limits, "FILE_BYTES", 2**20)
    path = tmp_path / "large.csv"
    path.touch()
    os.truncate(path, 2**20 + 1)
    with pytest.raises(ListError, match="larger than 1 MiB"):
        read_list(path, ["name"])
    with pytest.raises(ListError, match="pasted text is larger than 1 MiB"):
        read_pasted("x" * (2**20 + 1), ["name"])


def test_row_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list with more lines than the limit is refused."""
    monkeypatch.setattr(limits, "ROWS", 3)
    assert len(read(tmp_path, "name\nAda\nBo\n").rows) == 2
    with pytest.raises(ListError, match="more than 3 lines"):
        read(tmp_path, "name\nAda\nBo\nCy\n")


def test_blank_lines_come_as_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many follow one another, they are looked at once, counted and limited one by one."""
    seen: list[Record] = []
    row = rows._row

    def noted(record: Record, layout: rows._Layout) -> Row | None:
        seen.append(record)
        return row(record, layout)

    monkeypatch.setattr(rows, "_row", noted)
    text = "\n\r\n\rname,team\n\n\nAda,\n" + ",\n" * 4 + "  ,\n" + "\n" * 500 + "Bo,\n" + "\n" * 90
    found = read(tmp_path, text)
    assert [(row.line, row.fields["name"]) for row in found.rows] == [(7, "Ada"), (513, "Bo")]
    assert found.blank_lines == 3 + 2 + 4 + 1 + 500 + 90
    assert [(record.line, record.lines) for record in seen if not any(record.cells)] == [
        (5, 2),
        (8, 4),
        (13, 500),
        (514, 90),
    ]
    monkeypatch.setattr(limits, "ROWS", 602)
    with pytest.raises(ListError, match=r"more than 602 lines\. Delete empty ones at its end"):
        read(tmp_path, text)
    monkeypatch.setattr(limits, "ROWS", 603)
    assert len(read(tmp_path, text).rows) == 2


def test_limit_of_lines_with_anything_in_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What no job could hold is refused before a cell of it is tidied; blank lines do not count."""
    monkeypatch.setattr(limits, "FILLED_ROWS", 3)
    assert len(read(tmp_path, "name\nAda\n\n,,\n  \nBo\nCy\n").rows) == 3
    monkeypatch.setattr("namebatch.names.rows._row", None)
    with pytest.raises(ListError, match=r'"list\.csv" has more than 3 lines.*Split the list'):
        read(tmp_path, "name\nAda\nBo\nCy\nDee\n")
    with pytest.raises(ListError, match=r"pasted text.* has more than 3 lines"):
        read_pasted("name\nAda\nBo\nCy\nDee\n", ["name"])


def test_as_many_lines_as_a_job_may_have_pieces() -> None:
    """A list is refused by its lines exactly where a job would be by its pieces."""
    assert limits.FILLED_ROWS == MOST_PIECES


def test_text_named_like_a_spreadsheet(tmp_path: Path) -> None:
    """Content decides; a suffix that says otherwise is pointed out."""
    assert codes(read(tmp_path, "name\nAda\n", file="list.xlsx").findings) == ["suffix-differs"]


def test_pasted_names() -> None:
    """One name a line; commas and quotation marks belong to the names."""
    names = read_pasted('Teasel, Ada\r\n\r\n"Buzz" Hay\n', ["name"])
    assert [(row.line, row.fields["name"]) for row in names.rows] == [
        (1, "Teasel, Ada"),
        (3, '"Buzz" Hay'),
    ]
    assert (names.source, names.blank_lines) == ("pasted text", 1)


def test_pasted_header() -> None:
    """A first line is the header only if its first cell is known."""
    assert len(read_pasted("Name\nAda\n", ["name"]).rows) == 1
    assert len(read_pasted("Ada\nName\n", ["name"]).rows) == 2
    assert len(read_pasted("Ada\tqty\n", ["name"]).rows) == 1


def test_pasted_cells() -> None:
    """Cells come with tabs between them and quotes round line breaks."""
    names = read_pasted('Qty\tName\n2\t"Ada\nTeasel"\n', ["name"])
    assert [(row.fields["name"], row.quantity) for row in names.rows] == [("Ada Teasel", 2)]


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ('name,village\nMarlo,Holm\n\n"Teal, Odile",Sandreed\n', "commas"),
        ("Name;Village;Qty\nMarlo;Holm;2\n\nTeal, Odile;Sandreed;1\n", "semicolons"),
        ("no | name | quantity\n1 | Marlo | 2\n\n2 | Teal, Odile | 1\n", "bars"),
    ],
)
def test_pasted_from_a_file_with_its_headers(text: str, reading: str) -> None:
    """What was copied out of a CSV file opened as text is read like that file."""
    names = read_pasted(text, ["name"])
    rows = [(row.line, row.fields["name"]) for row in names.rows]
    assert rows == [(2, "Marlo"), (4, "Teal, Odile")]
    assert names.reading == f"pasted text, {reading}"
    assert (names.source, names.blank_lines) == ("pasted text", 1)


@pytest.mark.parametrize(
    "text",
    [
        "Teasel, Marlo\nMarram, Zoë\n",
        "Teasel; Marlo\nMarram; Zoë\n",
        "Teal, Name\nMarram, Zoë\n",  # one word that is a header may be a name
    ],
)
def test_pasted_names_keep_their_commas(text: str) -> None:
    """Without a header line a name is all that stands on its line."""
    names = read_pasted(text, ["name"])
    assert [row.fields["name"] for row in names.rows] == text.splitlines()


def test_names_with_commas_under_one_header() -> None:
    """A header line of one word says nothing of commas."""
    names = read_pasted("Name\nTeasel, Marlo\n", ["name"])
    assert [row.fields["name"] for row in names.rows] == ["Teasel, Marlo"]


def test_pasted_cells_without_header() -> None:
    """Without headers, the fields in order and then the quantity, with a note."""
    names = read_pasted("Ada\tReds\t2\nBo\tBlues\tx\n", ["name", "team"])
    assert [(row.fields["team"], row.quantity, row.held) for row in names.rows] == [
        ("Reds", 2, False),
        ("Blues", 0, True),
    ]
    assert codes(names.findings) == ["columns-in-order"]
    with pytest.raises(ListError, match="3 columns and no header line"):
        read_pasted("Ada\tReds\t2\n", ["name"])


@pytest.mark.parametrize("text", ["", " \n\t\n", "\ufeff"])
def test_nothing_pasted(text: str) -> None:
    """Nothing pasted is told as such."""
    with pytest.raises(ListError, match="The list is empty"):
        read_pasted(text, ["name"])


def test_rows_can_always_be_written() -> None:
    """Halves of surrogate pairs hold their row and can still go into a file."""
    names = read_pasted("A\ud800da\nBo\n", ["name"])
    assert [row.held for row in names.rows] == [True, False]
    json.dumps([dict(row.values) for row in names.rows], ensure_ascii=False).encode("utf-8")


@settings(max_examples=150, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.binary(max_size=60).map(lambda tail: b"name,qty\nAda," + tail),
        st.binary(max_size=60).map(lambda tail: b"PK\x03\x04" + tail),
        st.text(max_size=60).map(lambda text: text.encode("utf-16", "surrogatepass")),
    ),
    st.sampled_from(["list.csv", "list.xlsx", "list.ods", "list.txt"]),
)
def test_any_bytes(data: bytes, file: str) -> None:
    """Whatever the bytes, there is a list that can be written, or a ListError."""
    with TemporaryDirectory() as folder:
        try:
            names = read(Path(folder), data, file=file)
        except ListError as error:
            assert error.what.endswith((".", "?", ")"))  # noqa: PT017 - either way is fine
            return
    assert names.rows
    str(names).encode("utf-8")


@given(st.text(max_size=60))
def test_any_pasted_text(text: str) -> None:
    """Whatever is pasted, every line that is not blank is a row, or there is a ListError."""
    try:
        names = read_pasted(text, ["name"])
    except ListError as error:
        assert "list" in error.what or "pasted" in error.what  # noqa: PT017 - as above
        return
    lines = [row.line for row in names.rows]
    assert lines == sorted(set(lines))


def test_pasted_lists_tell_what_stands_instead_of_a_column() -> None:
    """As in a file: what is so on every piece is said in the note."""
    names = read_pasted("name\nAda\n", ["name", "team"], None, ["team"], {"team": "it is red"})
    assert [finding.message for finding in names.findings] == [
        'The list has no column for "team"; it is red.'
    ]


def test_code_of_a_sign_is_not_made(tmp_path: Path) -> None:
    """What stands in held.csv for a sign that is not seen never gets onto a piece."""
    row = read(tmp_path, "name\nAda<U+202E>\n").rows[0]
    assert row.held
    assert '"Ada<U+202E>" has <U+202E>' in row.findings[0].message

"""Header lines, lists without them, and titles above them."""

from pathlib import Path

import pytest

from namebatch.errors import ListError
from namebatch.names import headers
from namebatch.names.tidy import tidy_start
from tests.names.helpers import codes, finding, read


def test_header_on_line_one(tmp_path: Path) -> None:
    """With the header on line 1, the first row is line 2."""
    names = read(tmp_path, "name,qty\nAda,2\n")
    assert names.headers == ("name", "qty")
    assert [row.line for row in names.rows] == [2]


def test_header_after_blank_lines(tmp_path: Path) -> None:
    """Blank lines above the header are counted, and the numbers stay those of the file."""
    names = read(tmp_path, "\n,\nname,qty\nAda,2\n")
    assert [row.line for row in names.rows] == [4]
    assert names.blank_lines == 2


def test_one_column_without_header(tmp_path: Path) -> None:
    """A single column without a known header is a list of names from line 1 on."""
    names = read(tmp_path, "Ada\n\nBo\n", file="list.txt")
    assert names.headers == ("name",)
    assert [(row.line, row.fields["name"]) for row in names.rows] == [(1, "Ada"), (3, "Bo")]
    assert codes(names.findings) == ["no-header"]


def test_one_column_without_header_and_another_field(tmp_path: Path) -> None:
    """Names feed the one field that must be filled, whatever it is called."""
    names = read(tmp_path, "Ada\nBo\n", ("child", "motto"), optional=("motto",))
    assert names.columns == {"child": "name"}
    assert names.rows[0].fields == {"child": "Ada", "motto": ""}


def test_a_heading_further_down_is_pointed_out(tmp_path: Path) -> None:
    """A title above a single headed column is not passed over in silence."""
    names = read(tmp_path, "Kite Day\nName\nAda\n")
    assert 'Line 2: "Name" looks like a header' in finding(names.findings, "header-below").message


def test_a_title_above_columns(tmp_path: Path) -> None:
    """A title above a header line of several columns has to go, and the message says where."""
    with pytest.raises(ListError, match=r'Line 3 looks like the header line.*"Kite Day" stands'):
        read(tmp_path, "Kite Day,\n,\nName,Qty\nAda,2\n")


def test_columns_without_known_headers(tmp_path: Path) -> None:
    """Several columns without a known header: the message lists them and tells of --column."""
    with pytest.raises(ListError, match=r'Line 1 has "Kite", "Reel".*--column FIELD=HEADER'):
        read(tmp_path, "Kite,Reel\nAda,2\n")


def test_column_option_makes_a_header_known(tmp_path: Path) -> None:
    """A header named by --column is recognised."""
    names = read(tmp_path, "Kite,Reel\nAda,x\n", columns={"name": "kite"})
    assert names.columns == {"name": "Kite"}


def test_same_header_twice(tmp_path: Path) -> None:
    """The second of two equal headers gets a number and a warning; no cell is lost."""
    names = read(tmp_path, "name,note,note\nAda,x,y\n")
    assert names.headers == ("name", "note", "note (2)")
    assert names.rows[0].values == {"name": "Ada", "note": "x", "note (2)": "y"}
    assert finding(names.findings, "header-twice").severity == "warn"


def test_column_without_header(tmp_path: Path) -> None:
    """A nameless column between others is called by its place and kept."""
    names = read(tmp_path, "name,,qty\nAda,x,2\n")
    assert names.rows[0].values == {"name": "Ada", "column 2": "x", "qty": "2"}


@pytest.mark.parametrize(
    ("content", "message"),
    [
        ("", "is empty"),
        ("\ufeff", "is empty"),
        ("\r\n \n", "is empty"),
        ("\u00a0\n", "The list is empty"),
        ("name,qty\n", "header line and nothing under it"),
        ("name,qty\n,\n\n", "header line and nothing under it"),
        ('name,"qty\nAda,2\n', "The header line cannot be read. Line 1: a quotation mark opens"),
        ("name," + "x" * 10_001 + "\nAda,1\n", "a header is longer than 10,000 characters"),
        ("name" + ",x" * 500 + "\nAda\n", "columns or more; at most 500"),
    ],
)
def test_no_usable_list(tmp_path: Path, content: str, message: str) -> None:
    """Lists without a header that can be read, or without a row, are refused."""
    with pytest.raises(ListError, match=message):
        read(tmp_path, content)


def test_names_are_not_offered_as_headers(tmp_path: Path) -> None:
    """A first line of names is no place to look for the nearest header."""
    with pytest.raises(ListError, match="None of the headers") as caught:
        read(tmp_path, "Anna,Saltmarsh\nNane,Teasel\n")
    assert caught.value.problems == ('no column for the field "name"',)
    assert "nearest" not in str(caught.value)


def test_only_ends_of_lines_are_read_for_the_width(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Looking for the last column with anything in it costs one cell a line, not all of them."""
    looked: list[str] = []

    def counted(text: str) -> str:
        looked.append(text)
        return tidy_start(text)

    monkeypatch.setattr(headers, "tidy_start", counted)
    lines = "".join(f"Ada {k},{'x,' * 20}\u00a0,\n" for k in range(500))
    more = ",".join(f"more {k}" for k in range(20))
    found = read(tmp_path, f"name,{more},last,\n{lines}")
    assert len(found.rows) == 500
    assert len(found.headers) == 22
    assert len(looked) < 5 * 500

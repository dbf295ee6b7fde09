"""Tables of readings, as people type them."""

from pathlib import Path

import openpyxl
import pytest

from namebatch.errors import MeasureError
from namebatch.measured.readings import number_of, read_readings


def read(tmp_path: Path, text: str, name: str = "read.csv") -> list[tuple[str, dict[str, float]]]:
    """Name and numbers of each line of a table of marks."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    found = read_readings(path, "mark", ("x_mm", "y_mm"), ("note_mm",))
    return [(one.name, dict(one.values)) for one in found]


@pytest.mark.parametrize(
    "text",
    [
        "mark,x_mm,y_mm\nbottom-left,12.3,45.6\n",
        "mark;x_mm;y_mm\nbottom-left;12,3;45,6\n",
        "mark\tx_mm\ty_mm\nBottom-Left\t12,3\t45,6 mm\n",
        "\ufeffMark , X_mm,y mm\r\n\r\nbottom-left , 12.3 , 45.6\r\n",
        "y_mm,other,x_mm,mark\n45.6,seen twice,12.3,bottom-left\n",
        'mark,x_mm,y_mm\nbottom-left,"12,3","45,6"\n',
    ],
)
def test_tables_are_read_as_lists_are(tmp_path: Path, text: str) -> None:
    """Commas or semicolons, decimal points or commas, any order of columns, blank lines."""
    assert read(tmp_path, text) == [("bottom-left", {"x_mm": 12.3, "y_mm": 45.6})]


def test_a_workbook_is_read_too(tmp_path: Path) -> None:
    """A table kept in a spreadsheet needs no saving as text."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (("mark", "x_mm", "y_mm"), ("top-left", 12.25, 300)):
        sheet.append(row)
    book.save(tmp_path / "read.xlsx")
    (one,) = read_readings(tmp_path / "read.xlsx", "mark", ("x_mm", "y_mm"))
    assert (one.place, one.name, one.values) == ("Line 2", "top-left", {"x_mm": 12.25, "y_mm": 300})


def test_lines_of_a_form_that_are_empty_do_not_count(tmp_path: Path) -> None:
    """A form is filled in as far as somebody measured."""
    text = "mark,note_mm,x_mm,y_mm\na,5,,\nb,5,1,2\nc,,3,4\n"
    assert read(tmp_path, text) == [
        ("b", {"x_mm": 1, "y_mm": 2, "note_mm": 5}),
        ("c", {"x_mm": 3, "y_mm": 4}),
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("\n\n", "is empty"),
        ("mark,x_mm\na,1\n", "has no column y_mm"),
        ("a,1,2\n", "has no column mark and x_mm and y_mm"),
        ("mark,x_mm,y_mm\n", "holds no readings"),
        ("mark,x_mm,y_mm\na,1,\n", 'Line 2: y_mm is ""; write millimetres'),
        ("mark,x_mm,y_mm\na,one,2\nb,3,4x\n", 'Line 3: y_mm is "4x"'),
        ("mark,x_mm,y_mm\na,1e3,2\n", 'x_mm is "1e3"'),
        ("mark,x_mm,y_mm\na,99999,2\n", 'x_mm is "99999"'),
        ("mark,x_mm,y_mm\na,12,3,45,6\n", "more cells than the first line. With commas for dec"),
        ('mark,x_mm,y_mm\na,"1,2\nb,3,4\n', "Line 2: a quotation mark is not closed"),
        ("mark,x_mm,y_mm\n" + "a,1,2\n" * 1000, "more than 1,000 lines"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_line(
    tmp_path: Path, text: str, words: str
) -> None:
    """Nothing is guessed at; the line and the remedy are told."""
    with pytest.raises(MeasureError, match=words.replace("(", r"\(")):
        read(tmp_path, text)


def test_a_missing_file_and_a_wrong_one_are_told(tmp_path: Path) -> None:
    """The system's reason, and a picture is no table."""
    with pytest.raises(MeasureError, match=r'"gone\.csv" cannot be opened: No such file'):
        read_readings(tmp_path / "gone.csv", "mark", ("x_mm",))
    (tmp_path / "x.csv").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    with pytest.raises(MeasureError, match="seems to be"):
        read_readings(tmp_path / "x.csv", "mark", ("x_mm",))
    (tmp_path / "big.csv").write_bytes(b"a" * 1_000_001)
    with pytest.raises(MeasureError, match="too large"):
        read_readings(tmp_path / "big.csv", "mark", ("x_mm",))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12.5", 12.5),
        ("-3,25", -3.25),
        ("+7", 7.0),
        (",5 mm", 0.5),
        ("\u22122", -2.0),
        ("4.", 4.0),
        ("١٢", 12.0),
    ],
)
def test_numbers_as_people_write_them(text: str, value: float) -> None:
    """Point or comma, sign, unit, the digits of any script."""
    assert number_of(text) == value


@pytest.mark.parametrize("text", ["", "1.2.3", "1 2", "1e5", "nan", "inf", "0x1", "--1"])
def test_what_is_no_number(text: str) -> None:
    """No exponents, no words."""
    assert number_of(text) is None

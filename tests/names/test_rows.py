"""From records to rows: every line that is not blank is a row, made or held."""

import csv
import io
import re
import unicodedata
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.names.helpers import codes, finding, only_row, read


def test_blank_lines_are_counted(tmp_path: Path) -> None:
    """Lines of nothing but white space and delimiters are skipped and counted."""
    names = read(tmp_path, "name,qty\nAda,1\n\n  ,\t\nBo,2\n\u00a0,\n")
    assert [row.line for row in names.rows] == [2, 5]
    assert names.blank_lines == 3


def test_free_columns_are_kept(tmp_path: Path) -> None:
    """Columns that nothing uses stay with the row."""
    row = only_row(read(tmp_path, "name,colour\nAda,sand\n"))
    assert row.values == {"name": "Ada", "colour": "sand"}
    assert row.fields == {"name": "Ada"}


def test_tidying_is_noted(tmp_path: Path) -> None:
    """A changed cell is a note with line, column, what was done and the outcome."""
    row = only_row(read(tmp_path, 'name,x\n"  Zoe\u0308\nTeasel",\n'))
    assert row.fields == {"name": "Zoë Teasel"}
    assert [found.message for found in row.findings] == [
        'Line 2, "name": two spaces at the start removed; line break made one space; '
        'accents joined to their letters. Now "Zoë Teasel".'
    ]
    assert not row.held


@pytest.mark.parametrize("bad", ["0", "-1", "−1", "2.5", "two", "10000000", "1 000", "x"])
def test_bad_quantity(tmp_path: Path, bad: str) -> None:
    """A bad quantity holds its row; the message has line, column, value and remedy."""
    names = read(tmp_path, f"name,Qty\nAda,1\nBo,{bad}\n")
    row = names.rows[1]
    assert row.held
    assert row.quantity == 0
    (found,) = row.findings
    assert found.message.startswith(f'Line 3, "Qty": "{bad}"')
    assert "whole number from 1 to 9,999" in found.message


def test_quantity(tmp_path: Path) -> None:
    """No column or an empty cell means one; white space round a number is noted only."""
    assert only_row(read(tmp_path, "name\nAda\n")).quantity == 1
    names = read(tmp_path, "name,qty\nAda,\nBo,3 \nCy,٣\nDi\n")
    assert [(row.quantity, row.held) for row in names.rows] == [(1, 0), (3, 0), (3, 0), (1, 0)]


def test_empty_field(tmp_path: Path) -> None:
    """A row with other cells filled and no name is held, unless the field is optional."""
    row = only_row(read(tmp_path, "name,qty\n,2\n"))
    assert codes(row.findings) == ["empty-field"]
    assert row.held
    content = "name,motto\nAda,\n"
    assert not only_row(read(tmp_path, content, ("name", "motto"), optional=("motto",))).held
    assert only_row(read(tmp_path, content, ("name", "motto"))).held


def test_too_many_cells(tmp_path: Path) -> None:
    """A cell past the last header holds the row, is kept, and the message asks for quotes."""
    row = only_row(read(tmp_path, "name,qty\nAda,1,Teasel\n"))
    assert row.held
    assert (
        "Is there a comma, semicolon or tab too many?"
        in finding(row.findings, "too-many-cells").message
    )
    assert row.values == {"name": "Ada", "qty": "1", "column 3": "Teasel"}


def test_empty_cells_past_the_last_header(tmp_path: Path) -> None:
    """Delimiters at the end of a line are no reason to hold it."""
    assert not only_row(read(tmp_path, "name,qty\nAda,1,,,\n")).held


def test_delimiter_at_the_end_of_the_header(tmp_path: Path) -> None:
    """A header line that ends in a delimiter does not let a split name through."""
    assert only_row(read(tmp_path, "name,\nTeasel,Ada\n")).held


def test_unbalanced_quotes(tmp_path: Path) -> None:
    """A row whose quotes do not close is held, and only that row."""
    names = read(tmp_path, 'name,qty\n"Ada,2\nBo,1\n')
    assert [(row.line, row.held) for row in names.rows] == [(2, True), (3, False)]


@pytest.mark.parametrize("sign", ["\x00", "\x0b", "\u202e", "\u2800", "\u3164", "\ufffd", "\ue000"])
def test_unusable_characters(tmp_path: Path, sign: str) -> None:
    """An unusable character in a used cell holds the row and is named; elsewhere it may be."""
    names = read(tmp_path, f"name,note\nA{sign}da,\nBo,x{sign}y\n")
    held, fine = names.rows
    assert held.held
    message = finding(held.findings, "unusable-character").message
    assert message.startswith('Line 2, "name": ')
    assert f"U+{ord(sign):04X}" in message
    assert not fine.held


def test_too_long(tmp_path: Path) -> None:
    """120 characters are the most of a used text, 10,000 of any cell."""
    names = read(tmp_path, f"name,note\n{'x' * 120},\n{'y' * 121},\nAda,{'z' * 10_001}\n")
    assert [codes(row.findings) for row in names.rows] == [[], ["text-too-long"], ["cell-too-long"]]
    assert "121 characters; a piece carries at most 120" in names.rows[1].findings[0].message
    assert len(names.rows[2].values["note"]) == 10_000


def test_more_than_the_csv_module_takes(tmp_path: Path) -> None:
    """A cell beyond the standard library's field limit of 131,072 holds its row, no more."""
    names = read(tmp_path, f'name,note\nAda,"{"z" * 200_000}"\nBo,\n')
    assert [row.held for row in names.rows] == [True, False]


@pytest.mark.parametrize(
    "text", ['=HYPERLINK("http://x")', "=1+1", "+A1", "-2+3", "@SUM(A1)", "-cmd|x", "=A1"]
)
def test_formula_like(tmp_path: Path, text: str) -> None:
    """What looks like a formula is text, made as it is, with a warning."""
    file = io.StringIO()
    csv.writer(file).writerows([["name"], [text]])
    row = only_row(read(tmp_path, file.getvalue()))
    assert row.fields == {"name": text}
    assert codes(row.findings) == ["formula-like"]
    assert not row.held


@pytest.mark.parametrize("text", ["-Ada -", "@kite", "+Bo", "Ada=Bo", "-Ada", "+ 1", "♥"])
def test_not_formula_like(tmp_path: Path, text: str) -> None:
    """Dashes and nicknames are fine."""
    assert only_row(read(tmp_path, f"name\n{text}\n")).findings == ()


SPACES = re.compile("[ \t\n\r\u00a0\u2003\u2028\u3000]+")
CELLS = st.text(
    alphabet=st.sampled_from("aB1é\u0301\u00a0\u2003\u3000\u2028 \t\n\r,;\"'=-\u200d\x00म"),
    max_size=8,
)

# Of the letters here only म, with or without a mark, takes a joiner; two in a row are one.
JOINER = re.compile("(म(?:\u200d?\u0301)*\u200d)|\u200d")


def stated_rule(cell: str) -> str:
    """The tidying rule, stated a second time for the characters used here."""
    seen = JOINER.sub(r"\1", cell)
    text = unicodedata.normalize("NFC", SPACES.sub(" ", seen).strip(" "))
    return text[1:] if re.match("'+[=-]", text) else text


@settings(max_examples=60)
@given(
    st.lists(st.tuples(CELLS, CELLS, CELLS), min_size=1, max_size=6),
    st.sampled_from(",;\t"),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
    st.sampled_from(["\r\n", "\n"]),
)
def test_any_table_comes_back(
    table: list[tuple[str, str, str]], delimiter: str, encoding: str, ending: str
) -> None:
    """What csv.writer writes is read again: cells by the rule, lines, and no row lost."""
    file = io.StringIO(newline="")
    # csv.writer leaves a lone carriage return bare when lines end in something else.
    writer = csv.writer(
        file,
        delimiter=delimiter,
        lineterminator=ending,
        quoting=csv.QUOTE_MINIMAL if ending == "\r\n" else csv.QUOTE_ALL,
    )
    writer.writerow(["name", "team", "remark"])
    expected: list[tuple[int, list[str]]] = []
    for cells in table:
        line = 1 + len(re.findall("\r\n|\r|\n", file.getvalue()))
        writer.writerow(cells)
        tidied = [stated_rule(cell) for cell in cells]
        if any(tidied):
            expected.append((line, tidied))
    if not expected:
        return
    assume(file.getvalue().count("\x00") <= 2)  # with more it is taken for a binary file
    with TemporaryDirectory() as folder:
        names = read(Path(folder), file.getvalue().encode(encoding), ("name", "team"))
    assert [(row.line, list(row.values.values())) for row in names.rows] == expected
    assert names.blank_lines == len(table) - len(expected)
    for row in names.rows:
        empty = not row.fields["name"] or not row.fields["team"]
        texts = [row.fields["name"], row.fields["team"]]
        unusable = any("\x00" in text or " \u0301" in f" {text}" for text in texts)
        signs = any(not text.strip(",;\"' -") for text in texts)
        assert row.held == (empty or unusable or signs)


def test_white_space_without_end(tmp_path: Path) -> None:
    """However much white space stands before a name, the row is neither lost nor held."""
    names = read(tmp_path, f"name,qty\n{' ' * 20_000}Ada,1\n{' ' * 20_000},\n")
    assert [(row.line, row.fields["name"], row.held) for row in names.rows] == [(2, "Ada", False)]
    assert names.blank_lines == 1


def test_one_endless_cell(tmp_path: Path) -> None:
    """A cell of a million marks costs no more than a long one."""
    # Ordering marks canonically (UAX #15) takes time that grows with their number squared.
    row = only_row(read(tmp_path, "name\n" + "\u0301\u0323" * 500_000 + "\n"))
    assert row.held
    assert len(row.fields["name"]) <= 10_000


def test_guessed_letters_are_told(tmp_path: Path) -> None:
    """Each row with a letter beyond ASCII in a used cell says which and what it was read as."""
    names = read(tmp_path, "name,note\nZoë,\nBo,café\nNúñez-Ångström,x\n".encode("cp1252"))
    assert [codes(row.findings) for row in names.rows] == [
        ["letters-guessed"],
        [],
        ["letters-guessed"],
    ]
    found = names.rows[0].findings[0]
    assert found.severity == "note"
    assert found.message == (
        'Line 2, "name": "Zoë" has ë (U+00EB), read as Windows-1252, which was a guess. If the '
        'letters are wrong, save the list as "CSV UTF-8" and give that.'
    )
    assert "ú (U+00FA), ñ (U+00F1), Å (U+00C5) and 1 more" in names.rows[2].findings[0].message


def test_a_cyrillic_reading_is_warned_of_on_the_row(tmp_path: Path) -> None:
    """Whatever script was guessed, the row says so."""
    names = read(tmp_path, "name\nМаша\nАлександр\n".encode("cp1251"))
    assert [codes(row.findings) for row in names.rows] == [["letters-guessed"]] * 2


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le"])
def test_certain_letters_are_not_warned_of(tmp_path: Path, codec: str) -> None:
    """Valid UTF-8 and UTF-16 are no guess."""
    names = read(tmp_path, "name,qty\nZoë,1\nAda Teasel,2\n".encode(codec))
    assert [row.findings for row in names.rows] == [(), ()]


def test_mixed_encodings_are_warned_of_where_they_are(tmp_path: Path) -> None:
    """Only the lines that are not UTF-8 are in doubt, those inside a quoted cell too."""
    data = "name,note\nÅsa,\n".encode() + 'José,\nÉva,"a\nNiño\n"\n'.encode("cp1252")
    names = read(tmp_path, data + "Dvořák,\n".encode())
    assert [codes(row.findings) for row in names.rows] == [
        [],
        ["letters-guessed"],
        ["tidied", "letters-guessed"],
        [],
    ]
    assert "lines 3, 4, 5 are not UTF-8" in finding(names.findings, "encoding-mixed").message


def test_a_mark_without_a_letter(tmp_path: Path) -> None:
    """A combining mark at the start of a text or behind a space sits on nothing: held."""
    names = read(tmp_path, "name\n\u0301Ada\nAda \u0308Bo\nA\u0301\u0323da\nकि\n")
    assert [row.held for row in names.rows] == [True, True, False, False]
    message = finding(names.rows[0].findings, "mark-without-letter").message
    assert message.startswith('Line 2, "name": ')
    assert "U+0301 combining acute accent" in message


@pytest.mark.parametrize("text", ["=1+1", "+Bo", "-Anna", "@kite"])
def test_an_apostrophe_before_a_formula_is_removed(tmp_path: Path, text: str) -> None:
    """Cells as held.csv shields them are read without the shield, and the row says so."""
    row = only_row(read(tmp_path, f"name\n'{text}\n"))
    assert row.fields == {"name": text}
    message = finding(row.findings, "tidied").message
    assert f'the apostrophe before "{text[0]}"' in message
    assert message.endswith(f'removed. Now "{text}".')


@pytest.mark.parametrize("text", ["'Anna", "'t Hart", "O'-Neil", "’s Hart"])
def test_other_apostrophes_stay(tmp_path: Path, text: str) -> None:
    """An apostrophe that shields nothing belongs to the name."""
    row = only_row(read(tmp_path, f"name\n{text}\n"))
    assert (row.fields, row.findings) == ({"name": text}, ())


def test_a_list_with_bars_between_its_columns(tmp_path: Path) -> None:
    """A header line that fits once it is split at bars makes them the delimiter."""
    names = read(tmp_path, "name|city\nAda|Saltmarsh\nBo|Teasel\n")
    assert [row.values for row in names.rows] == [
        {"name": "Ada", "city": "Saltmarsh"},
        {"name": "Bo", "city": "Teasel"},
    ]
    assert names.reading == "CSV, bars, UTF-8"


def test_a_bar_in_a_text_is_warned_of(tmp_path: Path) -> None:
    """Without such a header line a bar may part two columns all the same."""
    names = read(tmp_path, "Ada|Saltmarsh\nBo\n", file="list.txt")
    assert [codes(row.findings) for row in names.rows] == [["bar-in-text"], []]
    assert '"Ada|Saltmarsh" has "|" in it' in names.rows[0].findings[0].message

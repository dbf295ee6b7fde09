"""Splitting delimited text, against RFC 4180 and the standard library's reader."""

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.records import split_records


def cells(text: str, delimiter: str = ",") -> list[tuple[str, ...]]:
    """Cells of all records."""
    return [record.cells for record in split_records(text, delimiter)]


def lines(text: str, delimiter: str = ",") -> list[int]:
    """Lines of all records."""
    return [record.line for record in split_records(text, delimiter)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # RFC 4180, section 2, the examples of rules 1, 2, 5, 6 and 7
        ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
        ("aaa,bbb,ccc\r\nzzz,yyy,xxx", [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
        ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),
        (
            '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
            [("aaa", "b\r\nbb", "ccc"), ("zzz", "yyy", "xxx")],
        ),
        ('"aaa","b""bb","ccc"', [("aaa", 'b"bb', "ccc")]),
        # by hand: spaces are part of a cell (rule 4), empty cells, a quote inside a plain cell
        (" a ,b", [(" a ", "b")]),
        (",,", [("", "", "")]),
        ('6" ruler,2', [('6" ruler', "2")]),
        ('"a" ,b', [("a ", "b")]),
        ("a\rb\nc\r\nd", [("a",), ("b",), ("c",), ("d",)]),
        ("", []),
    ],
)
def test_examples(text: str, expected: list[tuple[str, ...]]) -> None:
    """The examples of the standard, and what people write by hand."""
    assert cells(text) == expected


def test_line_numbers_are_physical() -> None:
    """A record is numbered by the line on which it starts, whatever is quoted above it."""
    assert lines('h\n"a\nb\r\nc"\n\nd\n"e\n",x\nf') == [1, 2, 5, 6, 7, 9]


def test_an_open_quote_costs_one_line() -> None:
    """A quote that is never closed holds its own line and leaves the next ones alone."""
    records = list(split_records('name\n"Ada\nBo\nCy', ","))
    assert [record.cells for record in records] == [("name",), ('"Ada',), ("Bo",), ("Cy",)]
    assert [bool(record.findings) for record in records] == [False, True, False, False]
    assert "Line 2: a quotation mark opens a cell and none closes it" in (
        records[1].findings[0].message
    )


def test_text_after_a_closing_quote() -> None:
    """A quote that closes in the middle of a cell is not guessed at."""
    (record,) = split_records('"Jo" Hay,1', ",")
    assert record.cells == ('"Jo" Hay', "1")
    assert "text after the quotation mark" in record.findings[0].message


def test_quotes_can_be_left_as_they_are() -> None:
    """Without quoting, quotation marks are text."""
    assert [r.cells for r in split_records('"Jo" Hay\n"', "\t", quotes=False)] == [
        ('"Jo" Hay',),
        ('"',),
    ]


@pytest.mark.parametrize("line", ["," * 2_000_000, '"",' * 600_000, '"' * 1_999_999 + ","])
def test_long_lines_stay_small(line: str) -> None:
    """A line of nothing but delimiters or quotes is cut at the most columns a list has."""
    (record, last) = split_records(line + "\nAda", ",")
    assert len(record.cells) <= 502
    assert last.cells == ("Ada",)


TABLES = st.lists(
    st.lists(
        st.text(alphabet=st.sampled_from('ab ,;\t"\r\n\u00e9\u2028'), max_size=6),
        min_size=1,
        max_size=4,
    ),
    max_size=6,
)


@given(TABLES, st.sampled_from(",;\t"), st.sampled_from(["\r\n", "\n", "\r"]), st.booleans())
def test_reads_what_the_standard_library_writes(
    table: list[list[str]], delimiter: str, ending: str, everything: bool
) -> None:
    """Any table that csv.writer writes comes back cell by cell, on the line where it stands."""
    # csv.writer leaves a lone carriage return bare when lines end in something else.
    bare = ending == "\r\n" and not everything
    expected_lines = []
    file = io.StringIO(newline="")
    writer = csv.writer(
        file,
        delimiter=delimiter,
        lineterminator=ending,
        quoting=csv.QUOTE_MINIMAL if bare else csv.QUOTE_ALL,
    )
    for row in table:
        expected_lines.append(1 + len(re.findall("\r\n|\r|\n", file.getvalue())))
        writer.writerow(row)
    text = file.getvalue()
    records = list(split_records(text, delimiter))
    assert [list(record.cells) for record in records] == table
    assert [record.line for record in records] == expected_lines
    assert not any(record.findings for record in records)


@given(st.text(alphabet=st.sampled_from('ab,"\n'), max_size=30))
def test_no_line_is_lost(text: str) -> None:
    """However quotes are strewn, every letter is in some record and lines only go up."""
    records = list(split_records(text, ","))
    together = "".join(cell for record in records for cell in record.cells)
    assert re.sub('[,"\n]', "", together) == re.sub('[,"\n]', "", text)
    numbers = [record.line for record in records]
    assert numbers == sorted(set(numbers))
    if not any(record.findings for record in records):
        # csv in its strict mode is the outside check of what well-formed means
        outside = csv.reader(io.StringIO(text, newline=""), strict=True)
        filled = [list(record.cells) for record in records if record.cells != ("",)]
        assert filled == [row for row in outside if row not in ([], [""])]

"""Findings of many rows, told in few lines."""

import pytest

from namebatch.finding import Finding, hold, note, warn
from namebatch.names.row import Row
from namebatch.names.told import FIRST, MOST_OF_A_KIND, gathered, stretches


def _row(line: int, *findings: Finding, place: str = "Line") -> Row:
    return Row(line, {}, {}, 1, findings, place=place)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ([2], "Line 2"),
        ([2, 3], "Lines 2, 3"),
        ([2, 3, 4], "Lines 2–4"),
        ([4, 2, 3, 9, 9], "Lines 2–4, 9"),
        ([*range(2, 60, 2)], "Lines 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24 … (29 in all)"),
    ],
)
def test_stretches_of_lines(lines: list[int], words: str) -> None:
    """Neighbours are drawn together, and very many are not all listed."""
    assert stretches(lines, "Line") == words


def test_the_same_thing_is_told_once() -> None:
    """500 equal findings are one line with the rows that it is true of."""
    rows = [_row(at, warn("low", f"Line {at}: The shadow is cut off.")) for at in range(2, 502)]
    [told] = gathered(rows)
    assert told.message == "Lines 2–501: The shadow is cut off."
    assert (told.code, told.severity, told.count) == ("low", "warn", 500)


def test_what_differs_is_told_apart() -> None:
    """Other words, other codes and other weights are not thrown together."""
    rows = [
        _row(2, warn("a", "Line 2: One."), note("b", "Line 2: One.")),
        _row(3, warn("a", "Line 3: Two."), hold("a", "Line 3: One.")),
        _row(4, warn("a", "Line 4: One.")),
    ]
    assert [one.message for one in gathered(rows)] == [
        "Lines 2, 4: One.",
        "Line 2: One.",
        "Line 3: Two.",
        "Line 3: One.",
    ]


def test_the_column_stays_behind_the_rows() -> None:
    """Rows of a spreadsheet with the same fault in one column are one line too."""
    rows = [
        _row(at, hold("empty-field", f'Row {at}, "name" is empty. Held.'), place="Row")
        for at in (2, 5)
    ]
    assert [one.message for one in gathered(rows)] == ['Rows 2, 5, "name" is empty. Held.']


def test_row_2_is_not_the_beginning_of_row_20() -> None:
    """Only a whole number is taken off a message."""
    row = _row(2, note("x", "Line 20: One."))
    assert [one.message for one in gathered([row])] == ["Line 20: One."]


def test_many_of_a_kind_are_counted() -> None:
    """Of many different notes of one kind the first are told, of the others the rows."""
    many = MOST_OF_A_KIND + 1
    rows = [_row(at, note("x", f'Line {at}: "{at}" tidied.')) for at in range(2, 2 + many)]
    told = gathered(rows)
    assert len(told) == FIRST + 1
    assert told[0].message == 'Line 2: "2" tidied.'
    assert (
        told[-1].message
        == f"Lines 7–{many + 1}: {many - FIRST} more of the same kind as on line 6."
    )
    assert sum(one.count for one in told) == many
    assert len(gathered(rows[:-1])) == MOST_OF_A_KIND


def test_every_hold_is_told() -> None:
    """What keeps a row from being made is never cut short."""
    rows = [_row(at, hold("x", f'Line {at}: "{at}". Held.')) for at in range(2, 102)]
    assert len(gathered(rows)) == 100

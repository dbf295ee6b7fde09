"""The table of rows that were not made."""

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest

from namebatch.finding import hold
from namebatch.job import Job
from namebatch.names import read_list
from namebatch.names.row import Row
from namebatch.output.held import held_csv
from tests.output import jobs


def table(data: bytes) -> list[list[str]]:
    """A CSV file as rows."""
    return list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))


def test_a_held_row_has_its_line_its_reasons_and_its_values() -> None:
    """Everything needed to mend the list: where, why, and what stood there."""
    data = held_csv(jobs.faced_job())
    assert data.startswith(b"\xef\xbb\xbf")
    assert table(data) == [
        ["line", "reason", "name", "group"],
        [
            "3",
            'Line 3: the quantity is "0". Write 1 or more. Held. | Line 3: a second reason. Held.',
            "'=1+1",
            'Dunes, "north"\nside',
        ],
    ]


def test_only_headings_when_nothing_is_held() -> None:
    """The file is always there, so its absence never has to be explained."""
    job = jobs.faced_job()
    made = tuple(row for row in job.rows if not row.held)
    assert table(held_csv(replace(job, rows=made))) == [["line", "reason", "name", "group"]]


def held_rows(*values: dict[str, str]) -> Job:
    """A job with nothing but these rows, all held."""
    rows = tuple(
        Row(at, one, {}, 0, (hold("x", f"Line {at}. Held."),)) for at, one in enumerate(values, 2)
    )
    return replace(jobs.faced_job(), rows=rows)


def test_cells_beyond_the_headers_are_kept() -> None:
    """What stood past the last header is what the row is held for: it may not be lost."""
    job = held_rows({"name": "Ada", "group": "", "column 3": "1"}, {"name": "Bo", "group": "x"})
    assert table(held_csv(job)) == [
        ["line", "reason", "name", "group", "column 3"],
        ["2", "Line 2. Held.", "Ada", "", "1"],
        ["3", "Line 3. Held.", "Bo", "x", ""],
    ]


def test_headers_are_never_doubled() -> None:
    """A list with columns of our names (our own file given back) keeps them; ours differ."""
    job = held_rows({"Line": "14", "reason": "why", "line in the list": "x"})
    job = replace(job, names=replace(job.names, headers=("Line", "reason", "line in the list")))
    header, row = table(held_csv(job))
    ours = ["line in the list (3)", "reason for holding"]
    assert header == [*ours, "Line", "reason", "line in the list"]
    assert row == ["2", "Line 2. Held.", "14", "why", "x"]


@pytest.mark.parametrize("text", ["=1+1", "-Anna", "@kite", "'-Anna", "'Anna", "''=x", "Ada"])
def test_given_back_the_names_are_the_same(tmp_path: Path, text: str) -> None:
    """The file read as a list gives every text as it stood, shields against formulas off."""
    path = tmp_path / "held.csv"
    path.write_bytes(held_csv(held_rows({"name": text, "group": "x"})))
    (row,) = read_list(path, ["name"]).rows
    assert row.fields == {"name": text}


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", " ="])
def test_formulas_stay_text(start: str) -> None:
    """A cell from the list must not run as a formula in whoever opens the table."""
    job = jobs.faced_job()
    row = Row(7, {"name": start + "cmd", "group": ""}, {}, 0, (hold("x", "Line 7. Held."),))
    cell = table(held_csv(replace(job, rows=(row,))))[1][2]
    assert cell == "'" + start + "cmd"

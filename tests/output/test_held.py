"""The table of rows that were not made."""

import csv
from dataclasses import replace
from io import StringIO

import pytest

from namebatch.finding import hold
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


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", " ="])
def test_formulas_stay_text(start: str) -> None:
    """A cell from the list must not run as a formula in whoever opens the table."""
    job = jobs.faced_job()
    row = Row(7, {"name": start + "cmd", "group": ""}, {}, 0, (hold("x", "Line 7. Held."),))
    cell = table(held_csv(replace(job, rows=(row,))))[1][2]
    assert cell == "'" + start + "cmd"

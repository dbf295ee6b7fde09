"""Likely slips in a list, told on the page."""

import pytest

from namebatch.desk import Desk
from namebatch.desk.looks import LARGE, with_looks
from namebatch.finding import Severity
from namebatch.names.mend import Mend
from namebatch.names.row import Row
from namebatch.store import KeptList
from tests.desk.desks import all_made

SLIPS = KeptList(
    "crew.csv",
    b"name,team,quantity\nMarlo,Terns,1\nInka,Terns,1\nMarlo,Terns,1\nOdile,Gulls,11\n",
)


def _row(line: int, quantity: int) -> Row:
    return Row(line, {}, {"name": f"Tern {line}"}, quantity, (), "", "Line")


@pytest.mark.parametrize(
    ("quantities", "large"),
    [
        ((1, 1, 10), []),
        ((1, 1, 11), [4]),
        ((30, 199, 30), []),
        ((200, 200, 200), [2, 3, 4]),
        ((0, 0, 0), []),
        ((199,), []),
    ],
)
def test_very_large_quantities_are_looked_at(quantities: tuple[int, ...], large: list[int]) -> None:
    """200 and more, or over ten times the median (common practice, no source)."""
    rows = with_looks([_row(2 + at, quantity) for at, quantity in enumerate(quantities)])
    assert [row.line for row in rows if LARGE in {f.code for f in row.findings}] == large


def test_slips_need_a_look_until_somebody_settles_them(desk: Desk) -> None:
    """A line that stands twice and a large number are looks; approved or mended, they are none."""
    number = desk.create("", "key-fob", SLIPS).number
    all_made(desk, number)
    rows = {row.line: row for row in desk.rows(number).rows}
    assert [line for line, row in rows.items() if row.severity == Severity.WARN] == [4, 5]
    counts = desk.docket(number).counts
    assert counts is not None
    assert counts.look == 2
    assert [one.line for one in desk.list_view(number).corrections] == [4, 5]
    desk.approve(number, {4: rows[4].picture})
    assert desk.put_mend(number, 5, Mend(quantity=1)).severity == Severity.NOTE
    settled = [(one.settled, one.findings) for one in desk.list_view(number).corrections]
    assert settled == [("approved", ()), ("", ())]
    counts = desk.docket(number).counts
    assert counts is not None
    assert counts.look == 0

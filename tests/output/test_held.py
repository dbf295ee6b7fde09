"""The table of rows that were not made."""

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest

from namebatch.finding import hold
from namebatch.job import Job
from namebatch.names import read_list
from namebatch.names.mend import Mend
from namebatch.names.mended import mended_row
from namebatch.names.row import Row
from namebatch.output.held import held_csv
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.resources import bundled
from tests.conftest import silent
from tests.output import jobs

OURS = ["line", "reason", "what to do"]
MEND = "Mend what the reason names, or delete the line."


def table(data: bytes) -> list[list[str]]:
    """A CSV file as rows."""
    return list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))


def test_a_held_row_has_its_line_its_reasons_and_its_values() -> None:
    """Everything needed to mend the list: where, why, and what stood there."""
    data = held_csv(jobs.faced_job())
    assert data.startswith(b"\xef\xbb\xbf")
    assert table(data) == [
        [*OURS, "name", "group"],
        [
            "3",
            'Line 3: the quantity is "0". Write 1 or more. Held. | Line 3: a second reason. Held.',
            MEND,
            "'=1+1",
            'Dunes, "north"\nside',
        ],
    ]


def test_only_headings_when_nothing_is_held() -> None:
    """The file is always there, so its absence never has to be explained."""
    job = jobs.faced_job()
    made = tuple(row for row in job.rows if not row.held)
    assert table(held_csv(replace(job, rows=made))) == [[*OURS, "name", "group"]]


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
        [*OURS, "name", "group", "column 3"],
        ["2", "Line 2. Held.", MEND, "Ada", "", "1"],
        ["3", "Line 3. Held.", MEND, "Bo", "x", ""],
    ]


def test_headers_are_never_doubled() -> None:
    """A list with columns of our names (our own file given back) keeps them; ours differ."""
    job = held_rows({"Line": "14", "reason": "why", "line in the list": "x"})
    job = replace(job, names=replace(job.names, headers=("Line", "reason", "line in the list")))
    header, row = table(held_csv(job))
    ours = ["line in the list (3)", "reason for holding", "what to do"]
    assert header == [*ours, "Line", "reason", "line in the list"]
    assert row == ["2", "Line 2. Held.", MEND, "14", "why", "x"]


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
    cell = table(held_csv(replace(job, rows=(row,))))[1][3]
    assert cell == "'" + start + "cmd"


def made(path: Path, template: str) -> Job:
    """A list, made from a bundled template."""
    settings = Settings(str(bundled("templates") / template), workers=1)
    return make_job(plan_job(path, settings), silent)


def mended(job: Job, path: Path, changes: dict[str, str]) -> None:
    """Write the table of held rows, some of its cells changed, as a spreadsheet saves it."""
    rows = [[changes.get(cell, cell) for cell in row] for row in table(held_csv(job))]
    with path.open("w", newline="", encoding="utf-8-sig") as file:
        csv.writer(file).writerows(rows)


def test_mended_it_is_a_list(tmp_path: Path) -> None:
    """Cells put right and the file given to make again: all made, the old line still to be read."""
    first = tmp_path / "list.csv"
    first.write_text(
        "name,quantity,customer\nFenna,1,Gulls\n,1,Gulls\nIvo,none,Terns\n-,1,=Terns\n",
        encoding="utf-8",
    )
    job = made(first, "key-fob")
    assert [row.line for row in job.rows if row.held] == [3, 4, 5]
    again = tmp_path / "mended.csv"
    mended(job, again, {"": "Quill", "none": "2", "'-": "Wren", "-": "Wren"})
    second = made(again, "key-fob")
    assert (second.totals.rows, second.totals.held) == (3, 0)
    assert [piece.text["name"] for piece in second.pieces] == ["Quill", "Ivo", "Wren"]
    assert [piece.order for piece in second.pieces] == ["Gulls", "Terns", "=Terns"]
    assert [piece.copies for piece in second.pieces] == [1, 2, 1]
    assert [row.values["line"] for row in second.rows] == ["3", "4", "5"]


def test_the_one_column_left_is_still_found(tmp_path: Path) -> None:
    """A header that says nothing, taken for being the only one, is found beside our columns too."""
    first = tmp_path / "list.csv"
    first.write_text("Kite flyer,quantity\nFenna,1\nIvo,0\n", encoding="utf-8")
    job = made(first, "key-fob")
    again = tmp_path / "mended.csv"
    mended(job, again, {"0": "3"})
    (piece,) = made(again, "key-fob").pieces
    assert (piece.text["name"], piece.copies) == ("Ivo", 3)


def test_held_twice_both_lines_are_kept(tmp_path: Path) -> None:
    """Given back unmended it is held again, with the lines of both lists, and can still be made."""
    first = tmp_path / "list.csv"
    first.write_text("Kite flyer,quantity\nFenna,1\nIvo,0\n", encoding="utf-8")
    once, twice = tmp_path / "once.csv", tmp_path / "twice.csv"
    once.write_bytes(held_csv(made(first, "key-fob")))
    job = made(once, "key-fob")
    header, row = table(held_csv(job))
    assert header[:6] == ["line in the list", "reason for holding", "what to do with it", *OURS]
    assert (row[0], row[3]) == ("2", "3")
    mended(job, twice, {"0": "1"})
    assert [piece.text["name"] for piece in made(twice, "key-fob").pieces] == ["Ivo"]


def test_what_to_do_is_told_in_plain_words() -> None:
    """Whoever sent the list reads what to write, without typefaces, measures and codes."""
    row = Row(7, {"name": "x"}, {"name": "x"}, 1, (hold("no-glyph", "Line 7: U+1F3AA. Held."),))
    cells = table(held_csv(replace(jobs.faced_job(), rows=(row,))))[1]
    assert (
        cells[2] == "Write it without these signs, or settle another lettering with the workshop."
    )


def test_signs_that_are_not_seen_are_shown() -> None:
    """Control signs and turned reading stand in cells as codes; lines and letters as they are."""
    job = held_rows({"name": "A\x00d\x07a \u202egnp", "group": "two\nlines\u200d"})
    assert table(held_csv(job))[1][3:] == ["A<U+0000>d<U+0007>a <U+202E>gnp", "two\nlines\u200d"]


def test_a_line_left_out_on_purpose_asks_for_nothing() -> None:
    """Whoever gets the table sees that it was meant."""
    job = held_rows({"name": "", "group": "x"})
    out = mended_row(replace(job.rows[0], findings=()), Mend(held="left out"), {})
    _, (_, reason, to_do, *_) = table(held_csv(replace(job, rows=(out,))))
    assert reason == f"Line {out.line} is left out on purpose."
    assert to_do == "Left out on purpose; nothing to do."

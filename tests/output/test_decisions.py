"""What the customer is asked about."""

from dataclasses import replace

from namebatch.finding import Finding, hold, note, warn
from namebatch.job import Job
from namebatch.names.mend import Mend
from namebatch.names.mended import mended_row
from namebatch.names.row import Row
from namebatch.output.decisions import (
    decisions,
    numbers_by_line,
    of_the_whole,
    same,
    typed_otherwise,
)
from tests.output import jobs


def job_of(*rows: Row) -> Job:
    """A job that has these rows."""
    return replace(jobs.faced_job(), rows=rows)


def row(line: int, name: str, *findings: Finding, order: str = "") -> Row:
    """A row of one field."""
    return Row(line, {"name": name}, {"name": name}, 1, findings, order)


def test_one_point_a_row_in_list_order() -> None:
    """Holds and warnings of a row are one point; rows for the workshop alone are none."""
    job = job_of(
        row(2, "Fenna", warn("thin-tail", "Line 2: thin.")),
        row(3, "Ivo, 2x", warn("order-in-name", "Line 3: has 2x in it."), order="1041"),
        row(4, "", warn("stray-sign", "Line 4: a."), hold("empty-field", "Line 4: b. Held.")),
    )
    first, second = decisions(job)
    assert (first.number, first.lines) == (1, (3,))
    assert (first.text, first.held, first.words) == ("Ivo, 2x", False, ("Has 2x in it.",))
    assert (second.number, second.text, second.held) == (2, "(empty)", True)
    assert second.words == ("B.", "A.")


def test_rows_that_say_the_same_are_one_point() -> None:
    """Twenty lines with one name are asked about once, with the lines that it stands on."""
    twice = note("duplicate", "Line 3: stands on line 2 already.")
    rows = [row(2, "Fenna"), *(row(line, "Fenna", twice) for line in range(3, 13)), row(20, "Ivo")]
    (point,) = decisions(job_of(*rows))
    assert point.lines == tuple(range(2, 13))
    assert "11 times, on lines 2, 3, 4, 5, 6, 7, 8, 9 and 3 more." in point.words[0]
    assert numbers_by_line([point])[12] == (1,)


def test_a_line_may_have_two_points() -> None:
    """A doubtful row that is repeated too stands beside both numbers."""
    twice = note("duplicate", "Line 3: stands on line 2 already.")
    job = job_of(row(2, "F,"), row(3, "F,", warn("stray-sign", "Line 3: a."), twice))
    assert numbers_by_line(decisions(job)) == {3: (1, 2), 2: (2,)}


def test_what_is_typed_otherwise() -> None:
    """Another letter case is told, another line break or space is not."""
    job = jobs.faced_job()
    piece = replace(job.pieces[0], text={"name": "FENNA\nLYME"})
    box = next(box for box in job.template.boxes if box.name == "name")
    template = replace(job.template, boxes=(box,))
    assert typed_otherwise(template, piece, {"name": "Fenna Lyme"}) == ("Fenna Lyme",)
    assert typed_otherwise(template, piece, {"name": "FENNA  LYME"}) == ()
    assert same("FENNA\nLYME", "FENNA LYME")


def test_the_list_as_a_whole() -> None:
    """Doubts about all rows are told, how the columns were matched is not."""
    job = jobs.faced_job()
    findings = (warn("list-in-capitals", "x"), note("column-by-synonym", "y"))
    job = replace(job, names=replace(job.names, findings=findings))
    assert of_the_whole(job) == ("Most names are written in capitals, and are set like that.",)


def test_words_from_right_to_left_do_not_turn_the_sentence() -> None:
    """A mark on both sides keeps what stands beside an Arabic name in its order."""
    name = "سلمى"
    job = job_of(row(2, name, warn("stray-sign", f'Line 2: "{name}" ends with a sign.')))
    (point,) = decisions(job)
    assert point.text == f"\u200e{name}\u200e"
    assert point.words == (f'"\u200e{name}\u200e" ends with a sign.',)


def test_lines_left_out_on_purpose_are_no_question() -> None:
    """Nobody is asked about them, nor are they counted where a name stands twice."""
    twice = warn("duplicate", "Line 2 says the same as line 3.")
    out = mended_row(row(3, "Fenna"), Mend(held="left out"), {})
    assert decisions(job_of(row(2, "Fenna", twice), out)) == ()

"""Which paper the document pages are for."""

from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.output import proof
from namebatch.output.paper import A4, LETTER, paper_of
from tests.output import doc_jobs, jobs
from tests.output.pages import nothing, read


def printing_on(job: Job, sheet: str) -> Job:
    """The job of a workshop with another printer."""
    printer = replace(job.workshop.printer, sheet=sheet)
    return replace(job, workshop=replace(job.workshop, printer=printer))


@pytest.mark.parametrize(
    ("sheet", "letter"),
    [
        ("a4", False),
        ("a3", False),
        ("letter", True),
        ("215.9x355.6", True),  # legal
        ("279.4x431.8", True),  # tabloid
        ("300x450", False),
    ],
)
def test_the_printer_tells(sheet: str, letter: bool) -> None:
    """Letter for a workshop that prints on letter, legal or tabloid; A4 for all others."""
    assert paper_of(printing_on(jobs.bare_job(), sheet)) is (LETTER if letter else A4)


def test_the_sheets_tell_too() -> None:
    """Letter asked for with this job, whatever the workshop file says."""
    job = jobs.faced_job()
    page = replace(job.sheets[0], size_mm=(279.4, 215.9))
    assert paper_of(replace(job, sheets=(page, *job.sheets[1:]))) is LETTER


def test_margins_are_the_same() -> None:
    """As much above, below and as much at both sides; only the height for blocks differs."""
    assert A4.shift == (0, 0)
    for paper in (A4, LETTER):
        assert paper.size[1] - (paper.shift[1] + paper.bottom + paper.room) == pytest.approx(
            14 * 72 / 25.4
        )
        assert paper.shift[1] + paper.bottom == pytest.approx(18 * 72 / 25.4)


def test_the_proof_is_for_that_paper(tmp_path: Path) -> None:
    """Every piece still stands on it, none runs off the shorter page."""
    job = printing_on(doc_jobs.kite_job("tag"), "letter")
    proof.write(job, tmp_path, nothing)
    pages = read(tmp_path / "proof.pdf")
    assert all(size == pytest.approx((611.97, 792.0), abs=0.1) for size in pages.sizes)
    for piece in job.pieces:
        assert f"Line {piece.line} " in pages.text

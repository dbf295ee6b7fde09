"""What a person at a terminal is told."""

import io
from dataclasses import replace

import pytest
from rich.console import Console

from namebatch.finding import hold
from namebatch.names.row import Row
from namebatch.summary import _caution, _cost, _held_lines, _minutes, _say
from tests.output import doc_jobs


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("علی\u200cرضا", "علی\u200cرضا"),
        ("श्रेष्\u200dठ", "श्रेष्\u200dठ"),
        ("A\x1b[2Jda", "A\ufffd[2Jda"),
        ("A\u202eda", "A\ufffdda"),
    ],
)
def test_what_would_steer_the_terminal_is_replaced(text: str, outcome: str) -> None:
    """Controls and overrides are replaced; joiners are part of the spelling and stay."""
    stream = io.StringIO()
    _say(Console(file=stream, soft_wrap=True), text)
    assert stream.getvalue() == f"{outcome}\n"


@pytest.mark.parametrize(
    ("cutting", "told"),
    [
        (5.8, "14.60: material 8.80, cutting 5.80, at the workshop file's prices"),
        (None, "14.60: material 14.60; the workshop file has no price for the cutter's time"),
    ],
)
def test_a_cost_says_what_it_counts(cutting: float | None, told: str) -> None:
    """Material and cutting apart, and what is left out, as on the work card."""
    job = doc_jobs.without_slot(doc_jobs.kite_job("winder"))
    assert _cost(replace(job, totals=replace(job.totals, cutting_cost=cutting))) == told
    assert _cost(doc_jobs.kite_job("tag")).endswith("not counted: glue, rings, the jig sheet")


@pytest.mark.parametrize(
    ("seconds", "told"),
    [(75, "75 s"), (3560, "59 min"), (3590, "1 h 00 min"), (58980, "16 h 23 min")],
)
def test_long_times_are_told_in_hours(seconds: float, told: str) -> None:
    """From an hour on the terminal says what the work card says."""
    assert _minutes(seconds) == told


def test_the_caution_suits_the_cutter() -> None:
    """A blade makes no fumes; a laser does."""
    job = doc_jobs.kite_job("tag")
    cutter = replace(job.workshop.cutter, kind="blade")
    blade = replace(job, workshop=replace(job.workshop, cutter=cutter))
    assert "extract the fumes" in _caution(job)
    assert "fumes" not in _caution(blade)
    assert "hands off the blade" in _caution(blade)
    for one in (job, blade):
        assert _caution(one).endswith("local rules come first; see workcard.pdf.")


def test_what_is_held_says_so_once() -> None:
    """Rows held for the same reason are one line, with the word at its head alone."""
    rows = [Row(at, {}, {}, 0, (hold("x", f"Line {at}: empty. Held."),)) for at in (2, 3, 7)]
    assert _held_lines(rows) == ["Held: Lines 2, 3, 7: empty."]

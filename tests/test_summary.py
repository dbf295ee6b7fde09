"""What a person at a terminal is told."""

import io

import pytest
from rich.console import Console

from namebatch.finding import hold
from namebatch.job import Totals
from namebatch.names.row import Row
from namebatch.summary import _cost, _held_lines, _say


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
    [(5.8, "10.00: material 4.20, cutting 5.80"), (None, "10.00, the cutter's time not counted")],
)
def test_a_cost_says_what_it_counts(cutting: float | None, told: str) -> None:
    """Material and cutting apart; without a price for an hour it says so."""
    totals = Totals(1, 1, 0, 1, 1, 1, 0, 0, 870.0, 10.0, cutting_cost=cutting)
    assert _cost(totals) == told


def test_what_is_held_says_so_once() -> None:
    """Rows held for the same reason are one line, with the word at its head alone."""
    rows = [Row(at, {}, {}, 0, (hold("x", f"Line {at}: empty. Held."),)) for at in (2, 3, 7)]
    assert _held_lines(rows) == ["Held: Lines 2, 3, 7: empty."]

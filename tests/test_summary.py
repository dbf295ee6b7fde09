"""What a person at a terminal is told."""

import io

import pytest
from rich.console import Console

from namebatch.summary import _say


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

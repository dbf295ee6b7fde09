"""The visual order of a line, character by character."""

from collections.abc import Iterable

from namebatch.text.bidi import LevelRun


def visual_order(runs: Iterable[LevelRun]) -> list[int]:
    """Indices of the characters of a line from left to right, from its runs."""
    order: list[int] = []
    for run in runs:
        places = range(run.start, run.end)
        order += reversed(places) if run.is_right_to_left else places
    return order

"""Dockets on the hook that do not lie open: what is known of them."""

from pathlib import Path

import pytest

from namebatch.desk import Desk
from namebatch.desk import tabletop as tabletop_module
from namebatch.store import counted
from tests.desk.desks import FOBS, all_made, desk_in


def test_counts_are_there_after_a_new_start(tmp_path: Path) -> None:
    """What the hook says of a docket is what was seen last, and it was not opened for it."""
    with desk_in(tmp_path) as desk:
        number = desk.create("Crew", "key-fob", FOBS).number
        all_made(desk, number)
        seen = desk.docket(number)
        assert seen.counts is not None
        assert seen.counts.made == 3
    with desk_in(tmp_path) as desk:
        (view,) = desk.dockets()
        assert (view.counts, view.next) == (seen.counts, seen.next)
        assert (view.problem, view.findings, view.revision > 0) == (None, (), True)


def test_what_was_made_after_the_page_was_closed_is_counted(tmp_path: Path) -> None:
    """Pieces that were made while nobody looked are remembered when the desk is closed."""
    with desk_in(tmp_path) as desk:
        number = desk.create("Crew", "key-fob", FOBS).number
        desk.approve(number, {2: desk.row(number, 2).picture})
        all_made(desk, number)
    with desk_in(tmp_path) as desk:
        (view,) = desk.dockets()
        assert view.counts is not None
        assert (view.counts.made, view.counts.approved, view.counts.waiting) == (3, 1, 0)


def test_a_docket_that_was_put_away_keeps_its_counts(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The one used longest ago makes room, and the hook says of it what was known."""
    monkeypatch.setattr(tabletop_module, "MOST_OPEN", 1)
    first = desk.create("First", "key-fob", FOBS).number
    all_made(desk, first)
    second = desk.create("Second", "key-fob", FOBS).number
    counts = {view.number: view.counts for view in desk.dockets()}
    known = counts[first]
    assert known is not None
    assert (known.lines, known.made) == (3, 3)
    assert counts[second] is not None


def test_a_list_that_was_taken_back_is_not_counted(desk: Desk) -> None:
    """Counts of a list that is there no longer are forgotten."""
    number = desk.create("Crew", "key-fob").number
    desk.put_list(number, FOBS)
    all_made(desk, number)
    desk.docket(number)
    assert counted.known(desk.store, number) is not None
    desk.undo(number)
    assert desk.docket(number).counts is None
    assert counted.known(desk.store, number) is None


def test_counts_of_another_version_are_left_alone(desk: Desk) -> None:
    """What was counted by other words is as good as unknown."""
    number = desk.create("Crew", "key-fob").number
    counted.note(desk.store, number, {"counts": {"rows": 3}, "next": {}})
    with desk_in(desk.store.folder) as other:
        (view,) = other.dockets()
    assert view.counts is None

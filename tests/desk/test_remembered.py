"""Dockets on the hook that do not lie open: what is known of them."""

import shutil
from pathlib import Path

import pytest

from namebatch.desk import Desk
from namebatch.desk import tabletop as tabletop_module
from namebatch.names.mend import Mend
from namebatch.store import counted
from namebatch.template.builtin_workshop import BUILTIN_TOML
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


def test_a_job_is_sent_to_be_cut_only_as_it_would_be_made_now(
    made_data: Path, tmp_path: Path
) -> None:
    """After a change the sheets are to be filled anew; with the change taken back, cut."""
    shutil.copytree(made_data, tmp_path / "data")
    with desk_in(tmp_path / "data") as desk:
        all_made(desk, 1)
        _approve_all(desk)
        view = desk.docket(1)
        assert (view.latest_job, view.next.part) == ("current", "make")
        desk.put_mend(1, 2, Mend(quantity=5))
        _approve_all(desk)
        view = desk.docket(1)
        assert (view.latest_job, view.next.part) == ("changed", "lay-out")
        assert "anew" in view.next.text
    with desk_in(tmp_path / "data") as desk:
        (closed,) = desk.dockets()
        assert (closed.latest_job, closed.next) == (view.latest_job, view.next)
        desk.change_settings(1, {"gap_mm": 5.0})
        assert desk.docket(1).latest_job == "changed"


def test_the_hook_tells_of_a_job_while_a_look_is_outstanding(
    made_data: Path, tmp_path: Path
) -> None:
    """What comes first is the look, and the job is told all the same."""
    shutil.copytree(made_data, tmp_path / "data")
    with desk_in(tmp_path / "data") as desk:
        all_made(desk, 1)
        view = desk.docket(1)
        assert view.counts is not None
        assert (view.latest_job, view.counts.look > 0) == ("current", view.next.part == "look")


def test_a_job_made_with_an_older_workshop_file_is_not_sent_to_be_cut(
    made_data: Path, tmp_path: Path
) -> None:
    """A docket that does not lie open has to be opened before anybody can say."""
    shutil.copytree(made_data, tmp_path / "data")
    with desk_in(tmp_path / "data") as desk:
        all_made(desk, 1)
        _approve_all(desk)
        assert desk.docket(1).next.part == "make"
    (tmp_path / "data" / "workshop.toml").write_text(BUILTIN_TOML.replace("0.09", "0.11"))
    with desk_in(tmp_path / "data") as desk:
        (view,) = desk.dockets()
        assert (view.latest_job, view.next.part) == ("unsure", "look")
        assert "open it" in view.next.text
        assert desk.docket(1).latest_job == "changed"


def _approve_all(desk: Desk) -> None:
    desk.approve(1, {row.line: row.picture for row in desk.rows(1).rows if row.picture})

"""Spoiled pieces of a docket's job made again, as jobs of their own."""

import pytest

from namebatch.desk.made_model import MakeView
from namebatch.desk.remaking import Again
from namebatch.desk.work import Work
from namebatch.errors import DeskError, NotThereError
from namebatch.store import made
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.desk.owner import Owner, Waiter, ended


def remade(owner: Owner, work: Work, job: int, again: Again | None = None) -> MakeView:
    """Make what is spoiled again, to the end."""
    waiter = Waiter(owner, 1)
    work.remake(1, job, again or Again())
    waiter.until("state", "done", "failed")
    return work.state(1)


def test_what_is_spoiled_is_made_again_once(bench: tuple[Owner, Work]) -> None:
    """A remake is a job of its own with sheets that go on; what is spoiled in it comes next."""
    owner, work = bench
    view = work.set_spoiled(1, 1, ["L2-2", "L5-1"])
    assert (view.spoiled, view.remade) == (("L2-2", "L5-1"), ())
    assert remade(owner, work, 1) == MakeView("done", job=2, remake=True)
    first, second = work.jobs(1)
    assert first.remade == ("L2-2", "L5-1")
    assert (second.remake_of, second.pieces_again) == (1, ("L2-2", "L5-1"))
    assert [sheet.id for sheet in second.sheets] == ["face-002"]
    assert not second.stale
    assert made.jobs(owner.store, 1)[1].folder == "jobs/001/remakes/001"
    with pytest.raises(DeskError, match="is marked as spoiled"):
        work.remake(1, 1, Again())
    work.set_spoiled(1, 2, ["L5-1"])
    assert remade(owner, work, 2).job == 3  # asked of the remake, made of the first job
    third = work.jobs(1)[2]
    assert (third.remake_of, third.pieces_again) == (1, ("L5-1",))
    assert [sheet.id for sheet in third.sheets] == ["face-003"]


def test_a_piece_spoiled_once_more_counts_again(bench: tuple[Owner, Work]) -> None:
    """What was made again is spoiled anew once somebody says so after that."""
    owner, work = bench
    work.set_spoiled(1, 1, ["L3-1"])
    assert remade(owner, work, 1).state == "done"
    assert work.jobs(1)[0].remade == ("L3-1",)
    work.set_spoiled(1, 1, [])
    assert work.set_spoiled(1, 1, ["L3-1"]).remade == ()


def test_only_pieces_of_the_job_can_be_spoiled(bench: tuple[Owner, Work]) -> None:
    """An id that the job does not have is refused, and nothing is kept of the others."""
    owner, work = bench
    with pytest.raises(NotThereError, match="has no piece L99-1"):
        work.set_spoiled(1, 1, ["L2-1", "L99-1"])
    assert made.spoiled(owner.store, 1) == ()


def test_a_remake_that_cannot_be_says_why(bench: tuple[Owner, Work]) -> None:
    """What the remake's rooms refuse is told, and the first job stays as it was."""
    owner, work = bench
    work.set_spoiled(1, 1, ["L2-1"])
    view = remade(owner, work, 1, Again(faces=("board",)))
    assert view.state == "failed"
    assert view.remake
    assert view.problem is not None
    assert "board" in view.problem.what
    assert len(work.jobs(1)) == 1
    assert work.jobs(1)[0].whole


def test_what_has_changed_since_is_told_and_can_be_accepted(bench: tuple[Owner, Work]) -> None:
    """With other workshop values a remake waits for leave, told without words of a terminal."""
    owner, work = bench
    owner.workshop_file().write_text(BUILTIN_TOML, encoding="utf-8")
    assert ended(owner, work, 1).job == 2
    faster = BUILTIN_TOML.replace("travel_mm_s = 300", "travel_mm_s = 310")
    owner.workshop_file().write_text(faster, encoding="utf-8")
    work.set_spoiled(1, 2, ["L2-1"])
    view = remade(owner, work, 2)
    assert (view.state, view.changed) == ("failed", True)
    assert view.problem is not None
    assert "workshop file" in " ".join(view.problem.details)
    assert "--" not in " ".join((view.problem.what, *view.problem.details))
    assert remade(owner, work, 2, Again(as_now=True)).job == 3
    notes = " ".join(work.jobs(1)[2].notes)
    assert "something has changed" in notes
    assert "--" not in notes

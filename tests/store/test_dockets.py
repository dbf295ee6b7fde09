"""Dockets are made, listed, copied, renamed and deleted with everything in them."""

import random
import re
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

import pytest

from namebatch.errors import DiskFullError, NoDocketError, StoreError
from namebatch.names.mend import Mend, TextMend
from namebatch.store import (
    Change,
    Choices,
    KeptList,
    MeasuredMark,
    State,
    Store,
    dockets,
    history,
    made,
    open_store,
)
from namebatch.store.model import Setting
from tests.store.conftest import LIST, START, later

MENDS = {
    2: Mend(fields={"name": "Marló"}, was={"name": "Marlo Teasel"}),
    3: Mend(texts={"name": TextMend(lines=("Zoë", "Marram"), shift_mm=(1.5, 0.0))}, quantity=4),
}
CHANGE = Change(settings={"template": "bag-tag", "gap": 3.5}, mends=MENDS, approvals={2: "abc"})


def _full(store: Store, title: str = "Kite Day tags") -> int:
    """A docket with something of everything."""
    number = dockets.create(store, title, START, LIST).number
    history.change(store, number, "set up", later(1), CHANGE)
    job = made.add_job(store, number, "first", "d1g3st", later(2)).number
    made.set_spoiled(store, number, job, ["L2-1", "L3-4"], later(3))
    marks = [MeasuredMark(job, "face-001", "bottom-left", 10.25, -3.5)]
    made.set_measured(store, number, job, marks, later(4))
    return number


def test_everything_comes_back_after_closing(tmp_path: Path) -> None:
    """A list byte for byte, choices, jobs, spoiled pieces and marks outlive the process's end."""
    store = open_store(tmp_path)
    number = _full(store)
    store.close()
    store = open_store(tmp_path)
    assert dockets.kept_list(store, number) == LIST
    assert history.choices(store, number) == Choices(
        {"template": "bag-tag", "gap": 3.5}, MENDS, {2: "abc"}
    )
    assert [job.folder for job in made.jobs(store, number)] == ["first"]
    assert [piece.piece for piece in made.spoiled(store, number)] == ["L2-1", "L3-4"]
    assert made.measured(store, number, 1)[0].x_mm == 10.25
    store.close()


def test_dockets_are_listed_with_counts_last_changed_first(store: Store) -> None:
    """Whoever opens the page sees what was worked on last, and how much there is."""
    number = _full(store)
    other = dockets.create(store, "  Name  signs ", later(60))
    assert [docket.number for docket in dockets.all_dockets(store)] == [other.number, number]
    history.change(store, number, "title", later(70), Change(title="Bag  tags"))
    first = dockets.all_dockets(store)[0]
    assert (first.title, first.created, first.changed) == ("Bag tags", START, later(70))
    assert (first.mends, first.approvals, first.jobs, first.spoiled) == (2, 1, 1, 2)
    assert (first.list_name, first.can_undo, first.can_redo) == ("crew.csv", True, False)
    assert other.title == "Name signs"
    assert dockets.set_state(store, number, State.MAKE, later(71)).state is State.MAKE


def test_a_copy_has_the_list_and_what_was_chosen(store: Store) -> None:
    """It begins afresh: nothing is approved or made, and there is nothing to take back."""
    number = _full(store)
    twin = dockets.copy(store, number, "Kite Day tags, again", later(9))
    assert dockets.kept_list(store, twin.number) == LIST
    assert history.choices(store, twin.number).mends == MENDS
    assert (twin.approvals, twin.jobs, twin.can_undo) == (0, 0, False)
    dockets.delete(store, number)
    assert history.choices(store, twin.number).mends == MENDS


def test_numbers_are_not_given_twice(store: Store) -> None:
    """A number on a printed card must never mean two jobs."""
    number = dockets.create(store, "one", START).number
    dockets.delete(store, number)
    assert dockets.create(store, "two", START).number == number + 1


@pytest.mark.parametrize("held_open", [False, True])
def test_deleting_leaves_no_name_in_any_file(tmp_path: Path, held_open: bool) -> None:
    """Database, log and folder hold nothing of a deleted docket, with a second reader or without.

    So many rows that pages of the database are split and merged while they are written.
    """
    store = open_store(tmp_path)
    other = open_store(tmp_path) if held_open else None
    kept = dockets.create(store, "stays", START).number
    names = [f"Ottilie-Samphire-{number}" for number in range(600)]
    data = "\n".join(["name", *names]).encode()
    number = dockets.create(store, "Ottilie-Samphire title", START, KeptList("o.csv", data)).number
    for part in range(0, 600, 50):
        mends = {line: Mend(fields={"name": names[line]}) for line in range(part, part + 50)}
        history.change(store, number, f"Ottilie-Samphire {part}", later(part), Change(mends=mends))
        history.change(store, kept, "x", later(part), Change(settings={f"s{part}": part * "y"}))
    for part in range(3):
        again = Change(names=KeptList(f"{part}.csv", data + b"%d" % part), title=f"{names[part]}")
        history.change(store, number, "another list", later(690 + part), again)
    for part in range(300):
        history.undo(store, number, later(700 + part))
    for part in range(0, 600, 7):
        changed = Change(mends={part: Mend(held=f"Ottilie-Samphire {part * 'z'}")})
        history.change(store, number, "hold", later(1000 + part), changed)
    if other is not None:
        history.choices(other, number)
    folder = store.docket_folder(number)
    folder.mkdir(parents=True)
    (folder / "job.json").write_text("Ottilie-Samphire", encoding="utf-8")
    assert b"Ottilie-Samphire" in b"".join(
        p.read_bytes() for p in tmp_path.glob("*") if p.is_file()
    )
    assert dockets.delete(store, number).complete
    files = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert store.path in files
    assert [path.name for path in files if b"Ottilie-Samphire" in path.read_bytes()] == []
    assert not folder.exists()
    assert len(history.steps(store, kept)) == 12
    store.close()
    if other is not None:
        other.close()


@pytest.mark.parametrize("seed", [1, 3, 4])
def test_pages_that_were_split_keep_no_copies(tmp_path: Path, seed: int) -> None:
    """Dockets written in turns leave copies in unused parts of pages, which must go as well."""
    chance, store = random.Random(seed), open_store(tmp_path)
    stays = [dockets.create(store, f"stays {k}", START).number for k in range(3)]
    leaves = []
    for number in range(3):
        names = KeptList("Samphire.csv", b"Samphire\n" * chance.randint(1, 3000))
        leaves.append(dockets.create(store, f"Samphire {number}", START, names).number)
    for minute in range(250):
        number = chance.choice(stays + leaves)
        word = "Samphire" if number in leaves else "stays"
        dice = chance.random()
        if dice < 0.7:
            lines = [chance.randint(2, 60) for _ in range(chance.randint(1, 12))]
            mends: dict[int, Mend | None] = {}
            for line in lines:
                held = Mend(held=word * chance.randint(1, 80))
                mends[line] = held if chance.random() < 0.8 else None
            history.change(store, number, f"{word} step", later(minute), Change(mends=mends))
        elif dice < 0.85:
            history.undo(store, number, later(minute))
        else:
            history.redo(store, number, later(minute))
    assert all(dockets.delete(store, number).complete for number in leaves)
    data = b"".join(path.read_bytes() for path in tmp_path.rglob("*") if path.is_file())
    assert data.count(b"stays") > 0
    assert data.count(b"Samphire") == 0
    store.close()


def test_deleting_is_finished_later_if_somebody_reads(tmp_path: Path) -> None:
    """A reader that holds an old state is told of, and the next start ends the work."""
    store, other = open_store(tmp_path), open_store(tmp_path)
    number = dockets.create(store, "Ottilie-Samphire", START).number
    store._connection.execute("PRAGMA busy_timeout = 50")
    with other.reading() as connection:
        connection.execute("SELECT * FROM docket").fetchall()
        outcome = dockets.delete(store, number)
        assert not outcome.complete
        assert outcome.left == ("another namebatch still reads or writes the database",)
    other.close()
    assert dockets.finish_deleting(store).complete
    assert b"Ottilie-Samphire" not in store.path.read_bytes()
    assert dockets.finish_deleting(store).complete
    store.close()


def test_files_that_cannot_be_removed_are_told(store: Store) -> None:
    """Nobody is to believe that something is gone while it still lies there."""
    number = dockets.create(store, "one", START).number
    folder = store.docket_folder(number)
    folder.parent.mkdir(parents=True)
    folder.write_text("a file where a folder should be", encoding="utf-8")
    outcome = dockets.delete(store, number)
    assert not outcome.complete
    assert outcome.left[0].startswith(f"{folder}: ")
    folder.unlink()
    assert dockets.finish_deleting(store).complete


def test_a_deletion_that_was_interrupted_is_ended_at_the_next_start(tmp_path: Path) -> None:
    """The process ends between the database and the files: they go with the next one."""
    store = open_store(tmp_path)
    number = dockets.create(store, "Ottilie-Samphire", START).number
    folder = store.docket_folder(number)
    folder.mkdir(parents=True)
    with store.writing() as connection:
        connection.execute("INSERT INTO leaving VALUES (?)", (number,))
        connection.execute("DELETE FROM docket WHERE number = ?", (number,))
    store.close()
    store = open_store(tmp_path)
    assert not folder.exists()
    files = [path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()]
    assert not any(b"Ottilie-Samphire" in data for data in files)
    store.close()


@pytest.mark.parametrize("call", [dockets.docket, dockets.kept_list, dockets.delete])
def test_a_docket_that_is_not_there_is_told(store: Store, call: object) -> None:
    """Links outlive what they lead to."""
    with pytest.raises(StoreError, match=r"no docket 0042\. It may have been deleted"):
        call(store, 42)  # type: ignore[operator]


def test_what_cannot_be_kept_is_refused(store: Store) -> None:
    """A title of nothing, a time without zone, a value that no file can hold."""
    with pytest.raises(StoreError, match="has no title"):
        dockets.create(store, " \n ", START)
    with pytest.raises(StoreError, match="zone"):
        dockets.create(store, "one", datetime(2031, 5, 4))
    number = dockets.create(store, "half a sign \ud83e", START).number
    assert dockets.docket(store, number).title == "half a sign \ufffd"
    with pytest.raises(StoreError, match="cannot be kept"):
        history.change(store, number, "x", START, Change(settings={"gap": float("nan")}))
    with pytest.raises(StoreError, match="no docket"):
        history.change(store, 99, "x", START, Change(settings={"gap": 1}))
    with pytest.raises(StoreError, match="no job 7"):
        made.set_spoiled(store, number, 7, ["L2-1"], START)
    with pytest.raises(StoreError, match="belongs to another job"):
        made.set_measured(store, number, 1, [MeasuredMark(2, "f", "m", 0, 0)], START)


def test_spoiled_and_measured_are_what_was_said_last(store: Store) -> None:
    """A piece ticked by mistake is unticked; a sheet measured again forgets the first time."""
    number = _full(store)
    made.set_spoiled(store, number, 1, ["L3-4", "L2-1-2"], later(30))
    assert [(p.piece, p.at) for p in made.spoiled(store, number)] == [
        ("L3-4", later(3)),
        ("L2-1-2", later(30)),
    ]
    again = [MeasuredMark(1, "face-001", "top-left", 1.0, 2.0)]
    made.set_measured(store, number, 1, again, later(31))
    assert made.measured(store, number, 1) == tuple(again)


def test_settings_that_a_docket_begins_with_are_no_step(store: Store) -> None:
    """A new docket has nothing to take back, and copies take such settings along."""
    chosen: dict[str, Setting] = {"template": "bag-tag", "gap": 3.5}
    new = dockets.create(store, "Crew", START, LIST, chosen)
    assert not new.can_undo
    assert history.undo(store, new.number, later(1)) is None
    assert history.choices(store, new.number).settings == chosen
    copy = dockets.copy(store, new.number, "again", later(2))
    assert history.choices(store, copy.number).settings == chosen


def test_a_docket_that_is_not_there_is_told_from_one_that_cannot_be_used(store: Store) -> None:
    """Whoever asks can tell the two apart."""
    with pytest.raises(NoDocketError, match="no docket 0009"):
        dockets.docket(store, 9)


def test_deleting_on_a_full_disk_says_what_can_go(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever wants to make room is told which folder, and nothing else is lost."""
    number = dockets.create(store, "one", START).number

    @contextmanager
    def full() -> Iterator[sqlite3.Connection]:
        raise DiskFullError("The disk is full. Nothing was changed; make room on it.")
        yield

    monkeypatch.setattr(store, "writing", full)
    folder = re.escape(str(store.docket_folder(number) / "jobs"))
    with pytest.raises(StoreError, match=rf"is full.*Remove the folder {folder}.*delete"):
        dockets.delete(store, number)


def test_titles_have_no_signs_that_nobody_sees(store: Store) -> None:
    """Control signs and those that turn the reading direction go; all letters stay."""
    title = "Kite\x07 \u202eDay\u2066\tcards\x00 שלום Zoë"
    assert dockets.create(store, title, START).title == "Kite Day cards שלום Zoë"
    with pytest.raises(StoreError, match="no title"):
        dockets.create(store, "\u202e\x07", START)

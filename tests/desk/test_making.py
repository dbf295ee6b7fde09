"""Jobs made in a process of their own: watched, ended early, stopped, killed."""

import errno
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from multiprocessing import active_children
from pathlib import Path
from threading import Event as Flag
from threading import Thread

import pytest

from namebatch.desk.made_model import MakeView, SheetMap
from namebatch.desk.make_process import BROKEN, Order, refusal
from namebatch.desk.making import Makings
from namebatch.desk.model import Event
from namebatch.desk.remaking import job_order
from namebatch.desk.work import Work
from namebatch.errors import DeskError, NoDocketError, NotThereError, StoreError
from namebatch.names.mend import Mend
from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.store import Change, KeptList, dockets, history, made
from tests.conftest import silent
from tests.desk.owner import CARDS, Owner, Waiter, ended, opened

LONG = KeptList(
    "long.csv", ("name\n" + "".join(f"Tern {number}\n" for number in range(400))).encode()
)
SEARCHING = "Looking for fewer sheets"


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[tuple[Owner, Work]]:
    """An empty store."""
    with opened(tmp_path / "data") as pair:
        yield pair


def files_below(folder: Path) -> dict[str, bytes]:
    """Path → content."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def is_there(pid: int) -> bool:
    """Whether a process lives; one that is dead and not yet taken notice of does not."""
    with suppress(OSError):
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    return False


def gone(pid: int) -> bool:
    """Wait until a process has ended."""
    for _ in range(600):
        if not is_there(pid):
            return True
        time.sleep(0.05)
    return False


def test_page_and_command_line_make_identical_files(
    empty: tuple[Owner, Work], tmp_path: Path
) -> None:
    """The job of a docket is byte for byte that of the same list, choices and changes by hand."""
    owner, work = empty
    docket = owner.docket(gap_mm=4.0, columns={"name": "name"}, material="card-160")
    mends = {3: Mend(quantity=2)}
    history.change(owner.store, docket, "mended", owner.now(), Change(mends=mends))
    assert ended(owner, work, docket).state == "done"
    list_file = tmp_path / CARDS.name
    list_file.write_bytes(CARDS.data)
    columns = {"name": "name"}
    settings = Settings("place-card", gap_mm=4.0, columns=columns, mends=mends, material="card-160")
    write_job(make_job(plan_job(list_file, settings), silent), tmp_path / "told", False, silent)
    (job,) = made.jobs(owner.store, docket)
    folder = owner.store.docket_folder(docket)
    assert job.folder == "jobs/001"
    assert files_below(folder / job.folder) == files_below(tmp_path / "told")
    assert [path.name for path in folder.iterdir()] == ["jobs"]  # nothing else of it is left


def test_every_stage_is_told(empty: tuple[Owner, Work]) -> None:
    """Whoever watches hears the stages in their order, and last of all the job's number."""
    owner, work = empty
    docket = owner.docket()
    waiter = Waiter(owner, docket)
    assert work.state(docket).state == "idle"
    assert work.make(docket).state == "running"
    waiter.until("state", "done")
    stages = list(dict.fromkeys(data["stage"] for data in waiter.heard))
    assert stages[:5] == [
        "Getting ready",
        "Reading the list",
        "Making the pieces",
        "Filling the sheets",
        "Writing: cut files",
    ]
    assert stages[-2:] == ["Writing: previews", ""]
    assert work.state(docket) == MakeView("done", job=1)
    assert owner.touches == [docket]


def test_a_job_that_is_impossible_tells_why(empty: tuple[Owner, Work]) -> None:
    """The reason comes in the words of the trade, and no folder is left."""
    owner, work = empty
    docket = owner.docket(gap_mm=500)
    view = ended(owner, work, docket)
    assert view.state == "failed"
    assert view.problem is not None
    assert "A gap of 500 mm" in view.problem.what
    assert files_below(owner.store.docket_folder(docket)) == {}
    assert made.jobs(owner.store, docket) == ()


def test_stop_ends_everything_at_once(empty: tuple[Owner, Work]) -> None:
    """After a stop no process, no file and no name of the list is left of it; a new one goes."""
    owner, work = empty
    docket = owner.docket(LONG)
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("stage", "Making the pieces")
    (process,) = active_children()
    assert process.pid is not None
    assert work.stop(docket) == MakeView("stopped")
    assert not is_there(process.pid)
    assert waiter.heard[-1]["state"] == "stopped"
    assert files_below(owner.store.docket_folder(docket)) == {}
    assert made.jobs(owner.store, docket) == ()
    assert work.stop(docket).state == "stopped"  # and so it stays
    history.change(owner.store, docket, "another list", owner.now(), Change(names=CARDS))
    assert ended(owner, work, docket) == MakeView("done", job=1)


def test_enough_takes_the_sheets_that_there_are(empty: tuple[Owner, Work]) -> None:
    """A search of ten minutes is cut short, and the job is finished with what was found."""
    owner, work = empty
    docket = owner.docket(template="bag-tag", fill="tight", seconds=600)
    waiter = Waiter(owner, docket)
    work.make(docket)
    searching = waiter.until("stage", SEARCHING)
    assert isinstance(searching["sheets"], float)
    assert isinstance(searching["share"], float)
    work.enough(docket)
    waiter.until("state", "done")
    assert work.state(docket).job == 1


def test_a_process_that_dies_is_told(empty: tuple[Owner, Work]) -> None:
    """A make that the system ends, as when memory is full, fails with words and leaves nothing."""
    owner, work = empty
    docket = owner.docket(LONG)
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("stage", "Making the pieces")
    (process,) = active_children()
    os.kill(process.pid or 0, signal.SIGKILL)
    told = waiter.until("state", "failed")
    assert "memory" in str(told["problem"])
    assert files_below(owner.store.docket_folder(docket)) == {}


def test_a_killed_server_takes_its_make_along(tmp_path: Path) -> None:
    """The process ends with the server, and what it left is cleared at the next start."""
    data = tmp_path / "data"
    command = [sys.executable, "-m", "tests.desk.killed", str(data)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout is not None
            pids = [int(word) for word in server.stdout.readline().split()]
            left = files_below(data / "dockets")
        finally:
            server.kill()
    assert pids
    assert all(gone(pid) for pid in pids)
    assert left  # its place is locked and not empty while it works
    with opened(data) as (owner, work):
        assert files_below(data / "dockets") == {}
        told = work.state(1)  # so that whoever went to lunch hears of it
        assert told.state == "failed"
        assert told.problem is not None
        assert "was broken off when the program ended" in told.problem.what
        assert made.jobs(owner.store, 1) == ()


def test_one_job_of_a_docket_at_a_time(empty: tuple[Owner, Work]) -> None:
    """A second wish is refused while the first is under way, here or by another server."""
    owner, work = empty
    docket = owner.docket(template="bag-tag", fill="tight", seconds=600)
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("stage", SEARCHING)
    with pytest.raises(DeskError, match="being made already"):
        work.make(docket)
    second = Work(owner, owner.now)  # as another server on the same data would have it
    again = Waiter(owner, docket)
    second.make(docket)
    told = again.until("state", "failed")
    assert "by another namebatch" in str(told["problem"])
    assert work.state(docket).state == "running"
    work.stop(docket)


def test_further_dockets_wait_for_their_turn(empty: tuple[Owner, Work]) -> None:
    """Two are made at a time; a third says that it waits, and can be stopped meanwhile."""
    owner, work = empty
    for _ in range(2):
        number = owner.docket(template="bag-tag", fill="tight", seconds=600)
        waiter = Waiter(owner, number)
        work.make(number)
        waiter.until("stage", SEARCHING)
    third = owner.docket()
    assert "Waiting" in work.make(third).stage
    assert work.stop(third).state == "stopped"


def test_deleting_a_docket_stops_its_make(empty: tuple[Owner, Work]) -> None:
    """What is made for a docket that is deleted ends before its folder goes."""
    owner, work = empty
    docket = owner.docket(LONG)
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("stage", "Making the pieces")
    with work.leaving(docket):
        assert dockets.delete(owner.store, docket).complete
    assert not owner.store.docket_folder(docket).exists()
    with pytest.raises(StoreError, match="There is no docket"):
        work.state(docket)


def test_nothing_begins_for_a_docket_that_leaves_or_is_gone(empty: tuple[Owner, Work]) -> None:
    """A make that was asked for before a deletion is refused during it, and after it too."""
    owner, _ = empty
    docket = owner.docket()
    order = job_order(owner.store, docket, owner.recipe(docket))
    makings = Makings(owner.store, lambda *_: None, owner.now)
    with makings.leaving(docket):
        with pytest.raises(NoDocketError, match="is being deleted"):
            makings.start(docket, order)
        assert dockets.delete(owner.store, docket).complete
        with pytest.raises(NoDocketError, match="deleted"):
            makings.start(docket, order)
    with pytest.raises(NoDocketError, match="There is no docket"):
        makings.start(docket, order)
    assert not owner.store.docket_folder(docket).exists()


def test_a_docket_whose_deletion_failed_can_be_made_again(empty: tuple[Owner, Work]) -> None:
    """A deletion that was broken off leaves nothing closed behind it."""
    owner, work = empty
    docket = owner.docket()
    with suppress(KeyError), work.leaving(docket):
        raise KeyError
    assert ended(owner, work, docket).state == "done"


def test_a_make_that_is_just_beginning_can_be_stopped(empty: tuple[Owner, Work]) -> None:
    """A stop that comes with the very first word of a make ends it like any other."""
    owner, work = empty
    docket = owner.docket(LONG)
    told: list[MakeView | BaseException] = []

    def stop() -> None:
        try:
            told.append(work.stop(docket))
        except RuntimeError as error:
            told.append(error)

    stopping, begun = Thread(target=stop), Flag()

    def hear(event: Event) -> None:
        if event.kind == "make" and not begun.is_set():
            stopping.start()
            begun.set()
            stopping.join(0.5)

    owner.hub.listen(docket, hear)
    with suppress(DeskError):
        work.make(docket)
    assert begun.wait(30.0)
    stopping.join(30.0)
    assert told == [MakeView("stopped")]
    assert files_below(owner.store.docket_folder(docket)) == {}


def test_nothing_begins_once_all_is_closed(empty: tuple[Owner, Work]) -> None:
    """A request that comes in the last moment is refused, and tells why."""
    owner, work = empty
    docket = owner.docket()
    work.close()
    with pytest.raises(DeskError, match="is being closed"):
        work.make(docket)


@pytest.mark.parametrize("how", ["politely", "killed"])
def test_a_make_that_the_end_broke_off_is_told_after_the_next_start(
    tmp_path: Path, how: str
) -> None:
    """In MAKE, until the start after it, or until another one is made; nothing of it is kept."""
    with opened(tmp_path) as (owner, work):
        docket = owner.docket(LONG)
        folder = owner.store.docket_folder(docket)
        if how == "politely":
            waiter = Waiter(owner, docket)
            work.make(docket)
            waiter.until("stage", "Making the pieces")
    if how == "killed":
        place = folder / "making"
        place.mkdir(parents=True)
        (place / "lock").touch()
    with opened(tmp_path) as (owner, work):
        view = work.state(docket)
        assert view.state == "failed"
        assert view.problem is not None
        assert re.fullmatch(
            r"The make of .*\d\d:\d\d was broken off when the program ended; nothing of it is "
            r"kept\. Make it again\.",
            view.problem.what,
        )
        assert work.state(docket) == view
        assert files_below(folder) == {}
    with opened(tmp_path) as (owner, work):
        assert work.state(docket) == MakeView()


def test_a_make_that_was_stopped_by_hand_is_not_told_again(tmp_path: Path) -> None:
    """Nor is one that was done."""
    with opened(tmp_path) as (owner, work):
        done, stopped = owner.docket(), owner.docket(LONG)
        assert ended(owner, work, done).state == "done"
        waiter = Waiter(owner, stopped)
        work.make(stopped)
        waiter.until("stage", "Making the pieces")
        assert work.stop(stopped).state == "stopped"
    with opened(tmp_path) as (_, work):
        assert work.state(done) == work.state(stopped) == MakeView()


def test_folders_without_a_docket_go_at_the_next_start(tmp_path: Path) -> None:
    """What was written for a docket that was deleted goes; what this store never had stays."""
    with opened(tmp_path) as (owner, _):
        kept, lost = owner.docket(), owner.docket()
        dockets.delete(owner.store, lost)
        theirs = owner.store.docket_folder(kept) / "jobs" / "001"
        theirs.mkdir(parents=True)
        for name in (f"{lost:04d}", "0977", "10977", "notes", f"{lost}"):
            (tmp_path / "dockets" / name / "jobs").mkdir(parents=True)
    with opened(tmp_path):
        there = sorted(path.name for path in (tmp_path / "dockets").iterdir())
    assert there == [f"{kept:04d}", "0977", "10977", f"{lost}", "notes"]
    assert theirs.is_dir()


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are seen by /proc")
def test_workers_of_a_make_that_was_killed_end_with_it(empty: tuple[Owner, Work]) -> None:
    """Killed by the system while its workers are at work, it leaves none of them behind."""
    owner, work = empty
    docket = owner.docket(LONG)
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("stage", "Making the pieces")
    (process,) = active_children()
    workers = children_of(process.pid or 0, 2)
    assert len(workers) >= 2
    os.kill(process.pid or 0, signal.SIGKILL)
    waiter.until("state", "failed")
    assert all(gone(pid) for pid in workers)


def children_of(pid: int, least: int) -> list[int]:
    """Processes that one has started, once there are so many."""
    file = Path(f"/proc/{pid}/task/{pid}/children")
    for _ in range(600):
        found = [int(word) for word in file.read_text().split()]
        if len(found) >= least:
            return found
        time.sleep(0.05)
    return []


def test_sheets_can_be_looked_at_as_soon_as_they_are_filled(empty: tuple[Owner, Work]) -> None:
    """While files are written each sheet is shown as the job then has it; afterwards no more."""
    owner, work = empty
    docket = owner.docket()
    seen: list[SheetMap] = []

    def look(event: Event) -> None:
        """In the very moment at which it is told."""
        if event.kind == "make" and event.data["laid"] == len(seen) + 1:
            seen.append(work.laid(docket, len(seen) + 1))

    owner.hub.listen(docket, look)
    with pytest.raises(NotThereError, match="not filled yet"):
        work.laid(docket, 1)
    assert ended(owner, work, docket).state == "done"
    (job,) = work.jobs(docket)
    assert [sheet.id for sheet in seen] == [sheet.id for sheet in job.sheets]
    for sheet in seen:
        whole = work.sheet(docket, 1, sheet.id)
        for one, other in zip(sheet.placements, whole.placements, strict=True):
            assert replace(one, at_mm=other.at_mm) == other
            assert one.at_mm == pytest.approx(other.at_mm, abs=0.002)  # rounded from other digits
    with pytest.raises(NotThereError, match="its job is done"):
        work.laid(docket, 1)


def test_a_full_disk_is_told_wherever_it_shows(tmp_path: Path) -> None:
    """Before anything is written, too, it is the disk and no fault of the program."""
    order = Order(tmp_path, tmp_path / "jobs/001")
    told = refusal(order, OSError(errno.ENOSPC, "No space left on device"))
    assert "the disk is full. Make room" in told.what
    assert refusal(order, OSError(errno.EIO, "Input/output error")).what == BROKEN
    assert refusal(order, ValueError("x")).problems == ("ValueError: x",)

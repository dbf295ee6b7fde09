"""Where a job is being made in a docket's folder, and clearing what makes that were killed left.

A docket's folder holds ``jobs/001`` and so on, remakes in ``jobs/001/remakes/001``, and while a
job is made ``making``: a file that its process keeps locked, and what it needs. The system lets go
of the lock when the process ends, however it ends. What is noted nowhere is nobody's then.
"""

import os
import shutil
import time
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from namebatch.desk.disk import remedy_for
from namebatch.errors import OutputError
from namebatch.measured.jobsheet import REMAKES

try:
    import fcntl
except ImportError:  # a system without such locks: what is left behind there stays
    fcntl = None  # type: ignore[assignment]

JOBS: Final = "jobs"
PATIENCE_S: Final = 1.0
PAUSE_S: Final = 0.05
_MAKING: Final = "making"
_LOCK: Final = "lock"
_BROKEN_OFF: Final = "broken-off"


@contextmanager
def making_in(docket: Path) -> Iterator[Path]:
    """A place for what one make needs beside its job's folder, removed at the end.

    Args:
        docket: folder of the docket.

    Raises:
        OutputError: another job is being made there, or the folder cannot be written.
    """
    place = docket / _MAKING
    try:
        place.mkdir(parents=True, exist_ok=True)
        lock = _lock(place)
    except OSError as error:
        raise OutputError(
            f"Nothing can be written into the docket's folder {docket}: {error.strerror}. "
            f"{remedy_for(error, docket)}"
        ) from error
    if lock is None:
        raise OutputError(
            "Another job of this docket is being made, by another namebatch. Wait until it is "
            "done, or stop it there."
        )
    try:
        _empty(place)
        yield place
    finally:
        shutil.rmtree(place, ignore_errors=True)
        os.close(lock)


def clear_left(docket: Path, noted: Collection[str]) -> bool:
    """Remove what makes that were killed left in a docket's folder; what is in use stays.

    Args:
        docket: folder of the docket.
        noted: job folders below it that are known, as ``jobs/001``.

    Returns:
        False if a job is being made there, or the system cannot tell.
    """
    place = docket / _MAKING
    if not place.is_dir():
        return True  # every make begins with it, and it goes last
    lock = _lock_soon(place) if fcntl is not None else None
    if lock is None:
        return False
    try:
        _clear_jobs(docket, frozenset(noted))
        shutil.rmtree(place, ignore_errors=True)
    finally:
        os.close(lock)
    return True


def note_broken_off(docket: Path, begun: float) -> None:
    """Note that a make was broken off by the end of the program.

    Args:
        docket: folder of the docket.
        begun: when, in seconds since 1970.
    """
    with suppress(OSError):
        docket.mkdir(parents=True, exist_ok=True)
        (docket / _BROKEN_OFF).write_text(f"{begun:.0f}\n", encoding="ascii")


def broken_off(docket: Path) -> float | None:
    """When a make was begun that the end of the program broke off; told once.

    Call it before `clear_left`: of a make that was killed nothing is noted, it is there.

    Returns:
        Seconds since 1970; None if none was broken off.
    """
    note, lock = docket / _BROKEN_OFF, docket / _MAKING / _LOCK
    try:
        begun = float(note.read_text(encoding="ascii"))
        note.unlink()
        return begun
    except (OSError, ValueError):
        pass
    with suppress(OSError):
        return lock.stat().st_mtime
    return None


def clear_strays(folder: Path, deleted: Callable[[int], bool]) -> None:
    """Remove folders of dockets that were deleted, should something have been written there since.

    Args:
        folder: where the dockets' folders lie, each by its number in at least four digits.
        deleted: whether there was a docket of a number, and there is none any more.
    """
    with suppress(OSError):
        for path in sorted(folder.iterdir()):
            name = path.name
            numbered = name.isascii() and name.isdigit() and name == f"{int(name):04d}"
            if numbered and deleted(int(name)):
                _remove(path)


def next_job(docket: Path, noted: Collection[str]) -> str:
    """Where the next job of a list goes, below the docket's folder: a name that never was used."""
    below = docket / JOBS
    there = [path.name for path in below.iterdir()] if below.is_dir() else []
    names = [*there, *(folder.split("/")[1] for folder in noted if "/" in folder)]
    numbers = [int(name) for name in names if name.isascii() and name.isdigit()]
    return f"{JOBS}/{max(numbers, default=0) + 1:03d}"


def _empty(place: Path) -> None:
    """What a killed make left in the place that is ours now; the lock is."""
    for path in place.iterdir():
        if path.name != _LOCK:
            _remove(path)
            if path.is_file():
                path.unlink()


def _clear_jobs(docket: Path, noted: frozenset[str]) -> None:
    """Folders of jobs that are noted nowhere, and those in which files were put together."""
    with suppress(OSError):
        for job in sorted((docket / JOBS).iterdir()):
            if f"{JOBS}/{job.name}" not in noted:
                _remove(job)
                continue
            below = job / REMAKES
            for remake in sorted(below.iterdir()) if below.is_dir() else []:
                if f"{JOBS}/{job.name}/{REMAKES}/{remake.name}" not in noted:
                    _remove(remake)


def _remove(path: Path) -> None:
    """A folder with all in it; a link or a file that somebody put there stays."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)


def _lock_soon(place: Path) -> int | None:
    """Take hold of a place that a process which was just killed may have had.

    A process that it was about to start has its files open for a moment longer.
    """
    until = time.monotonic() + PATIENCE_S
    while (lock := _lock(place)) is None and time.monotonic() < until:
        time.sleep(PAUSE_S)
    return lock


def _lock(place: Path) -> int | None:
    """Take hold of a place; None if somebody else has it."""
    lock = os.open(place / _LOCK, os.O_RDWR | os.O_CREAT, 0o600)
    if fcntl is None:
        return lock
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(lock)
        return None
    except OSError:
        return lock  # a disk that knows no locks is written to all the same
    with suppress(FileNotFoundError):
        if os.path.samestat(os.fstat(lock), (place / _LOCK).stat()):
            return lock
    os.close(lock)  # it was removed between the two: whoever did that is at its end
    return None

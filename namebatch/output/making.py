"""The hidden folder in which a job is put together, and those that a killed run left behind.

A run that is killed cannot tidy up, and what it leaves holds names. Each folder has a file that
its run keeps locked; the system lets go of the lock when the run ends, however it ends. So a
folder whose lock can be had belongs to nobody any more. The lock is the first file in it and the
last to go, so that a run which is killed while it tidies up leaves no folder without one.
"""

import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

try:
    import fcntl
except ImportError:  # a system without such locks: what is left behind there stays
    fcntl = None  # type: ignore[assignment]

NEW: Final = "new"
"""Folder in it: the files to come."""
OLD: Final = "old"
"""Folder in it: files that left the job folder; while it is there they may yet come back."""
COMING: Final = "coming"
"""File in it: paths of the files to come, one a line, before the first of them is moved."""

_GONE: Final = "gone"
_LOCK: Final = "lock"
_LARGEST_LOCK: Final = 8192
_TRIES: Final = 100


@contextmanager
def making_place(out: Path) -> Iterator[Path]:
    """A folder on the same disk as `out`, removed at the end whatever happens.

    Beside `out`, or in it where only that will do: a folder may be a disk of its own. What
    earlier runs for the same folder left is removed: at once where it only holds files that
    were being made, and once this job stands where it holds files of the job before it. Files
    that had left the job folder when the work failed, and are still here, stay.

    Args:
        out: the job folder, resolved; the folder above it must exist.
    """
    _remove_left(out, with_old=False)
    place, lock = _begun(out.parent if lies_beside(out) else out, out)
    try:
        try:
            (place / NEW).mkdir()
            yield place
        except BaseException:
            if not _holds_files(place / OLD):
                remove_place(place)
            raise
        remove_place(place)
    finally:
        if lock is not None:
            os.close(lock)
    _remove_left(out, with_old=True)


def lies_beside(out: Path) -> bool:
    """True if a folder beside a job folder is on the same disk and can be written.

    Args:
        out: the job folder, resolved; the folder above it must exist.
    """
    return not out.exists() or (
        os.access(out.parent, os.W_OK) and out.parent.stat().st_dev == out.stat().st_dev
    )


def places(out: Path) -> list[Path]:
    """Folders in which runs for this job folder put, or have put, a job together."""
    ours = re.compile(re.escape(_prefix(out)) + r"[a-z0-9_]{8}")  # as tempfile names them
    found = []
    for folder in (out.parent, out):
        with suppress(OSError):
            found += [p for p in sorted(folder.iterdir()) if ours.fullmatch(p.name)]
    return [place for place in found if not place.is_symlink()]


@contextmanager
def held(place: Path, out: Path) -> Iterator[bool]:
    """Hold the lock of a place; True if it is for this job folder, and no run is at work there."""
    if fcntl is None:
        yield False
        return
    try:
        lock = os.open(place / _LOCK, os.O_RDWR | os.O_NOFOLLOW)
    except OSError:
        yield False
        return
    try:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)  # refused while a run holds it
            said = os.read(lock, _LARGEST_LOCK)
            # a run that was killed before it could say for which folder has made nothing there
            mine = said == os.fsencode(out.name) or (not said and _only_lock(place))
        except OSError:
            mine = False
        yield mine
    finally:
        os.close(lock)


def remove_place(place: Path) -> None:
    """Remove a place whose lock is held; never fails, and killed half-way it can be gone on with.

    What had left the job folder is given up in one step, so that no part of it is put back.
    """
    with suppress(OSError):
        if (place / OLD).is_dir():
            (place / OLD).rename(place / _GONE)
        for path in sorted(place.iterdir()):
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path, ignore_errors=True)
            elif path.name != _LOCK:
                path.unlink(missing_ok=True)
        if _only_lock(place):
            (place / _LOCK).unlink()
            place.rmdir()


def _prefix(out: Path) -> str:
    return f".{out.name[:60]}.making-"


def _begun(where: Path, out: Path) -> tuple[Path, int | None]:
    """A new place and its lock, held where the system can; it says for which job folder it is."""
    for _ in range(_TRIES):
        place = Path(tempfile.mkdtemp(prefix=_prefix(out), dir=where))
        # another run takes what has no lock yet, or is not held yet, for left behind
        with suppress(FileNotFoundError):
            lock = os.open(place / _LOCK, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
            if fcntl is not None:
                # a disk that knows no locks is written to all the same; nothing goes there later
                with suppress(OSError):
                    fcntl.flock(lock, fcntl.LOCK_EX)
            if os.path.lexists(place / _LOCK):
                os.write(lock, os.fsencode(out.name))
                if fcntl is not None:
                    return place, lock
                os.close(lock)  # such systems remove no file that is open
                return place, None
            os.close(lock)
    raise OSError(f"no folder of its own could be kept in {where}")


def _only_lock(place: Path) -> bool:
    return [path.name for path in place.iterdir()] == [_LOCK]


def _holds_files(folder: Path) -> bool:
    return folder.is_dir() and any(not path.is_dir() for path in folder.rglob("*"))


def _remove_left(out: Path, *, with_old: bool) -> None:
    """Remove what killed runs for this folder left; never fails, leaves what it is unsure of.

    Args:
        out: the job folder.
        with_old: also those that hold files which a run had moved out of the job folder and
            not yet replaced: they may be all there is of that job.
    """
    for place in places(out):
        with suppress(OSError), held(place, out) as mine:
            if mine and (with_old or not _holds_files(place / OLD)):
                remove_place(place)
        with suppress(OSError):
            place.rmdir()  # refuses by itself while anything is in it

"""The hidden folder in which a job is put together, and those that a killed run left behind.

A run that is killed cannot tidy up, and what it leaves holds names. Each folder has a file that
its run keeps locked; the system lets go of the lock when the run ends, however it ends. So a
folder whose lock can be had belongs to nobody any more.
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

NEW, OLD = "new", "old"
"""Folders in it: the files to come, and those that leave."""

_LOCK: Final = "lock"
_LARGEST_LOCK: Final = 8192


@contextmanager
def making_place(out: Path) -> Iterator[Path]:
    """A folder on the same disk as `out`, removed at the end whatever happens.

    Beside `out`, or in it where only that will do: a folder may be a disk of its own. What
    earlier runs for the same folder left is removed: at once where it only holds files that
    were being made, and once this job stands where it holds files of the job before it.

    Args:
        out: the job folder, resolved; the folder above it must exist.
    """
    beside = not out.exists() or (
        os.access(out.parent, os.W_OK) and out.parent.stat().st_dev == out.stat().st_dev
    )
    _remove_left(out, with_old=False)
    place = Path(tempfile.mkdtemp(prefix=_prefix(out), dir=out.parent if beside else out))
    lock = _locked(place / _LOCK, out)
    try:
        (place / NEW).mkdir()
        yield place
    except BaseException:
        _remove(place, lock)
        raise
    _remove(place, lock)
    _remove_left(out, with_old=True)


def _prefix(out: Path) -> str:
    return f".{out.name[:60]}.making-"


def _locked(path: Path, out: Path) -> int:
    """Make the lock file of a new place and hold it; it says for which job folder it is."""
    lock = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    if fcntl is not None:
        # a disk that knows no locks is written to all the same; nothing is removed there later
        with suppress(OSError):
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    os.write(lock, os.fsencode(out.name))
    return lock


def _remove(place: Path, lock: int) -> None:
    shutil.rmtree(place, ignore_errors=True)
    os.close(lock)


def _remove_left(out: Path, *, with_old: bool) -> None:
    """Remove what killed runs for this folder left; never fails, leaves what it is unsure of.

    Args:
        out: the job folder.
        with_old: also those that hold files which a run had moved out of the job folder and
            not yet replaced: they may be all there is of that job.
    """
    ours = re.compile(re.escape(_prefix(out)) + r"[a-z0-9_]{8}")  # as tempfile names them
    for folder in (out.parent, out):
        with suppress(OSError):
            for place in sorted(folder.iterdir()):
                if ours.fullmatch(place.name):
                    _remove_if_left(place, out, with_old=with_old)


def _remove_if_left(place: Path, out: Path, *, with_old: bool) -> None:
    """Remove one place if it is for this job folder and no run holds it."""
    if fcntl is None or place.is_symlink():
        return
    with suppress(OSError):
        lock = os.open(place / _LOCK, os.O_RDWR | os.O_NOFOLLOW)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)  # refused while a run holds it
            same = os.read(lock, _LARGEST_LOCK) == os.fsencode(out.name)
            old = place / OLD
            if same and (with_old or not old.is_dir() or not any(old.iterdir())):
                shutil.rmtree(place, ignore_errors=True)
        finally:
            os.close(lock)

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
from pathlib import Path, PurePosixPath
from typing import Final

try:
    import fcntl
except ImportError:  # a system without such locks: what is left behind there stays
    fcntl = None  # type: ignore[assignment]

NEW, OLD = "new", "old"
"""Folders in it: the files to come, and those that leave."""
COMING: Final = "coming"
"""File in it: paths of the files to come, one a line, before the first of them is moved."""

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
    _remove_left(out, with_old=False)
    where = out.parent if lies_beside(out) else out
    place = Path(tempfile.mkdtemp(prefix=_prefix(out), dir=where))
    lock = _locked(place / _LOCK, out)
    try:
        (place / NEW).mkdir()
        yield place
    except BaseException:
        _remove(place, lock)
        raise
    _remove(place, lock)
    _remove_left(out, with_old=True)


def lies_beside(out: Path) -> bool:
    """True if a folder beside a job folder is on the same disk and can be written.

    Args:
        out: the job folder, resolved; the folder above it must exist.
    """
    return not out.exists() or (
        os.access(out.parent, os.W_OK) and out.parent.stat().st_dev == out.stat().st_dev
    )


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
    for place in _places(out):
        with suppress(OSError), _held(place, out) as mine:
            old = place / OLD
            if mine and (with_old or not old.is_dir() or not any(old.iterdir())):
                shutil.rmtree(place, ignore_errors=True)


def put_back(out: Path) -> None:
    """Put what a killed run had taken out of a job folder back, as it was before that run.

    Files that it had put there instead are taken away; those of others are left alone. Nothing
    happens while a run is at work, or where the folder is as its last run left it.

    Args:
        out: the job folder, resolved.

    Raises:
        OSError: a file cannot be moved; what is left then can be put back another time.
    """
    if fcntl is None or not out.is_dir():
        return
    for place in _places(out):
        if not (place / OLD).is_dir():
            continue
        with _held(place, out) as mine:
            if mine:
                _put_back_from(place, out)


def _put_back_from(place: Path, out: Path) -> None:
    """The files to come first, the manifest of the job before last."""
    leaving = [path for path in sorted((place / OLD).rglob("*")) if not path.is_dir()]
    names = [path.relative_to(place / OLD).as_posix() for path in leaving]
    coming = place / COMING
    listed = coming.read_text(encoding="utf-8").splitlines() if coming.is_file() else []
    for name in [*listed, *names]:
        if not _plain(name) or any(parent.is_symlink() for parent in _above(out, name)):
            return
    for name in listed:
        came = not os.path.lexists(place / NEW / name)
        if came and name not in names and not (out / name).is_dir():
            (out / name).unlink(missing_ok=True)
    for name in sorted(names, key=lambda name: (name == "job.json", name)):
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (place / OLD / name).replace(out / name)
    shutil.rmtree(place, ignore_errors=True)


def _plain(name: str) -> bool:
    path = PurePosixPath(name)
    return bool(name) and not path.is_absolute() and ".." not in path.parts


def _above(out: Path, name: str) -> list[Path]:
    return [out / parent for parent in PurePosixPath(name).parents][:-1]


def _places(out: Path) -> list[Path]:
    """Folders in which runs for this job folder put, or have put, a job together."""
    ours = re.compile(re.escape(_prefix(out)) + r"[a-z0-9_]{8}")  # as tempfile names them
    found = []
    for folder in (out.parent, out):
        with suppress(OSError):
            found += [p for p in sorted(folder.iterdir()) if ours.fullmatch(p.name)]
    return [place for place in found if not place.is_symlink()]


@contextmanager
def _held(place: Path, out: Path) -> Iterator[bool]:
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
            mine = os.read(lock, _LARGEST_LOCK) == os.fsencode(out.name)
        except OSError:
            mine = False
        yield mine
    finally:
        os.close(lock)

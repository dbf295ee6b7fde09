"""Where sections lie until the job is whole: a hidden folder that the same command goes on from.

Beside the job folder, or in it where only that will do (as `output.making`), named after it, and
kept locked by the run that is at work there. A file in it says which job it is for; sections of
another one are removed. Nothing in it is trusted further than its digests go, and nothing is
unpickled.
"""

import json
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from namebatch.errors import OutputError, WorkerError
from namebatch.output.making import lies_beside
from namebatch.output.target import listed_files
from namebatch.sections.section import digests_below
from namebatch.sections.task import Counts, Whole

try:
    import fcntl
except ImportError:  # a system without such locks: nothing is kept there
    fcntl = None  # type: ignore[assignment]

MARKER: Final = "section.json"
_LOCK: Final = "lock"
_KEY: Final = "key"
_LARGEST_MARKER: Final = 64 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Place:
    """A folder with sections in it."""

    folder: Path

    def of(self, number: int) -> Path:
        """Where a section lies that is whole."""
        return self.folder / f"{number:05d}"

    def begun(self, number: int) -> Path:
        """An empty folder for a section to be made in."""
        folder = self.folder / f"{number:05d}.coming"
        _remove(folder)
        folder.mkdir()
        return folder

    def put(self, whole: Whole) -> None:
        """Let a section stand that was made in its `begun` folder: the marker, then the name."""
        coming = self.folder / f"{whole.number:05d}.coming"
        content = {
            "number": whole.number,
            "counts": _counts_json(whole.counts),
            "before": _counts_json(whole.before),
            "files": dict(whole.files),
        }
        with (coming / MARKER).open("w", encoding="utf-8") as stream:
            json.dump(content, stream, sort_keys=True, indent=1)
            stream.flush()
            os.fsync(stream.fileno())
        _remove(self.of(whole.number))
        coming.rename(self.of(whole.number))

    def whole(self, number: int) -> Whole | None:
        """A section that stands there as it was written; None if there is none."""
        folder = self.of(number)
        try:
            if folder.is_symlink() or (folder / MARKER).stat().st_size > _LARGEST_MARKER:
                return None
            content = json.loads((folder / MARKER).read_bytes())
            found = Whole(
                content["number"],
                _counts_from(content["counts"]),
                _counts_from(content["before"]),
                content["files"],
            )
            there = digests_below(folder)
            del there[MARKER]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return None
        plain = listed_files(folder, {"files": there})
        return found if found.number == number and found.files == there == plain else None


def _counts_json(counts: Counts) -> dict[str, object]:
    return {
        "faces": counts.faces,
        "boards": counts.boards,
        "pages": counts.pages,
        "used": list(counts.used),
    }


def _counts_from(content: Mapping[str, Any]) -> Counts:
    faces, boards, pages = (int(content[name]) for name in ("faces", "boards", "pages"))
    return Counts(faces, boards, pages, tuple(map(str, content["used"])))


@contextmanager
def kept_place(out: Path, key: str) -> Iterator[Place | None]:
    """The folder for the sections of a job; removed at the end, but kept where going on will do.

    It is kept when the run is broken off (Ctrl-C, killed) or has lost a worker: what is whole in
    it is taken by the next run.

    Args:
        out: the job folder, resolved; the folder above it must exist.
        key: what makes the job the same job, in hexadecimal.

    Yields:
        The place; None where the system cannot keep two runs apart.

    Raises:
        OutputError: another run is at work there, or it is not ours.
    """
    folder = _folder(out)
    lock = None if fcntl is None else _locked(folder, out)
    if lock is None:
        yield None
        return
    keep = False
    try:
        _made_ready(folder, key)
        yield Place(folder)
    except (KeyboardInterrupt, SystemExit, GeneratorExit, WorkerError):
        keep = True
        raise
    finally:
        if keep:
            _remove_unfinished(folder)
        else:
            shutil.rmtree(folder, ignore_errors=True)
        os.close(lock)


def forget_sections(out: Path) -> None:
    """Remove what a run that was broken off kept for a job folder; never fails.

    Args:
        out: the job folder, resolved.
    """
    folder = _folder(out)
    if fcntl is not None and folder.is_dir() and not folder.is_symlink():
        with suppress(OSError, OutputError):
            lock = _locked(folder, out)
            shutil.rmtree(folder, ignore_errors=True)
            if lock is not None:
                os.close(lock)


def kept_for(out: Path) -> Path | None:
    """The folder with sections that a run for a job folder has kept; None if there is none."""
    folder = _folder(out.resolve())
    return folder if folder.is_dir() else None


def _folder(out: Path) -> Path:
    digest = sha256(os.fsencode(out.name)).hexdigest()[:8]
    name = f".{out.name[:60]}.sections-{digest}"
    return (out.parent if lies_beside(out) else out) / name


def _locked(folder: Path, out: Path) -> int | None:
    """Hold the folder; None where the disk knows no locks."""
    while True:
        # only its owner may look into it: it holds names
        folder.mkdir(mode=0o700, exist_ok=True)
        if folder.is_symlink() or folder.stat().st_uid != os.geteuid():
            raise OutputError(
                f"{folder} belongs to somebody else. Move it away and make the job again."
            )
        lock = os.open(folder / _LOCK, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(lock)
            raise OutputError(
                f"Another namebatch is making the job in {out} just now. Wait until it is done, or "
                "choose another folder."
            ) from None
        except OSError:
            os.close(lock)
            shutil.rmtree(folder, ignore_errors=True)
            return None
        with suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(lock), (folder / _LOCK).stat()):
                return lock
        os.close(lock)  # whoever had it removed it between the two, and is at its end


def _made_ready(folder: Path, key: str) -> None:
    """Remove what belongs to another job, and what was not finished."""
    note = folder / _KEY
    same = note.is_file() and not note.is_symlink() and note.stat().st_size == len(key)
    if not same or note.read_text(encoding="ascii", errors="replace") != key:
        for path in folder.iterdir():
            if path.name != _LOCK:
                _remove(path)
        note.write_text(key, encoding="ascii")
    _remove_unfinished(folder)


def _remove_unfinished(folder: Path) -> None:
    with suppress(OSError):
        for path in sorted(folder.glob("*.coming")):
            _remove(path)


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink(missing_ok=True)

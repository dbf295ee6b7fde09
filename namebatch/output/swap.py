"""Files moved into a folder in place of those that leave it, so that it can be taken back."""

import os
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from namebatch.output.making import COMING, NEW, OLD, held, places, remove_place


def swap_in(place: Path, out: Path, leaving: Sequence[str], coming: Sequence[str]) -> None:
    """Move files out of a folder and others in; it is as it was if that fails.

    Killed half-way, `put_back` does the same.

    Args:
        place: of a job that is being made (`making.making_place`); the files to come are in it.
        out: the folder.
        leaving: paths below it of what goes, in this order.
        coming: paths of what comes, in this order.

    Raises:
        OSError: a file cannot be moved.
    """
    (place / COMING).write_text("".join(f"{path}\n" for path in coming), encoding="utf-8")
    moves = _Moves()
    try:
        for path in leaving:
            moves.move(out / path, place / OLD / path)
        for path in coming:
            moves.move(place / NEW / path, out / path)
    except BaseException:
        moves.undo()
        raise


@dataclass(slots=True)
class _Moves:
    """Files that were moved, so that all of it can be taken back."""

    done: list[tuple[Path, Path]] = field(default_factory=list)
    made: list[Path] = field(default_factory=list)

    def move(self, source: Path, target: Path) -> None:
        """Move a file, making the folders above it."""
        missing = [folder for folder in target.parents if not folder.exists()]
        for folder in reversed(missing):
            folder.mkdir()
            self.made.append(folder)
        source.replace(target)
        self.done.append((source, target))

    def undo(self) -> None:
        """Put everything back where it was, as far as the system lets us."""
        for source, target in reversed(self.done):
            with suppress(OSError):
                target.replace(source)
        for folder in reversed(self.made):
            with suppress(OSError):
                folder.rmdir()


def put_back(out: Path) -> None:
    """Put what a killed run had taken out of a job folder back, as it was before that run.

    Files that it had put there instead are taken away; those of others are left alone. Nothing
    happens while a run is at work, or where it had moved all there was to move.

    Args:
        out: the job folder, resolved.

    Raises:
        OSError: a file cannot be moved; what is left then can be put back another time.
    """
    if not out.is_dir():
        return
    for place in places(out):
        with held(place, out) as mine:
            if mine and (place / OLD).is_dir():
                _put_back_from(place, out)


def _put_back_from(place: Path, out: Path) -> None:
    """What came goes first, its manifest before all; the manifest of the job before comes last.

    What came goes back to where it was, so that going on after one more kill knows it from what
    has been put back already.
    """
    leaving = [path for path in sorted((place / OLD).rglob("*")) if not path.is_dir()]
    names = [path.relative_to(place / OLD).as_posix() for path in leaving]
    coming = place / COMING
    listed = coming.read_text(encoding="utf-8").splitlines() if coming.is_file() else []
    came = [name for name in listed if not os.path.lexists(place / NEW / name)]
    for name in [*listed, *names]:
        if not _plain(name) or any(parent.is_symlink() for parent in _above(out, name)):
            return
    if not listed or len(came) < len(listed):
        for name in reversed(came):
            (place / NEW / name).parent.mkdir(parents=True, exist_ok=True)
            if (out / name).is_symlink() or (out / name).is_file():
                (out / name).replace(place / NEW / name)
            else:
                (place / NEW / name).touch()
        for name in sorted(names, key=lambda name: (name == "job.json", name)):
            (out / name).parent.mkdir(parents=True, exist_ok=True)
            (place / OLD / name).replace(out / name)
        drop_empty(out, came)
    remove_place(place)


def drop_empty(out: Path, paths: Iterable[str]) -> None:
    """Remove the folders that became empty when these files left."""
    folders = {parent for path in paths for parent in (out / path).parents}
    for folder in sorted(folders, key=lambda folder: -len(folder.parts)):
        if out in folder.parents:
            with suppress(OSError):
                folder.rmdir()  # refuses by itself while anything is in it


def _plain(name: str) -> bool:
    path = PurePosixPath(name)
    return bool(name) and not path.is_absolute() and ".." not in path.parts


def _above(out: Path, name: str) -> list[Path]:
    return [out / parent for parent in PurePosixPath(name).parents][:-1]

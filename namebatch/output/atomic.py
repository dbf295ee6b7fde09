"""Jobs are written somewhere else first and moved in whole: all of it or nothing.

`job.json` goes last; a folder without it is unfinished.
"""

import os
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path

from namebatch.job import Job
from namebatch.output.aligned import outdated
from namebatch.output.making import NEW, making_place
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.manifest import identity, manifest
from namebatch.output.registry import WRITERS
from namebatch.output.swap import drop_empty, swap_in
from namebatch.output.target import (
    cannot_write,
    check_target,
    digest_of,
    listed_files,
    read_manifest,
    refuse_blocked,
    refuse_unknown,
    unchanged_files,
)

Progress = Callable[[str, int, int], None]
"""Called with a stage's label, steps done, steps in all."""


def write_job(job: Job, out: Path, replace: bool, progress: Progress) -> tuple[Path, ...]:
    """Write every file of a job into a folder.

    The folder is made if need be, with those above it. One that holds the same job (template
    and settings) is brought up to date; files that no job of ours listed are left alone. What
    runs that were killed left beside the folder is removed.

    Args:
        job: what was made.
        out: the job folder.
        replace: whether another job in the folder may be replaced.
        progress: called with the label of each stage, steps done and steps in all.

    Returns:
        The files' paths, sorted, the manifest last.

    Raises:
        OutputError: when the folder is refused or cannot be written; it is then as it was.
    """
    same = identity(job.template, job.settings)
    return write_folder(out, replace, same, lambda folder: _fill(job, folder, progress))


Fill = Callable[[Path], Sequence[str]]
"""Writes the files of a job into a folder; paths below it, the manifest's last."""


def write_folder(
    out: Path, replace: bool, identity: Mapping[str, object], fill: Fill
) -> tuple[Path, ...]:
    """Let a job folder have the files of a job: all of them, or it is as it was.

    Args:
        out: the job folder.
        replace: whether another job in the folder may be replaced.
        identity: `manifest.identity` of the job.
        fill: writes its files.

    Returns:
        The files' paths as `fill` gave them.

    Raises:
        OutputError: when the folder is refused or cannot be written; it is then as it was.
    """
    out = out.resolve()
    check_target(out, replace, identity)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with making_place(out) as place:
            fresh = place / NEW
            paths = tuple(fill(fresh))
            if out.exists():
                _move_in(place, out, paths, replace)
            else:
                fresh.rename(out)
    except OSError as error:
        raise cannot_write(out, error) from error
    return tuple(out / path for path in paths)


def _fill(job: Job, folder: Path, progress: Progress) -> tuple[str, ...]:
    """Run every writer, then the manifest; paths below the folder, the manifest last."""
    for writer in WRITERS:
        writer.write(job, folder, partial(progress, writer.label))
    files = {
        path.relative_to(folder).as_posix(): digest_of(path)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
    (folder / MANIFEST).write_bytes(manifest(job, files))
    return (*sorted(files), MANIFEST)


def _move_in(place: Path, out: Path, paths: tuple[str, ...], replace: bool) -> None:
    """Swap the files of an existing folder: ours out, the new ones in, the manifest last.

    Raises:
        OutputError: when a file there is not known as ours and may not be replaced, or a
            folder that is needed is a link.
    """
    manifest_there = read_manifest(out)
    present = [path for path in paths if os.path.lexists(out / path)]
    refuse_blocked(out, paths)
    if not replace:
        known = {*listed_files(out, manifest_there), MANIFEST}
        refuse_unknown(out, [path for path in present if path not in known])
    ours = {*unchanged_files(out, manifest_there), *outdated(out, place / NEW)}
    stale = ours.difference(paths)
    # the manifest first: from here to the end the folder says that it is unfinished
    leaving = sorted({*present, *stale}, key=lambda path: (path != MANIFEST, path))
    swap_in(place, out, leaving, paths)
    drop_empty(out, stale)

"""Numbers of a remake's sheets: they go on from the first job's and its earlier remakes'."""

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from namebatch.cutboards import job_folders
from namebatch.errors import RemakeError
from namebatch.measured.jobsheet import REMAKES
from namebatch.output.target import read_manifest
from namebatch.remake.first import FirstJob
from namebatch.sheet.model import Sheet

_NUMBER: Final = re.compile(r"(face|board)-(\d{1,6})", re.ASCII)


def renumbered(sheets: Sequence[Sheet], first: FirstJob, out: Path) -> tuple[Sheet, ...]:
    """The sheets with ids that neither the first job nor a remake in its folder has.

    A page is laid under the cutter by its printed id: two jobs on one bench must not share one.

    Args:
        sheets: of the remake.
        first: the job whose pieces they carry.
        out: folder that the remake goes to; what stands in it is made anew.
    """
    folders = job_folders(first.folder, out)[1:]
    ids = [_ids(folder) for folder in folders]
    before = [some for folder, some in zip(folders, ids, strict=True) if _is_before(folder, out)]
    own = [sheet.id for sheet in first.record.sheets]
    taken = {sheet_id for some in ids for sheet_id in some}
    found: list[Sheet] = []
    for kind in ("face", "board"):
        some = [sheet for sheet in sheets if sheet.kind == kind]
        for earlier in (before, ids):
            start = _highest(kind, [*own, *(one for each in earlier for one in each)]) + 1
            new = [f"{kind}-{number:03d}" for number in range(start, start + len(some))]
            if taken.isdisjoint(new):
                break
        found += [replace(sheet, id=name) for sheet, name in zip(some, new, strict=True)]
    return tuple(found)


def _is_before(folder: Path, out: Path) -> bool:
    """True for remakes whose sheets count first, so that one that is made anew keeps its ids."""
    there = out.resolve()
    return folder.resolve().parent != there.parent or folder.name < there.name


def _highest(kind: str, ids: Sequence[str]) -> int:
    """The highest number among the ids of a kind."""
    matches = [match for sheet_id in ids if (match := _NUMBER.fullmatch(sheet_id))]
    return max((int(match[2]) for match in matches if match[1] == kind), default=0)


def _ids(folder: Path) -> list[str]:
    """Of the sheets of a job folder."""
    sheets = read_manifest(folder).get("sheets")
    entries = sheets if isinstance(sheets, list) else []
    return [str(entry.get("id")) for entry in entries if isinstance(entry, dict)]


def next_folder(job: Path) -> Path:
    """Where the next remake of a job goes, if nothing else is said: ``remakes/001`` and so on."""
    below = job / REMAKES
    there = [path.name for path in below.iterdir()] if below.is_dir() else []
    numbers = [int(name) for name in there if re.fullmatch(r"\d{1,6}", name, re.ASCII)]
    return below / f"{max(numbers, default=0) + 1:03d}"


def check_place(job: Path, out: Path) -> None:
    """Keep a remake out of the first job's own files.

    Raises:
        RemakeError: it would be written over that job or among its files.
    """
    first, target = job.resolve(), out.resolve()
    inside = first in target.parents and (first / REMAKES) not in target.parents
    if target == first or inside:
        raise RemakeError(
            f"{out} belongs to the first job, whose files stay as they are. Leave --out away for "
            f"{job / REMAKES}, or name a folder beside the job."
        )

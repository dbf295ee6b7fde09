"""What is gone of a board that a job was cut from, read from the job's folder. mm."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.errors import MeasureError
from namebatch.measured.jobsheet import REMAKES as REMAKES
from namebatch.measured.jobsheet import read_job_sheet
from namebatch.names.characters import shown
from namebatch.outline.arc_shape import along_ring
from namebatch.output.target import read_manifest

_FARTHEST_MM: Final = 10_000.0


@dataclass(frozen=True, slots=True)
class CutBoard:
    """A board after the cut.

    Attributes:
        id: of the sheet.
        material: name in the workshop file.
        size_mm: of the whole board.
        gone: all that was cut from it, and what was gone before.
    """

    id: str
    material: str
    size_mm: tuple[float, float]
    gone: MultiPolygon


@dataclass(frozen=True, slots=True)
class _Entry:
    """A sheet of the job or of a remake of it, and where it was noted."""

    folder: Path
    id: str
    sheet: Mapping[str, object]


def as_part_used(sheet_id: str) -> str:
    """What a board of the first job is called where a remake is laid onto it."""
    return f"{sheet_id}, already cut"


def job_folders(job: Path, out: Path | None = None) -> tuple[Path, ...]:
    """The folder of a job and those of its finished remakes, sorted.

    Remakes of another job that once was in the folder (another list or template) do not count.

    Args:
        job: the folder of the job.
        out: a remake that is about to be made anew, and does not count.
    """
    below = job / REMAKES
    found = sorted(below.iterdir()) if below.is_dir() else []
    passed = None if out is None else out.resolve()
    first = _source(job)
    return (job, *(f for f in found if f.resolve() != passed and _source(f) == first))


def _source(folder: Path) -> tuple[object, object] | None:
    """Template and list that a job was made from; None if there is no finished job."""
    manifest = read_manifest(folder)
    settings = manifest.get("settings")
    origin = settings.get("list") if isinstance(settings, dict) else None
    return (manifest.get("template"), origin) if manifest else None


def cut_board(job: Path, sheet_id: str, out: Path | None = None) -> CutBoard:
    """A board that a job, or a remake of it in its folder, was cut from.

    What a remake cut from the same board later is gone too.

    Args:
        job: folder of the first job.
        sheet_id: of the board, in the job or in one of its remakes.
        out: a remake that is about to be made anew, and does not count.

    Raises:
        MeasureError: there is no such board, or its cut file is not the one that was made.
    """
    if not read_manifest(job):
        raise MeasureError(
            f"{shown(str(job), 200)} holds no finished job. Name the folder that was "
            "given to --out."
        )
    entries = list(_entries(job_folders(job, out)))
    boards = [entry for entry in entries if entry.sheet.get("kind") == "board"]
    wanted = next((entry for entry in boards if entry.id == sheet_id), None)
    if wanted is None:
        raise MeasureError(_no_board(sheet_id, entries, boards))
    home = _home(sheet_id, boards)
    parts: list[Polygon] = []
    for entry in boards:
        if _home(entry.id, boards) == home:
            read = read_job_sheet(entry.folder, entry.id)
            parts += [
                Polygon(along_ring(path.points, path.bulges))
                for path in read.drawing.cuts
                if path.operation == "outer"
            ]
            parts += _used(entry)
            size = read.size_mm
    gone = shapely.get_parts(shapely.union_all(parts))
    material = wanted.sheet.get("material")
    return CutBoard(
        sheet_id,
        material if isinstance(material, str) else "",
        size,
        MultiPolygon([part for part in gone if isinstance(part, Polygon) and not part.is_empty]),
    )


def _entries(folders: Iterable[Path]) -> Iterator[_Entry]:
    for folder in folders:
        sheets = read_manifest(folder).get("sheets")
        for sheet in sheets if isinstance(sheets, list) else []:
            if isinstance(sheet, dict):
                yield _Entry(folder, str(sheet.get("id")), sheet)


def _home(sheet_id: str, boards: list[_Entry]) -> str:
    """The board as it was called when it was new."""
    before = {entry.id: entry.sheet.get("part_used") for entry in boards}
    by_name = {as_part_used(entry.id): entry.id for entry in boards}
    for _ in boards:
        earlier = by_name.get(str(before.get(sheet_id)))
        if earlier is None:
            break
        sheet_id = earlier
    return sheet_id


def _used(entry: _Entry) -> list[Polygon]:
    """What was gone of a board before, as its manifest has it."""
    parts = entry.sheet.get("used_mm", [])
    try:
        polygons = [
            Polygon(*_rings(rings[0]), _rings(*rings[1:]))
            for rings in parts  # type: ignore[attr-defined]
        ]
    except (TypeError, ValueError, OverflowError, LookupError, shapely.errors.GEOSException):
        polygons = [Polygon()]
    if not all(polygon.is_valid and not polygon.is_empty for polygon in polygons):
        raise MeasureError(
            f"job.json does not tell what was gone of {shown(entry.id, 40)} any more. Make the job "
            "again."
        )
    return polygons


def _rings(*rings: Iterable[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """Rings of numbers, none of them farther out than any sheet reaches.

    Raises:
        TypeError, ValueError: they are none.
    """
    found = [[(float(x), float(y)) for x, y in ring] for ring in rings]
    if not all(abs(value) <= _FARTHEST_MM for ring in found for place in ring for value in place):
        raise ValueError
    return found


def _no_board(sheet_id: str, entries: list[_Entry], boards: list[_Entry]) -> str:
    known = ", ".join(shown(entry.id, 40) for entry in boards[:12])
    have = f"It has: {known}{' …' if len(boards) > 12 else ''}." if boards else "It has no boards."
    if any(entry.id == sheet_id for entry in entries):
        return (
            f'"{sheet_id}" is a printed page; only boards can be cut from again, for a page is '
            f"printed before it is cut. {have}"
        )
    return f'This job has no board "{shown(sheet_id)}". {have}'

"""A sheet with all that lies on it, drawn from the very lines of its cut file. mm."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from namebatch.curves import Point, apply
from namebatch.desk.jobfolder import JobFolder, JobSheetLine, PlacedLine, one_line
from namebatch.desk.made_model import MarkPlace, Placed, SheetMap
from namebatch.errors import NotThereError
from namebatch.measured.cutreader import Drawing, read_cut_dxf, read_cut_svg
from namebatch.measured.jobsheet import CORNERS
from namebatch.names.characters import shown
from namebatch.output.cutsvg import path_data
from namebatch.output.truescale import about_middle
from namebatch.piece import Piece
from namebatch.sheet.model import CutPath, Sheet
from namebatch.store import MeasuredMark

SHOWN = ("outer", "inner")
"""Operations whose lines show what lies where; engraved letters would be too much of it."""


def sheet_map(
    job: JobFolder,
    sheet_id: str,
    spoiled: Collection[str],
    remade: Collection[str],
    measured: Iterable[MeasuredMark],
) -> SheetMap:
    """A map of one sheet.

    Args:
        job: that it belongs to.
        sheet_id: ``face-001`` …
        spoiled: ids of pieces that were said to be.
        remade: those of them that were made again since.
        measured: marks of the job as they were found.

    Raises:
        NotThereError: the job has no such sheet.
        OutputError: its cut file is gone, or is not the one that was made.
    """
    sheet = next((one for one in job.sheets if one.id == sheet_id), None)
    if sheet is None:
        raise NotThereError(f'This job has no sheet "{shown(sheet_id, 40)}".')
    height = sheet.size_mm[1]
    lines = _by_owner(_drawing(job, sheet).cuts)
    placements = []
    for placed in sheet.placements:
        there = _placed(placed, lines, height, job.pieces.get(placed.piece, (0, "")))
        placements.append(
            replace(there, spoiled=placed.piece in spoiled, remade=placed.piece in remade)
        )
    return SheetMap(
        id=sheet.id,
        kind=sheet.kind,
        size_mm=sheet.size_mm,
        usable_mm=sheet.usable_mm,
        frame_mm=sheet.frame_mm,
        marks=_marks(sheet),
        measured=tuple(
            MarkPlace(one.mark, one.x_mm, one.y_mm) for one in measured if one.sheet == sheet_id
        ),
        placements=tuple(placements),
        used="".join(_ring(ring, height) for part in sheet.used_mm for ring in part),
        bed_mm=job.bed_mm,
    )


def laid_map(sheet: Sheet, pieces: Mapping[str, Piece], bed_mm: tuple[float, float]) -> SheetMap:
    """A map of a sheet that was filled just now; its files are not written yet.

    Args:
        sheet: filled.
        pieces: id → piece, of all that lie on it.
        bed_mm: of the cutter.
    """
    height, lines = sheet.size_mm[1], _by_owner(sheet.cuts)
    placements = []
    for placed in sheet.placements:
        piece = pieces[placed.piece]
        said = piece.line, one_line(piece.text)
        placements.append(_placed(PlacedLine(placed.piece, placed.face), lines, height, said))
    return SheetMap(
        id=sheet.id,
        kind=sheet.kind,
        size_mm=sheet.size_mm,
        usable_mm=sheet.usable_mm,
        frame_mm=sheet.frame_mm,
        marks=(),
        measured=(),
        placements=tuple(placements),
        used="".join(
            _ring(list(ring.coords)[:-1], height)
            for part in sheet.used.geoms
            for ring in (part.exterior, *part.interiors)
        ),
        bed_mm=bed_mm,
    )


def _by_owner(cuts: Iterable[CutPath]) -> Mapping[str, Sequence[CutPath]]:
    """Face of a piece → the lines that show it."""
    lines: dict[str, list[CutPath]] = {}
    for cut in cuts:
        if cut.operation in SHOWN:
            lines.setdefault(cut.owner, []).append(cut)
    return lines


def _placed(
    placed: PlacedLine,
    lines: Mapping[str, Sequence[CutPath]],
    height: float,
    said: tuple[int, str],
) -> Placed:
    """A face of a piece on a sheet so high, as `said` by its line and text."""
    cuts = lines.get(f"{placed.piece}.{placed.face}", [])
    at, room = _room(cuts, height)
    return Placed(
        piece=placed.piece,
        face=placed.face,
        line=said[0],
        text=said[1],
        outline="".join(path_data(cut, height) for cut in cuts),
        at_mm=at,
        room_mm=room,
        spoiled=False,
        remade=False,
    )


def _drawing(job: JobFolder, sheet: JobSheetLine) -> Drawing:
    """The lines of a sheet's cut file, whichever of its forms the cutter takes."""
    for ending in ("svg", "dxf"):
        path = f"cut/{sheet.id}.{ending}"
        if path in job.files:
            data = job.verified(path, job.files[path]).read_bytes()
            if ending == "svg":
                return read_cut_svg(data, path, sheet.size_mm[1])
            return read_cut_dxf(data, path)
    raise NotThereError(f"This job has no cut file of {sheet.id}.")


def _marks(sheet: JobSheetLine) -> tuple[MarkPlace, ...]:
    """The frame's corners where the cut file has them, by name."""
    x, y, width, height = sheet.frame_mm
    places = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    stretch = about_middle(sheet.size_mm, sheet.cut_scale)
    found = (_rounded(apply(stretch, place)) for place in places)
    return tuple(MarkPlace(name, *place) for name, place in zip(CORNERS, found, strict=True))


def _room(cuts: Sequence[CutPath], height: float) -> tuple[Point, Point]:
    """Middle, and width and height, of what the lines take up."""
    points = [point for cut in cuts for point in cut.points]
    if not points:
        return (0.0, 0.0), (0.0, 0.0)
    xs, ys = zip(*points, strict=True)
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    return _rounded(((left + right) / 2, height - (low + high) / 2)), _rounded(
        (right - left, high - low)
    )


def _ring(points: Sequence[tuple[float, float]], height: float) -> str:
    return "M" + "L".join(f"{x:g},{height - y:g}" for x, y in points) + "Z"


def _rounded(place: Point) -> Point:
    return round(place[0], 3), round(place[1], 3)

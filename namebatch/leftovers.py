"""Part-used boards of the workshop as the sheet room takes them. mm."""

from collections.abc import Sequence
from pathlib import Path

import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.cutboards import CutBoard, as_part_used, cut_board
from namebatch.errors import MeasureError, SheetError, WorkshopError
from namebatch.sheet import Leftover, board_page
from namebatch.sheet.bed import way_round
from namebatch.template.part_used import PartUsed, load_part_used
from namebatch.template.problems import printable
from namebatch.template.workshop import Material, Workshop


def leftovers_of(path: Path, material: Material, workshop: Workshop) -> tuple[Leftover, ...]:
    """The boards of a file that are of one material.

    Args:
        path: of the file, see `template.part_used`.
        material: what the job's boards are made of.
        workshop: for the bed of the cutter and the names of the materials.

    Raises:
        WorkshopError: the file, or a board in it, cannot be used; every such board is told.
    """
    problems: list[str] = []
    found: list[Leftover] = []
    seen: set[tuple[Path, str]] = set()
    for board in load_part_used(path):
        if board.job is not None:
            which = (board.job.resolve(), board.sheet)
            if which in seen:
                problems.append(
                    f"{board.name}: {board.sheet} of {board.job.name} stands there twice, and it "
                    "is one board. Delete one entry."
                )
                continue
            seen.add(which)
        try:
            cut = None if board.job is None else cut_board(board.job, board.sheet)
        except MeasureError as error:
            problems.append(f"{board.name}: {error}")
            continue
        name = board.material if cut is None else cut.material
        if name not in workshop.materials:
            known = ", ".join(workshop.materials)
            problems.append(
                f'{board.name}: the workshop file has no material "{name}"; it has: {known}.'
            )
        elif name == material.name:
            leftover = _leftover(board, material, workshop, problems, cut)
            found += [leftover] if leftover else []
    if problems:
        raise WorkshopError(
            f"The file of part-used boards {printable(path.name)} cannot be used yet.", problems
        )
    return tuple(found)


def leftovers_of_job(
    job: Path,
    sheet_ids: Sequence[str],
    material: Material,
    workshop: Workshop,
    out: Path | None = None,
) -> tuple[Leftover, ...]:
    """Boards that a job was cut from already.

    Args:
        job: its folder.
        sheet_ids: of the boards, the same one twice counts once.
        material: what the boards must be made of.
        workshop: for the bed of the cutter.
        out: a remake of it that is about to be made anew, and does not count.

    Raises:
        MeasureError: there is no such board, or its cut file is not the one that was made.
        WorkshopError: a board cannot be used; every such board is told.
    """
    problems: list[str] = []
    found: list[Leftover] = []
    for sheet_id in dict.fromkeys(sheet_ids):
        cut = cut_board(job, sheet_id, out)
        name = as_part_used(sheet_id)
        if cut.material != material.name:
            problems.append(f"{name}: it is {cut.material}, and {material.name} is cut now.")
            continue
        board = PartUsed(name, material.name, None, (), job, sheet_id)
        leftover = _leftover(board, material, workshop, problems, cut, may_turn=False)
        found += [leftover] if leftover else []
    if problems:
        raise WorkshopError("Not every board can be cut from again.", problems)
    return tuple(found)


def _leftover(
    board: PartUsed,
    material: Material,
    workshop: Workshop,
    problems: list[str],
    cut: CutBoard | None,
    *,
    may_turn: bool = True,
) -> Leftover | None:
    """A board as it lies on the bed; None where it cannot be used, and that is noted."""
    size = board.size_mm or material.sheet_mm if cut is None else cut.size_mm
    if size is None:
        problems.append(f"{board.name}: {material.title} has no size of its own; say size_mm.")
        return None
    bed = workshop.cutter.bed_mm
    lying = way_round(size, bed=bed)
    as_cut = (
        "."
        if may_turn
        else " the way round it was cut. Correct the bed in the workshop file, or cut from another "
        "board."
    )
    if lying is None or (lying != size and not may_turn):
        problems.append(
            f"{board.name}: {size[0]:g} × {size[1]:g} mm does not lie on the cutter's bed of "
            f"{bed[0]:g} × {bed[1]:g} mm{as_cut}"
        )
        return None
    try:
        page = board_page(lying, material)
    except SheetError as error:
        problems.append(f"{board.name}: {error}")
        return None
    used = _gone(board.used_mm, size, cut)
    if lying == size:
        return Leftover(board.name, page, used)
    return Leftover(board.name, page, _turned_left(used, size[1]), is_turned=True)


def _gone(
    rectangles: Sequence[tuple[float, float, float, float]],
    size_mm: tuple[float, float],
    cut: CutBoard | None,
) -> MultiPolygon:
    """Rectangles and what a job cut as one shape within the board."""
    shapes: list[shapely.Geometry] = [shapely.box(x, y, x + w, y + h) for x, y, w, h in rectangles]
    shapes += [cut.gone] if cut else []
    gone = shapely.intersection(shapely.union_all(shapes), shapely.box(0.0, 0.0, *size_mm))
    return _polygons(gone)


def _turned_left(gone: MultiPolygon, height_mm: float) -> MultiPolygon:
    """What is gone of a board so high that is turned by a quarter, counter-clockwise."""
    return _polygons(affinity.affine_transform(gone, (0.0, -1.0, 1.0, 0.0, height_mm, 0.0)))


def _polygons(shape: shapely.Geometry) -> MultiPolygon:
    """The areas in a shape."""
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]
    return MultiPolygon([part for part in parts if not part.is_empty])

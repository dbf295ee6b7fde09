"""The sheet room's promise, checked on the lines that will be cut.

What the beam leaves of each shape is proved before anything is placed (`beam.py`); here every line
on a sheet must be the proven one in its place.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely

from namebatch.curves import Point
from namebatch.errors import SheetError
from namebatch.outline.arc_shape import along_ring
from namebatch.outline.arrays import Floats
from namebatch.piece import Piece
from namebatch.sheet.lines import Line, cut_lines
from namebatch.sheet.model import RUN_ORDER, CutPath, Placement, Sheet

CURVE_MM = 0.02
"""A cut line is never farther from the true curve."""
TOLERANCE_MM = 0.0005
"""Coordinates are rounded to four decimals, and arcs are taken as chords of 0.0005 mm."""
BULGE = 1e-8
"""So far a bulge as written may be off."""


def prove(sheets: Sequence[Sheet], ordered: Iterable[tuple[str, str]]) -> None:
    """Check that a filled set of sheets may be cut.

    Every face lies inside the usable area, no two are nearer than the gap, each is there exactly
    once, and nothing is cut free before everything else is done.

    Args:
        sheets: of one kind.
        ordered: piece id and face of everything that must be there.

    Raises:
        SheetError: a promise is broken; this is a fault of the program.
    """
    placed = Counter(f"{p.piece}.{p.face}" for sheet in sheets for p in sheet.placements)
    wanted = Counter(f"{piece}.{face}" for piece, face in ordered)
    if placed != wanted:
        wrong = sorted({*(placed - wanted), *(wanted - placed)})
        raise SheetError(
            f"Not every piece lies on exactly one sheet: {_some(wrong)}. Please report this list."
        )
    for sheet in sheets:
        _prove_curves(sheet)
        _prove_order(sheet)
        outers = {path.owner: path for path in sheet.cuts if path.operation == "outer"}
        if set(outers) != {f"{p.piece}.{p.face}" for p in sheet.placements}:
            raise SheetError(f"Sheet {sheet.id} lacks the cut line of a piece. Please report it.")
        _prove_places(sheet, outers)


def prove_lines(
    placements: Iterable[Placement],
    cuts: Iterable[CutPath],
    pieces: Mapping[str, Piece],
    kerf_mm: tuple[float, float],
) -> None:
    """Check that each placed face has exactly its proven lines, moved to its place.

    Args:
        placements: of one sheet.
        cuts: all lines of that sheet.
        pieces: id → piece.
        kerf_mm: of the sheet's material.

    Raises:
        SheetError: a line is lacking, too many or elsewhere; this is a fault of the program.
    """
    drawn: dict[str, list[CutPath]] = {}
    for path in cuts:
        if path.operation in ("inner", "outer"):
            drawn.setdefault(path.owner, []).append(path)
    for placement in placements:
        piece = pieces[placement.piece]
        owner = f"{placement.piece}.{placement.face}"
        lines = cut_lines(piece.outline, placement.mirrored, placement.rotation_deg, kerf_mm)
        names = ["inner"] * (len(lines) - 1) + ["outer"]
        paths = drawn.get(owner, [])
        if [path.operation for path in paths] != names or not _are_at(
            (*paths[-1:], *paths[:-1]), lines, (placement.x_mm, placement.y_mm)
        ):
            said = ", ".join(piece.text.values())
            raise SheetError(
                f'The cut lines of "{said}" (line {piece.line} of the list, {owner}) are not those '
                "that were proved. Please report this list."
            )


def _are_at(paths: Sequence[CutPath], lines: Sequence[Line], at: Point) -> bool:
    """True if each path is another line moved to a place; the first is the first one."""
    left = list(lines[1:])
    for path in paths[1:]:
        line = next((line for line in left if _is_at(path, line, at)), None)
        if line is None:
            return False
        left = [other for other in left if other is not line]
    return not left and _is_at(paths[0], lines[0], at)


def _is_at(path: CutPath, line: Line, at: Point) -> bool:
    """True if a path as written is a line moved to a place, wherever it is entered."""
    points, bulges = np.array(path.points), np.array(path.bulges or np.zeros(len(path.points)))
    if len(points) != len(bulges):
        return False
    if len(points) == len(line.points) + 1:
        whole = _without_entry(points, bulges)
        if whole is None:
            return False
        points, bulges = whole
    if len(points) != len(line.points):
        return False
    expected = line.points + at
    for k in np.flatnonzero(np.abs(expected - points[0]).max(axis=1) <= TOLERANCE_MM):
        off = np.abs(points - np.roll(expected, -k, axis=0)).max()
        if off <= TOLERANCE_MM and np.abs(bulges - np.roll(line.bulges, -k)).max() <= BULGE:
            return True
    return False


def _without_entry(points: Floats, bulges: Floats) -> tuple[Floats, Floats] | None:
    """A ring whose first point lies within a stretch, without that point; None if it does not.

    The last stretch and the first one become one: their angles add up, and the point must lie
    on the arc where the last angle ends.
    """
    last, first = float(np.arctan(bulges[-1])), float(np.arctan(bulges[0]))
    joined = float(np.tan(last + first))
    entry, start, end = points[0], points[-1], points[1]
    chord = end - start
    size = float(np.hypot(*chord))
    if last * first < 0.0 or size == 0.0:
        return None
    if joined == 0.0:
        along = float((entry - start) @ chord) / size
        if not 0.0 < along < size:
            return None
        on = start + chord * (along / size)
    else:
        half = 2.0 * (last + first)
        turn, scale = -2.0 * first, np.sin(2.0 * last) / np.sin(half)
        c, s = np.cos(turn) * scale, np.sin(turn) * scale
        on = start + (chord[0] * c - chord[1] * s, chord[1] * c + chord[0] * s)
    if np.abs(entry - on).max() > TOLERANCE_MM:
        return None
    return points[1:], np.append(bulges[1:-1], joined)


def _prove_order(sheet: Sheet) -> None:
    """Operations run in their order, so that no piece is cut free before all else is done."""
    turns = [RUN_ORDER.index(path.operation) for path in sheet.cuts]
    for before, path, turn in zip(turns, sheet.cuts[1:], turns[1:], strict=False):
        if turn < before:
            raise SheetError(
                f"A line of {path.owner} on sheet {sheet.id} comes after pieces that are already "
                "cut free. Please report it."
            )


def _prove_curves(sheet: Sheet) -> None:
    worst = max(sheet.cuts, key=lambda path: path.deviation_mm, default=None)
    if worst is not None and worst.deviation_mm > CURVE_MM:
        raise SheetError(
            f"A line of {worst.owner} on sheet {sheet.id} is {worst.deviation_mm:.3f} mm off its "
            "letter. Please report it."
        )


def _prove_places(sheet: Sheet, outers: Mapping[str, CutPath]) -> None:
    owners = list(outers)
    outlines = [shapely.Polygon(along_ring(p.points, p.bulges)) for p in outers.values()]
    x, y, width, height = sheet.usable_mm
    bounds = shapely.bounds(np.array(outlines, dtype=object))
    outside = (bounds[:, :2] < np.array([x, y]) - TOLERANCE_MM).any(axis=1)
    outside |= (bounds[:, 2:] > np.array([x + width, y + height]) + TOLERANCE_MM).any(axis=1)
    if outside.any():
        wrong = [owners[k] for k in np.flatnonzero(outside)]
        raise SheetError(
            f"{_some(wrong)} on sheet {sheet.id} leaves the usable area. Please report it."
        )
    tree = shapely.STRtree(outlines)
    first, second = tree.query(outlines, predicate="dwithin", distance=sheet.gap_mm - TOLERANCE_MM)
    near = first < second
    if near.any():
        pair = f"{owners[first[near][0]]} and {owners[second[near][0]]}"
        raise SheetError(
            f"{pair} on sheet {sheet.id} are nearer than {sheet.gap_mm:g} mm. Please report it."
        )


def _some(names: Sequence[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")

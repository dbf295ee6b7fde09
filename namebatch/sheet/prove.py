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
        paths = drawn.get(owner, [])
        # a hollow that waits for what lies in it is an outer line as well; the last is the outline
        if (
            len(paths) != len(lines)
            or paths[-1].operation != "outer"
            or not _are_at((*paths[-1:], *paths[:-1]), lines, (placement.x_mm, placement.y_mm))
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
        forms = _forms(path)
        line = next((line for line in left if _is_at(forms, line, at)), None)
        if line is None:
            return False
        left = [other for other in left if other is not line]
    return not left and _is_at(_forms(paths[0]), lines[0], at)


def _forms(path: CutPath) -> list[tuple[Floats, Floats]]:
    """A path as written, and without its beginning if that lies within a stretch."""
    points, bulges = np.array(path.points), np.array(path.bulges or np.zeros(len(path.points)))
    if len(points) != len(bulges):
        return []
    whole = _without_entry(points, bulges)
    return [(points, bulges)] if whole is None else [(points, bulges), whole]


def _is_at(forms: Sequence[tuple[Floats, Floats]], line: Line, at: Point) -> bool:
    """True if a path is a line moved to a place, wherever it is entered."""
    for points, bulges in forms:
        if len(points) != len(line.points):
            continue
        expected = line.points + at
        for k in np.flatnonzero(np.abs(expected - points[0]).max(axis=1) <= TOLERANCE_MM):
            off = np.abs(points - np.roll(expected, -k, axis=0)).max()
            bulge = np.roll(line.bulges, -k)
            # of the angle, not of its tangent: two rounded parts of an arc may make up the whole
            if off <= TOLERANCE_MM and (np.abs(bulges - bulge) <= BULGE * (1.0 + bulge**2)).all():
                return True
    return False


def _without_entry(points: Floats, bulges: Floats) -> tuple[Floats, Floats] | None:
    """A ring whose first point lies within a stretch, without that point; None if it does not.

    The last stretch and the first one become one, their angles added. By the inscribed angle
    theorem the directions from either end to the point on the arc turn off the chord by half of
    the angle of the far part.
    """
    if len(points) < 3:
        return None
    last, first = float(np.arctan(bulges[-1])), float(np.arctan(bulges[0]))
    entry, start, end = points[0], points[-1], points[1]
    off = (
        (_angle(start - end, entry - end) - 2.0 * last) * np.hypot(*(entry - end)),
        (_angle(entry - start, end - start) - 2.0 * first) * np.hypot(*(entry - start)),
    )
    if max(map(abs, off)) > TOLERANCE_MM:
        return None
    return points[1:], np.append(bulges[1:-1], np.tan(last + first))


def _angle(a: Floats, b: Floats) -> float:
    """From one direction to another, counter-clockwise positive, in radians."""
    return float(np.arctan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))


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
    hollows: dict[str, list[Floats]] = {}
    for path in sheet.cuts:
        if path.operation == "outer" and path is not outers[path.owner]:
            hollows.setdefault(path.owner, []).append(along_ring(path.points, path.bulges))
    outlines = [
        shapely.Polygon(along_ring(path.points, path.bulges), hollows.get(owner, []))
        for owner, path in outers.items()
    ]
    _prove_hollows(sheet, outers, outlines)
    x, y, width, height = sheet.usable_mm
    bounds = shapely.bounds(np.array(outlines, dtype=object))
    outside = (bounds[:, :2] < np.array([x, y]) - TOLERANCE_MM).any(axis=1)
    outside |= (bounds[:, 2:] > np.array([x + width, y + height]) + TOLERANCE_MM).any(axis=1)
    if outside.any():
        wrong = [owners[k] for k in np.flatnonzero(outside)]
        raise SheetError(
            f"{_some(wrong)} on sheet {sheet.id} leaves the usable area. Please report it."
        )
    near_used = shapely.dwithin(np.array(outlines), sheet.used, sheet.gap_mm - TOLERANCE_MM)
    if near_used.any():
        wrong = [owners[k] for k in np.flatnonzero(near_used)]
        raise SheetError(
            f"{_some(wrong)} on sheet {sheet.id} meets what is gone of it. Please report it."
        )
    tree = shapely.STRtree(outlines)
    first, second = tree.query(outlines, predicate="dwithin", distance=sheet.gap_mm - TOLERANCE_MM)
    near = first < second
    if near.any():
        pair = f"{owners[first[near][0]]} and {owners[second[near][0]]}"
        raise SheetError(
            f"{pair} on sheet {sheet.id} are nearer than {sheet.gap_mm:g} mm. Please report it."
        )


def _prove_hollows(
    sheet: Sheet, outers: Mapping[str, CutPath], outlines: Sequence[shapely.Polygon]
) -> None:
    """What lies in a hollow is cut before the hollow, the hollow before its own outline."""
    turn = {id(path): number for number, path in enumerate(sheet.cuts)}
    own = {owner: turn[id(path)] for owner, path in outers.items()}
    filled = [shapely.Polygon(outline.exterior) for outline in outlines]
    owners = list(outers)
    for path in sheet.cuts:
        if path.operation != "outer" or path is outers[path.owner]:
            continue
        hollow = shapely.Polygon(along_ring(path.points, path.bulges))
        within = [owners[k] for k in np.flatnonzero(shapely.contains(hollow, np.array(filled)))]
        if turn[id(path)] > own[path.owner] or any(own[k] > turn[id(path)] for k in within):
            raise SheetError(
                f"A hollow of {path.owner} on sheet {sheet.id} is cut loose before what lies in "
                "it. Please report it."
            )


def _some(names: Sequence[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")

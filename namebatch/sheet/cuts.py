"""The lines that the cutter follows on one sheet, in the order in which they run. mm."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import shapely
from shapely import Polygon

from namebatch.curves import Point
from namebatch.outline.arc_shape import along_ring
from namebatch.outline.arrays import Floats
from namebatch.outline.kept import Kept
from namebatch.piece import Lettering, Piece
from namebatch.sheet.entry import Entry, entered, entries_of, entry_points
from namebatch.sheet.hollows import hosts, is_hollow
from namebatch.sheet.lines import Line, cut_lines, lines_of
from namebatch.sheet.model import RUN_ORDER, CutPath, Operation, Placement
from namebatch.sheet.route import route

FROM: Point = (0.0, 0.0)
"""Where the cutter stands at first: the zero point, the sheet's corner."""

Part = tuple[tuple[Line, ...], tuple[tuple[Entry, ...], ...]]
"""Lines, and of each the places where it may be entered."""


@dataclass(frozen=True, slots=True)
class _Stop:
    """A closed line on the sheet that waits for its turn.

    Attributes:
        operation, owner: as of the cut path.
        line: about the origin of its piece, or on the sheet.
        entries: where it may be entered.
        at: entries as points on the sheet, two columns.
        move: from the line's own coordinates to the sheet.
    """

    operation: Operation
    owner: str
    line: Line
    entries: tuple[Entry, ...]
    at: Floats
    move: Point

    def shape(self) -> Polygon:
        """What the line goes round, on the sheet."""
        points, bulges = self.line.moved(*self.move)
        return Polygon(along_ring(points, bulges))

    def nearest(self, here: Point) -> int:
        """The entry that is nearest to a place."""
        return int(np.hypot(*(self.at - here).T).argmin())

    def path(self, entry: int) -> CutPath:
        """The line as it is cut, from one of its entries on."""
        line = entered(self.line, self.entries[entry])
        points, bulges = line.moved(*self.move)
        filled = self.operation == "engrave"
        return CutPath(self.operation, self.owner, points, filled, bulges, line.deviation_mm)


def cuts_of(
    placements: Sequence[Placement],
    pieces: Mapping[str, Piece],
    kerf_mm: tuple[float, float],
    base_width_mm: float,
) -> tuple[CutPath, ...]:
    """All cut lines of a sheet: operation by operation, in each piece by piece on a short way.

    Every line is entered on a flat place. All inner lines run before the first outer one, so
    that nothing is cut free before its holes are done. Only a hollow in which other pieces lie
    waits, as an outer line, until those are cut: else they would be cut from a slug that is
    loose.

    Args:
        placements: faces on the sheet.
        pieces: id → piece.
        kerf_mm: of the sheet's material.
        base_width_mm: width of the template's base, for letterings on a back.
    """
    stops: dict[Operation, list[_Stop]] = {operation: [] for operation in RUN_ORDER}
    for placement in placements:
        for stop in _stops(placement, pieces[placement.piece], kerf_mm, base_width_mm):
            stops[stop.operation].append(stop)
    here, paths = FROM, []
    phases = [stops[operation] for operation in RUN_ORDER if operation not in ("inner", "outer")]
    at = RUN_ORDER.index("inner")
    phases[at:at], late = _from_within(stops["inner"], stops["outer"])
    for waiting in phases:
        names = {name: k for k, name in enumerate(dict.fromkeys(stop.owner for stop in waiting))}
        groups = np.array([names[stop.owner] for stop in waiting], dtype=np.int64)
        for number, entry in route([stop.at for stop in waiting], groups, here):
            stop = waiting[number]
            if stop.operation == "outer":
                for hollow in late.get(stop.owner, ()):
                    paths.append(hollow.path(hollow.nearest(here)))
                    here = paths[-1].points[0]
            paths.append(stop.path(entry))
            here = paths[-1].points[0]
    return tuple(paths)


def _from_within(
    inner: Sequence[_Stop], outer: Sequence[_Stop]
) -> tuple[list[list[_Stop]], dict[str, list[_Stop]]]:
    """Inner lines, then outer ones, those of pieces in a hollow before the hollow's own line.

    Returns:
        Lines that are cut one set after the other, and the hollows that wait, by their owner:
        they come right before its outline.
    """
    shapes = [stop.shape() for stop in inner]
    large = [k for k, shape in enumerate(shapes) if is_hollow(shapely.get_coordinates(shape))]
    if not large:
        return [list(inner), list(outer)], {}
    owners = {stop.owner: k for k, stop in enumerate(outer)}
    hollows = [(owners[inner[k].owner], shapes[k]) for k in large]
    ranks, used = hosts([stop.shape() for stop in outer], hollows)
    waiting = {k for k, is_used in zip(large, used, strict=True) if is_used}
    phases = [[stop for k, stop in enumerate(inner) if k not in waiting]]
    for rank in range(int(ranks.max()) + 1):
        phases.append([stop for stop, its in zip(outer, ranks, strict=True) if its == rank])
    late: dict[str, list[_Stop]] = {}
    for k in sorted(waiting):
        late.setdefault(inner[k].owner, []).append(replace(inner[k], operation="outer"))
    return phases, late


def _stops(
    placement: Placement, piece: Piece, kerf_mm: tuple[float, float], base_width_mm: float
) -> list[_Stop]:
    """Every line of a placed face."""
    owner = f"{placement.piece}.{placement.face}"
    move = placement.x_mm, placement.y_mm
    key = placement.mirrored, placement.rotation_deg, kerf_mm
    lines = cut_lines(piece.outline, *key)
    # where the kerf is the same in x and y, entries turn with their piece
    told = (False, 0.0, kerf_mm) if kerf_mm[0] == kerf_mm[1] else key
    entries = _ENTRIES.of(piece.outline, told, lambda: entries_of(cut_lines(piece.outline, *told)))
    found = [
        _stop("inner" if number else "outer", owner, line, places, move)
        for number, (line, places) in enumerate(zip(lines, entries, strict=True))
    ]
    for lettering in piece.letterings:
        if _is_cut_on(lettering, placement):
            operation: Operation = "mark" if lettering.made == "mark" else "engrave"
            affine = placement.view_affine(base_width_mm)
            wkb = shapely.to_wkb(shapely.orient_polygons(lettering.shape))
            for part, part_entries in _parts_of(wkb, operation == "mark"):
                found += [
                    _stop(operation, owner, line.turned(affine), places, (0.0, 0.0))
                    for line, places in zip(part, part_entries, strict=True)
                ]
    return found


def _stop(
    operation: Operation, owner: str, line: Line, entries: tuple[Entry, ...], move: Point
) -> _Stop:
    return _Stop(operation, owner, line, entries, entry_points(line, entries) + move, move)


def _is_cut_on(lettering: Lettering, placement: Placement) -> bool:
    """Engraved and marked letters go on the face they stand on; a bare piece has its front."""
    side = "back" if placement.face == "back" else "front"
    return lettering.made in ("engrave", "mark") and lettering.face == side


@lru_cache(maxsize=1024)
def _parts_of(wkb: bytes, followed: bool) -> tuple[Part, ...]:
    """Letters as arcs and lines, part by part, fitted once for all copies.

    Filled letters are swept over and not followed: their lines begin where they are.
    """
    parts = [lines_of(part) for part in shapely.get_parts(shapely.from_wkb(wkb))]
    return tuple(
        (lines, entries_of(lines) if followed else ((Entry(0, 0.0),),) * len(lines))
        for lines in parts
    )


_ENTRIES: Kept[tuple[tuple[Entry, ...], ...]] = Kept()

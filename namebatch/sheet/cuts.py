"""The lines that the cutter follows on one sheet, in the order in which they run. mm."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Literal

import numpy as np
import shapely
from shapely import MultiPolygon

from namebatch.piece import Lettering, Piece
from namebatch.sheet.lines import Line, cut_lines, lines_of
from namebatch.sheet.model import RUN_ORDER, CutPath, Operation, Placement


def cuts_of(
    placements: Sequence[Placement],
    pieces: Mapping[str, Piece],
    kerf_mm: tuple[float, float],
    base_width_mm: float,
) -> tuple[CutPath, ...]:
    """All cut lines of a sheet: operation by operation, then piece by piece on a short way.

    Args:
        placements: faces on the sheet.
        pieces: id → piece.
        kerf_mm: of the sheet's material.
        base_width_mm: width of the template's base, for letterings on a back.
    """
    paths: dict[Operation, list[CutPath]] = {operation: [] for operation in RUN_ORDER}
    for placement in nearest_first(placements):
        piece = pieces[placement.piece]
        owner = f"{placement.piece}.{placement.face}"
        lines = cut_lines(piece.outline, placement.mirrored, placement.rotation_deg, kerf_mm)
        for number, line in enumerate(lines):
            points, bulges = line.moved(placement.x_mm, placement.y_mm)
            name: Literal["inner", "outer"] = "inner" if number else "outer"
            paths[name].append(CutPath(name, owner, points, False, bulges, line.deviation_mm))
        for lettering in piece.letterings:
            if _is_cut_on(lettering, placement):
                operation: Literal["mark", "engrave"] = (
                    "mark" if lettering.made == "mark" else "engrave"
                )
                affine = placement.view_affine(base_width_mm)
                paths[operation] += _ink(lettering, affine, operation, owner)
    return tuple(path for operation in RUN_ORDER for path in paths[operation])


def nearest_first(placements: Sequence[Placement]) -> list[Placement]:
    """From the sheet's corner always on to the nearest placement that is left."""
    if not placements:
        return []
    at = np.array([(p.x_mm, p.y_mm) for p in placements])
    left = np.ones(len(placements), dtype=bool)
    here = np.zeros(2)
    order: list[Placement] = []
    for _ in placements:
        distance = np.where(left, np.hypot(*(at - here).T), np.inf)
        index = int(np.argmin(distance))
        left[index] = False
        here = at[index]
        order.append(placements[index])
    return order


def _is_cut_on(lettering: Lettering, placement: Placement) -> bool:
    """Engraved and marked letters go on the face they stand on; a bare piece has its front."""
    side = "back" if placement.face == "back" else "front"
    return lettering.made in ("engrave", "mark") and lettering.face == side


def _ink(
    lettering: Lettering,
    affine: tuple[float, float, float, float, float, float],
    operation: Literal["mark", "engrave"],
    owner: str,
) -> list[CutPath]:
    filled = operation == "engrave"
    return [
        _path(operation, owner, line.turned(affine), filled)
        for part in lettering_lines(lettering.shape)
        for line in part
    ]


def lettering_lines(ink: MultiPolygon) -> tuple[tuple[Line, ...], ...]:
    """The rings of letters as arcs and lines, part by part, fitted once for all copies."""
    return _lettering_lines(shapely.to_wkb(shapely.orient_polygons(ink)))


@lru_cache(maxsize=1024)
def _lettering_lines(wkb: bytes) -> tuple[tuple[Line, ...], ...]:
    return tuple(lines_of(part) for part in shapely.get_parts(shapely.from_wkb(wkb)))


def _path(operation: Operation, owner: str, line: Line, filled: bool) -> CutPath:
    points, bulges = line.moved(0.0, 0.0)
    return CutPath(operation, owner, points, filled, bulges, line.deviation_mm)

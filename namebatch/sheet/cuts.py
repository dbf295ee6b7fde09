"""The lines that the cutter follows on one sheet, in the order in which they run. mm."""

from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np
import shapely
from shapely import Polygon, affinity

from namebatch.curves import Point
from namebatch.piece import Lettering, Piece
from namebatch.sheet.blocks import cut_outline
from namebatch.sheet.model import CutPath, Operation, Placement

DECIMALS = 4
RUN_ORDER: tuple[Operation, ...] = ("mark", "engrave", "inner", "outer", "window")
"""Nothing is cut free before everything inside it is done."""


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
        about = cut_outline(piece.outline, placement.mirrored, placement.rotation_deg, kerf_mm)
        outline = affinity.translate(about, placement.x_mm, placement.y_mm)
        paths["inner"] += [CutPath("inner", owner, points_of(ring)) for ring in outline.interiors]
        paths["outer"].append(CutPath("outer", owner, points_of(outline.exterior)))
        for lettering in piece.letterings:
            if _is_cut_on(lettering, placement):
                operation: Literal["mark", "engrave"] = (
                    "mark" if lettering.made == "mark" else "engrave"
                )
                affine = placement.view_affine(base_width_mm)
                paths[operation] += _ink(lettering, affine, operation, owner)
    return tuple(path for operation in RUN_ORDER for path in paths[operation])


def points_of(ring: shapely.LinearRing) -> tuple[Point, ...]:
    """A ring's points, rounded as they are written, the first not repeated."""
    xy = np.round(shapely.get_coordinates(ring)[:-1], DECIMALS) + 0.0
    return tuple((float(x), float(y)) for x, y in xy)


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
    a, b, c, d, e, f = affine
    turned = affinity.affine_transform(lettering.shape, (a, c, b, d, e, f))
    shape = shapely.orient_polygons(turned)
    filled = operation == "engrave"
    return [
        CutPath(operation, owner, points_of(ring), filled)
        for part in shape.geoms
        for ring in _rings(part)
    ]


def _rings(part: Polygon) -> list[shapely.LinearRing]:
    return [part.exterior, *part.interiors]

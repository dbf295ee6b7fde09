"""The sheet room's promise, checked on the lines that will be cut."""

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np
import shapely

from namebatch.errors import SheetError
from namebatch.outline.arc_shape import along_ring
from namebatch.sheet.model import Sheet

CURVE_MM = 0.02
"""A cut line is never farther from the true curve."""
TOLERANCE_MM = 0.0005
"""Coordinates are rounded to four decimals, and arcs are taken as chords of 0.0005 mm."""


def prove(sheets: Sequence[Sheet], ordered: Iterable[tuple[str, str]]) -> None:
    """Check that a filled set of sheets may be cut.

    Every face lies inside the usable area, no two are nearer than the gap, and each is there
    exactly once.

    Args:
        sheets: of one kind.
        ordered: piece id and face of everything that must be there.

    Raises:
        SheetError: a promise is broken; this is a fault of the program.
    """
    placed = Counter((p.piece, p.face) for sheet in sheets for p in sheet.placements)
    if placed != Counter(ordered):
        raise SheetError("Not every piece lies on exactly one sheet. Please report this list.")
    for sheet in sheets:
        _prove_curves(sheet)
        outers = {path.owner: path for path in sheet.cuts if path.operation == "outer"}
        if set(outers) != {f"{p.piece}.{p.face}" for p in sheet.placements}:
            raise SheetError(f"Sheet {sheet.id} lacks the cut line of a piece. Please report it.")
        _prove_places(
            sheet,
            [shapely.Polygon(along_ring(path.points, path.bulges)) for path in outers.values()],
        )


def _prove_curves(sheet: Sheet) -> None:
    worst = max((path.deviation_mm for path in sheet.cuts), default=0.0)
    if worst > CURVE_MM:
        raise SheetError(
            f"A line on sheet {sheet.id} is {worst:.3f} mm off its letter. Please report it."
        )


def _prove_places(sheet: Sheet, outlines: Sequence[shapely.Polygon]) -> None:
    x, y, width, height = sheet.usable_mm
    bounds = shapely.bounds(np.array(outlines, dtype=object))
    low, high = bounds[:, :2].min(axis=0), bounds[:, 2:].max(axis=0)
    inside = (
        low[0] >= x - TOLERANCE_MM
        and low[1] >= y - TOLERANCE_MM
        and high[0] <= x + width + TOLERANCE_MM
        and high[1] <= y + height + TOLERANCE_MM
    )
    if not inside:
        raise SheetError(f"A piece on sheet {sheet.id} leaves the usable area. Please report it.")
    tree = shapely.STRtree(outlines)
    first, second = tree.query(outlines, predicate="dwithin", distance=sheet.gap_mm - TOLERANCE_MM)
    if np.any(first != second):
        raise SheetError(f"Two pieces on sheet {sheet.id} are too near. Please report it.")

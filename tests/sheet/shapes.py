"""Blocks from plain shapes, and a proof of filled sheets that shares no code with the program."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.sheet.blocks import Block, Member, Turned
from namebatch.sheet.model import Placement, Rect

NEAR_MM = 0.0005
"""Places are rounded to 0.0001 mm; the program's own proof allows as much."""


def block_of(
    number: int,
    shape: Polygon | MultiPolygon,
    turns_deg: Sequence[float] = (0.0, 90.0),
    kind: int | None = None,
) -> Block:
    """A block of one face; its piece is ``L<number + 2>-1``."""
    turns = tuple(_turned(shape, turn, f"L{number + 2}-1") for turn in turns_deg)
    return Block(turns, shape.area, number if kind is None else kind, True)


def _turned(shape: Polygon | MultiPolygon, turn_deg: float, piece: str) -> Turned:
    turned = affinity.rotate(shape, turn_deg, origin=(0, 0)) if turn_deg else shape
    x0, y0, x1, y1 = turned.bounds
    member = Member(piece, "board", False, -x0, -y0)
    moved = affinity.translate(turned, -x0, -y0)
    flat = MultiPolygon([moved]) if isinstance(moved, Polygon) else moved
    return Turned(turn_deg, x1 - x0, y1 - y0, (member,), flat)


def placed_shapes(sheet: Sequence[Placement], blocks: Sequence[Block]) -> list[MultiPolygon]:
    """The true shapes of a sheet, where they lie."""
    shapes = []
    for placement in sheet:
        block = blocks[int(placement.piece[1:].partition("-")[0]) - 2]
        turned = next(t for t in block.turns if t.turn_deg == placement.rotation_deg)
        member = turned.members[0]
        at = placement.x_mm - member.x_mm, placement.y_mm - member.y_mm
        shapes.append(affinity.translate(turned.shape, *at))
    return shapes


def proven(
    sheets: Sequence[Sequence[Placement]], blocks: Sequence[Block], usable: Rect, gap_mm: float
) -> str:
    """What is wrong with filled sheets; empty if nothing is.

    Every piece once, all inside, every two of a sheet apart by the gap, or, where the gap is
    nothing, with no common area. Plain distances of all pairs whose boxes are near: no index.
    """
    ids = [placement.piece for sheet in sheets for placement in sheet]
    if sorted(ids) != sorted(block.turns[0].members[0].piece for block in blocks):
        return "not every piece lies there once"
    x, y, width, height = usable
    for sheet in sheets:
        shapes = np.array(placed_shapes(sheet, blocks), dtype=object)
        bounds = shapely.bounds(shapes)
        if (bounds[:, :2] < np.array([x, y]) - NEAR_MM).any():
            return "a piece lies outside"
        if (bounds[:, 2:] > np.array([x + width, y + height]) + NEAR_MM).any():
            return "a piece lies outside"
        for k in range(1, len(shapes)):
            near = (bounds[:k, :2] - gap_mm < bounds[k, 2:]).all(axis=1)
            near &= (bounds[:k, 2:] + gap_mm > bounds[k, :2]).all(axis=1)
            others = shapes[:k][near]
            if not len(others):
                continue
            if gap_mm and shapely.distance(shapes[k], others).min() < gap_mm - NEAR_MM:
                return f"{sheet[k].piece} is too near to another piece"
            common = shapely.area(shapely.intersection(shapes[k], others)).max()
            if common > NEAR_MM * shapes[k].length:
                return f"{sheet[k].piece} lies on another piece"
    return ""


def used_length(
    sheets: Sequence[Sequence[Placement]], blocks: Sequence[Block], usable: Rect
) -> float:
    """Sheets; of the last one only the share of its width or height that is used."""
    if not sheets:
        return 0.0
    x, y, width, height = usable
    ends = shapely.total_bounds(np.array(placed_shapes(sheets[-1], blocks), dtype=object))
    return len(sheets) - 1 + float(min((ends[2] - x) / width, (ends[3] - y) / height))

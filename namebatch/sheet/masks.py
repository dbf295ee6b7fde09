"""Blocks as cells of a square raster: every cell that a block needs for itself. mm and cells.

A block needs its shape and half the gap round it. A cell belongs to its mask if that region
touches it anywhere, so two masks that share no cell are two blocks that keep the gap.
"""

from dataclasses import dataclass
from math import ceil, cos, floor, pi

import numpy as np
import shapely
from numpy.typing import NDArray

from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled
from namebatch.sheet.blocks import SIMPLE_MM, Block, Turned

QUARTER = 8
"""Chords of a quarter turn of the region's round corners."""
SPARE_MM = 0.01
"""Beyond half the gap: what rounding to 0.0001 mm may take."""

Cells = NDArray[np.uint8]
"""Rows from the bottom up, columns from the left; 1 where something is."""


@dataclass(frozen=True, slots=True, eq=False)
class Mask:
    """A block at one turn as cells; cell 0, 0 begins `reach_mm` left of and below its box.

    Attributes:
        turned: the block at this turn.
        cells: what it needs.
    """

    turned: Turned
    cells: Cells


def reach_mm(gap_mm: float) -> float:
    """How far a block's region reaches beyond its box, the same for all blocks."""
    return (gap_mm / 2 + SIMPLE_MM + SPARE_MM) / cos(pi / (4 * QUARTER))


def masks_of(block: Block, gap_mm: float, cell_mm: float) -> list[Mask]:
    """The cells that a block needs, turn by turn.

    Args:
        block: what is placed.
        gap_mm: least distance of two blocks.
        cell_mm: side of a cell.
    """
    reach = reach_mm(gap_mm)
    rings: list[Floats] = []
    masks: list[Mask] = []
    for turned in block.turns:
        if not rings or not block.rigid:
            region = shapely.buffer(turned.shape, reach, quad_segs=QUARTER)
            parts = shapely.get_parts(region)
            rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings(parts)]
            first = turned
        xy = [_turn(ring, first, turned) + reach for ring in rings]
        columns = ceil((turned.width_mm + 2 * reach) / cell_mm)
        rows = ceil((turned.height_mm + 2 * reach) / cell_mm)
        ends = np.cumsum([len(ring) for ring in xy])
        cells = touched_cells(np.concatenate(xy) / cell_mm, ends, rows, columns)
        masks.append(Mask(turned, cells))
    return masks


def _turn(xy: Floats, before: Turned, after: Turned) -> Floats:
    """Coordinates from one turn of a box to another; its bottom left corner stays at 0, 0."""
    x, y = xy[:, 0], xy[:, 1]
    width, height = before.width_mm, before.height_mm
    turned = {
        0: (x, y),
        90: (height - y, x),
        180: (width - x, height - y),
        270: (y, width - x),
    }
    return np.column_stack(turned[round(after.turn_deg - before.turn_deg) % 360])


@compiled
def touched_cells(
    xy: NDArray[np.float64], ends: NDArray[np.int64], rows: int, columns: int
) -> Cells:
    """Every cell that a polygon touches.

    A cell is touched if a line goes through it, or if its centre is inside.

    Args:
        xy: vertices in cells, ring after ring, each ring's first repeated at its end.
        ends: one past each ring's last vertex.
        rows: of the raster; what lies beyond it is not looked at.
        columns: likewise.
    """
    cells = np.zeros((rows, columns), np.uint8)
    flips = np.zeros((rows, columns + 1), np.uint8)
    ring = 0
    for i in range(xy.shape[0] - 1):
        if i + 1 == ends[ring]:
            ring += 1
            continue
        ax, ay, bx, by = xy[i, 0], xy[i, 1], xy[i + 1, 0], xy[i + 1, 1]
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        slope = (bx - ax) / (by - ay) if by > ay else 0.0
        for row in range(max(floor(ay), 0), min(floor(by), rows - 1) + 1):
            x0 = ax + (row - ay) * slope if row > ay else ax
            x1 = ax + (row + 1 - ay) * slope if row + 1 < by else bx
            low, high = min(x0, x1), max(x0, x1)
            for column in range(max(floor(low), 0), min(floor(high), columns - 1) + 1):
                cells[row, column] = 1
            centre = row + 0.5
            if ay <= centre < by:
                at = ceil(ax + (centre - ay) * slope - 0.5)
                flips[row, min(max(at, 0), columns)] ^= 1
    for row in range(rows):
        inside = 0
        for column in range(columns):
            inside ^= flips[row, column]
            cells[row, column] |= inside
    return cells

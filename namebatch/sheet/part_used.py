"""Filling what is left of part-used boards before new ones are taken. mm."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, affinity

from namebatch.sheet.bitboard import Board, Raster
from namebatch.sheet.blocks import Block, fitting
from namebatch.sheet.equal import NEAR_MM, best_sheet, like
from namebatch.sheet.frame import Page
from namebatch.sheet.masks import QUARTER, reach_mm, touched_cells
from namebatch.sheet.pool import Manner, Place, Stamps, fill_board
from namebatch.sheet.tries import Laid, cell_mm, laid

WAY = Manner(at_once=10, at_hand=400, height_weight=0.5)
AS_MANY = 1_000_000
"""As many equal blocks as a whole board takes."""
MOST_AT_HAND = 3000
"""So many blocks, the largest, are looked at for one board."""


@dataclass(frozen=True, slots=True)
class Leftover:
    """A board of which a part is gone.

    Attributes:
        name: what the workshop calls it.
        page: the whole board.
        used: what is gone, in the board's coordinates.
        is_turned: True if it lies turned by a quarter to the left, and all of this with it.
    """

    name: str
    page: Page
    used: MultiPolygon
    is_turned: bool = False


def onto_leftover(
    blocks: Sequence[Block],
    numbers: Sequence[int],
    groups: Sequence[Hashable],
    leftover: Leftover,
    gap_mm: float,
) -> list[Laid]:
    """Put on a part-used board what finds room there, the largest first.

    Args:
        blocks: all of them.
        numbers: those that still lie nowhere.
        groups: what each of all blocks belongs to: a group goes there whole or not at all.
        leftover: the board.
        gap_mm: least distance of cut lines from each other and from what is gone.

    Returns:
        What lies there, from the corner of its usable area.
    """
    members: dict[Hashable, list[int]] = {}
    for number in numbers:
        members.setdefault(groups[number], []).append(number)
    order = sorted(members.values(), key=lambda some: -sum(blocks[n].area_mm2 for n in some))
    usable = leftover.page.usable_mm
    best = _in_rows(blocks, order, leftover, gap_mm)
    most = sum(blocks[place[0]].area_mm2 for place in best)
    for upright in (True, False):
        raster = Raster(
            usable, gap_mm, cell_mm([blocks[number] for number in numbers], usable), upright
        )
        places = _filled(order, Stamps(blocks, raster), _board(leftover, raster))
        area = sum(blocks[place[0]].area_mm2 for place in places)
        if area > most:
            most, best = area, laid(places, raster)
    return best


def _in_rows(
    blocks: Sequence[Block], order: Sequence[Sequence[int]], leftover: Leftover, gap_mm: float
) -> list[Laid]:
    """Equal blocks where the best sheet of them keeps clear of what is gone; else none."""
    numbers = [number for some in order for number in some]
    if len({blocks[number].kind for number in numbers}) != 1:
        return []
    first = blocks[numbers[0]]
    if not fitting(first, leftover.page.usable_mm):
        return []
    x0, y0 = leftover.page.usable_mm[:2]
    # what is gone was often cut in the very same rows
    apart = gap_mm + 2 * first.turns[0].slack_mm - NEAR_MM
    spots = [
        (turned, x, y)
        for turned, x, y in best_sheet(first, leftover.page.usable_mm, gap_mm, AS_MANY)
        if not shapely.dwithin(
            affinity.translate(turned.shape, x0 + x, y0 + y), leftover.used, apart
        )
    ]
    taken: list[int] = []
    for some in order:
        if len(taken) + len(some) <= len(spots):
            taken += some
    return [
        (number, like(blocks[number], turned), x, y)
        for number, (turned, x, y) in zip(sorted(taken), spots, strict=False)
    ]


def _filled(order: Sequence[Sequence[int]], stamps: Stamps, board: Board) -> list[Place]:
    """Whole groups one by one, then all single blocks together."""
    places: list[Place] = []
    for numbers in order:
        if len(numbers) < 2:
            continue
        trial = board.copy()
        some = fill_board(trial, stamps, numbers, WAY)
        if len(some) == len(numbers):
            board, places = trial, [*places, *some]
    singles = [numbers[0] for numbers in order if len(numbers) == 1]
    return [*places, *fill_board(board, stamps, singles[:MOST_AT_HAND], WAY)]


def _board(leftover: Leftover, raster: Raster) -> Board:
    """The board with what is gone taken, half the gap round it as round every piece."""
    board = Board(raster.size)
    reach = reach_mm(raster.gap_mm)
    region = shapely.buffer(leftover.used, reach, quad_segs=QUARTER)
    rows, columns = raster.size if raster.upright else raster.size[::-1]
    x, y = raster.usable[0] - reach, raster.usable[1] - reach
    window = shapely.box(
        x - 1.0, y - 1.0, x + columns * raster.cell_mm + 1.0, y + rows * raster.cell_mm + 1.0
    )
    seen = shapely.intersection(region, window)
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings(shapely.get_parts(seen))]
    if not rings:
        return board
    cells = touched_cells(
        (np.concatenate(rings) - (x, y)) / raster.cell_mm,
        np.cumsum([len(ring) for ring in rings]),
        rows,
        columns,
    )
    board.take(cells if raster.upright else np.ascontiguousarray(cells.T))
    return board

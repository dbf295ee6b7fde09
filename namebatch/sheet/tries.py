"""Different blocks on as few sheets as several tries find, each by what the last one lacked."""

from collections.abc import Sequence
from math import inf, sqrt
from random import Random

from namebatch.sheet.bitboard import Raster
from namebatch.sheet.blocks import Block, Turned
from namebatch.sheet.model import Rect
from namebatch.sheet.pool import Manner, Place, Stamps, fill_sheets

CELL_MM = ((400, 0.5), (1500, 0.7))
"""Up to so many blocks, cells of this side; for more of them, of `COARSE_MM`."""
COARSE_MM = 1.0
OF_SIZE = 1 / 100
"""Large blocks get cells of at least this share of the side of a square as large: finer ones cost
time and save nothing (24 boards of line winders at 0.5, 0.75, 1.0 and 1.3 mm alike)."""
CELLS = (40_000, 1_000_000)
"""Cells of a sheet: small ones get finer cells, large ones coarser ones."""
MANY = 1500
"""More blocks than this are placed once only, fewer of them at hand."""
AT_HAND = 400
AT_ONCE = 10
MANY_AT_HAND = 120
MANY_AT_ONCE = 6
HEIGHT_WEIGHTS = (1.0, 2.0, 0.5)
MOST_TRIES = 40
LOOKS = 7.0e9
"""Cells looked at in all tries together: about two seconds."""
BUMP = 1.15
"""A block that came to lie on the last sheet is so much more urgent next time."""
SEED = 120


Laid = tuple[int, Turned, float, float]
"""Number of a block, how it is turned, and its place from the corner of the usable area; mm."""


def in_tries(
    blocks: Sequence[Block],
    usable: Rect,
    gap_mm: float,
    enough: int = 0,
    upright: Sequence[bool] = (False, True),
) -> list[list[Laid]]:
    """Fill sheets several times and take the shortest.

    Args:
        blocks: each fits the usable area in at least one turn.
        usable: x, y, width, height in mm.
        gap_mm: least distance of cut lines.
        enough: so many sheets are few enough: no try is made beyond the first round.
        upright: whether sheets are filled from the left, from below, or in turn.

    Returns:
        The blocks of each sheet.
    """
    if not blocks:
        return []
    cell = cell_mm(blocks, usable)
    rasters = [Raster(usable, gap_mm, cell, side) for side in upright]
    stamps = [Stamps(blocks, raster) for raster in rasters]
    urgent = [[block.area_mm2 for block in blocks] for _ in rasters]
    random = Random(SEED)
    order = list(range(len(blocks)))
    many = len(blocks) > MANY
    at_hand, at_once = (MANY_AT_HAND, MANY_AT_ONCE) if many else (AT_HAND, AT_ONCE)
    if len(blocks) > at_hand:
        random.shuffle(order)
    best: list[list[Laid]] = []
    shortest = inf
    for number in range(1 if many else _tries(blocks, rasters[0])):
        side = number % len(rasters)
        way = Manner(at_once, at_hand, HEIGHT_WEIGHTS[number // 2 % len(HEIGHT_WEIGHTS)])
        done = fill_sheets(stamps[side], order, urgent[side], way)
        if done.length < shortest:
            shortest, best = done.length, [laid(sheet, rasters[side]) for sheet in done.sheets]
        if len(best) <= enough and side == len(rasters) - 1:
            break
        for place in done.sheets[-1]:
            urgent[side][place[0]] *= BUMP * random.uniform(0.8, 1.25)
    return best


def cell_mm(blocks: Sequence[Block], usable: Rect) -> float:
    """Side of the cells that suit these blocks and such a sheet."""
    side = next((cell for most, cell in CELL_MM if len(blocks) <= most), COARSE_MM)
    # of half of them, so that a few large ones do not spoil it for small ones in their hollows
    small = sorted(block.area_mm2 for block in blocks)[: len(blocks) // 2 + 1]
    side = max(side, OF_SIZE * sqrt(small[-1])) if small else side
    fewest, most = CELLS
    area = usable[2] * usable[3]
    return min(max(side, sqrt(area / most)), sqrt(area / fewest))


def _tries(blocks: Sequence[Block], raster: Raster) -> int:
    rows, columns = raster.size
    turns = sum(len(block.turns) for block in blocks)
    return max(2, min(MOST_TRIES, int(LOOKS / (turns * AT_ONCE * rows * columns))))


def laid(places: Sequence[Place], raster: Raster) -> list[Laid]:
    """Places of a raster in mm."""
    return [
        (number, stamp.mask.turned, *raster.corner_mm(row, column))
        for number, stamp, row, column in places
    ]

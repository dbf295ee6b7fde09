"""One sheet with as many equal blocks as several arrangements find. mm."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from namebatch.sheet.bitboard import Raster
from namebatch.sheet.blocks import Block, Turned, fitting
from namebatch.sheet.boxes import best_boxes
from namebatch.sheet.lattice import Laid, lattices
from namebatch.sheet.model import Rect
from namebatch.sheet.pool import Manner, Stamps, fill_sheets
from namebatch.sheet.strip_shapes import keeps_gap

STEP = 1000
"""Boxes are counted in thousandths of a millimetre."""
BOX_LIKE = 0.97
"""Shapes that fill their box so far are placed as boxes only."""
CELLS_A_SHEET = (40_000, 400_000)
"""Boards on which equal blocks are placed have about so many cells."""
HEIGHT_WEIGHTS = (0.5, 1.0, 2.0, 4.0)
SAME = 0.001
"""Two turns whose shapes differ by less than this share of their area are one."""
NEAR_MM = 0.0004
"""Rounding may bring two blocks nearer by less than this."""


def best_sheet(block: Block, usable: Rect, gap_mm: float, enough: int) -> list[Laid]:
    """Fill one sheet with copies of a block.

    Args:
        block: what is copied.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
        enough: no more than so many are needed.

    Returns:
        The arrangement with the most blocks, from the bottom up; every one is proved to keep the
        gap and to lie inside the area.
    """
    lean = replace(block, turns=_different(fitting(block, usable)))
    best: list[Laid] = []
    for laid in _arrangements(lean, usable, gap_mm):
        if len(laid) > len(best) and _is_sound(laid, usable, gap_mm):
            best = laid
        if len(best) >= enough:
            break
    return sorted(best, key=lambda one: (one[2] + one[0].height_mm, one[1]))


def _arrangements(block: Block, usable: Rect, gap_mm: float) -> Iterator[list[Laid]]:
    # where plain rows are enough they are the tidiest to cut and to pick up
    for turned in block.turns:
        yield _rows(turned, usable, gap_mm)
    yield _boxes(block, usable, gap_mm)
    first = block.turns[0]
    filled = first.shape.area / (first.width_mm * first.height_mm)
    if filled > BOX_LIKE:
        return
    yield from lattices(block, usable, gap_mm)
    yield from _boards(block, usable, gap_mm)


def _different(turns: Sequence[Turned]) -> tuple[Turned, ...]:
    """Turns without those at which the shape looks the same."""
    kept: list[Turned] = []
    for turned in turns:
        area = turned.shape.area
        if not any(
            shapely.symmetric_difference(turned.shape, other.shape).area < SAME * area
            for other in kept
        ):
            kept.append(turned)
    return tuple(kept)


def like(block: Block, turned: Turned) -> Turned:
    """The block's own faces at the turn of an equal one."""
    return next(own for own in block.turns if own.turn_deg == turned.turn_deg)


def _rows(turned: Turned, usable: Rect, gap_mm: float) -> list[Laid]:
    """Boxes of one turn side by side and above each other."""
    step_x, step_y = turned.width_mm + gap_mm, turned.height_mm + gap_mm
    across = int((usable[2] + gap_mm) / step_x + 1e-9)
    up = int((usable[3] + gap_mm) / step_y + 1e-9)
    return [(turned, x * step_x, y * step_y) for y in range(up) for x in range(across)]


def _boxes(block: Block, usable: Rect, gap_mm: float) -> list[Laid]:
    """Boxes side by side, lying both ways where that is allowed."""
    upright = block.turns[0]
    sides = (upright.width_mm, upright.height_mm)
    across = next((t for t in block.turns if (t.turn_deg - upright.turn_deg) % 180 == 90), None)
    if across is not None and (across.width_mm, across.height_mm) != sides[::-1]:
        across = None
    box = tuple(round((side + gap_mm) * STEP) for side in sides)
    room = tuple(int((side + gap_mm) * STEP + 1e-3) for side in usable[2:])
    spots = best_boxes((box[0], box[1]), (room[0], room[1]), across is not None)
    return [
        (across if lies_across and across is not None else upright, x / STEP, y / STEP)
        for x, y, lies_across in spots
    ]


def _boards(block: Block, usable: Rect, gap_mm: float) -> Iterator[list[Laid]]:
    """One block after the other where it touches most, on coarse and fine boards."""
    count = max(1, int(usable[2] * usable[3] / block.turns[0].shape.area))
    for cells in CELLS_A_SHEET:
        cell = (usable[2] * usable[3] / cells) ** 0.5
        for upright in (True, False):
            raster = Raster(usable, gap_mm, cell, upright)
            stamps = Stamps([block] * count, raster)
            shared = stamps.of(0)
            for number in range(1, count):
                stamps.share(number, shared)
            for weight in HEIGHT_WEIGHTS:
                way = Manner(1, count, weight)
                done = fill_sheets(stamps, range(count), [0.0] * count, way, most=1)
                yield [
                    (stamp.mask.turned, *raster.corner_mm(row, column))
                    for _, stamp, row, column in done.sheets[0]
                ]


def _is_sound(laid: Sequence[Laid], usable: Rect, gap_mm: float) -> bool:
    """True if all keep the gap and lie inside the area."""
    if any(
        x < -NEAR_MM
        or y < -NEAR_MM
        or x + turned.width_mm > usable[2] + NEAR_MM
        or y + turned.height_mm > usable[3] + NEAR_MM
        for turned, x, y in laid
    ):
        return False
    return keeps_gap([(0, *one) for one in laid], gap_mm)

"""Equal blocks in rows: each row like the next but one, pushed together as far as shapes allow. mm.

A row repeats one block, or a block and the same turned by 180° at another height. Every second
row is shifted, and may be turned by 180°. All distances are found on the true shapes by halving.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import floor

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

from namebatch.outline.arrays import Floats
from namebatch.sheet.blocks import Block, Turned
from namebatch.sheet.model import Rect

HEIGHTS = 5
"""So many heights of the second block of a row are tried."""
SHIFTS = 16
"""So many shifts of every second row are tried."""
HALVINGS = 20
LESS_MM = 0.0002
"""Less than the proof of a sheet allows for: a row may fit by a hair."""
COPIES = 3
"""So many blocks to either side are looked at."""

Laid = tuple[Turned, float, float]
"""A block at a turn and where its box has its bottom left corner, from that of the usable area."""
Shapes = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class _Row:
    """What a row repeats: blocks with their places, and the distance to the next repeat."""

    cell: tuple[Laid, ...]
    pitch: float

    @property
    def shape(self) -> shapely.MultiPolygon:
        return _together(self.cell)

    @property
    def bottom(self) -> float:
        return min(y for _, _, y in self.cell)

    @property
    def height(self) -> float:
        return max(y + turned.height_mm for turned, _, y in self.cell) - self.bottom


def lattices(block: Block, usable: Rect, gap_mm: float) -> Iterator[list[Laid]]:
    """Sheets of equal blocks in rows, one after the other.

    Args:
        block: what each of them is.
        usable: x, y, width, height in mm.
        gap_mm: least distance of two blocks.
    """
    by_turn = {turned.turn_deg % 360: turned for turned in block.turns}
    for turn, turned in by_turn.items():
        back = by_turn.get((turn + 180) % 360)
        for row in _rows(turned, back, gap_mm):
            others = [row]
            if back is not None and len(row.cell) == 1:
                others.append(_Row(((back, 0.0, 0.0),), row.pitch))
            for other in others:
                yield from _stacked(row, other, usable, gap_mm)


def _rows(turned: Turned, back: Turned | None, gap_mm: float) -> Iterator[_Row]:
    alone = _apart(turned, turned, [0.0], gap_mm)[0]
    yield _Row(((turned, 0.0, 0.0),), alone)
    if back is None:
        return
    heights = np.linspace(-0.5, 0.5, HEIGHTS) * turned.height_mm
    there = _apart(turned, back, heights, gap_mm)
    again = _apart(back, turned, -heights, gap_mm)
    for height, first, second in zip(heights.tolist(), there, again, strict=True):
        pitch = max(first + second, alone)
        yield _Row(((turned, 0.0, 0.0), (back, first, height)), pitch)


def _stacked(row: _Row, other: _Row, usable: Rect, gap_mm: float) -> Iterator[list[Laid]]:
    """Rows above each other at every shift, the blocks that fit the area."""
    shifts = np.arange(SHIFTS) / SHIFTS * row.pitch
    up = _above(row, other, shifts, gap_mm)
    down = _above(other, row, -shifts, gap_mm)
    for shift, first, second in zip(shifts.tolist(), up, down, strict=True):
        least = _own_height(row, other, first + second, gap_mm)
        yield _filled((row, other), shift, (first, least - first), usable)


def _own_height(row: _Row, other: _Row, step: float, gap_mm: float) -> float:
    """The distance of a row from the next but one: at least what keeps these two apart."""
    apart = max(_above(one, one, np.zeros(1), gap_mm)[0] for one in {row, other})
    return max(step, apart)


def _filled(
    rows: tuple[_Row, _Row], shift: float, steps: tuple[float, float], usable: Rect
) -> list[Laid]:
    width, height = usable[2], usable[3]
    laid: list[Laid] = []
    y = -rows[0].bottom
    for number in range(10_000):
        row = rows[number % 2]
        if y + row.bottom > height:
            break
        # as far left as the row's own repeat allows
        start = (shift if number % 2 else 0.0) - row.pitch * floor(
            (shift if number % 2 else 0.0) / row.pitch
        )
        for turned, x, up in row.cell:
            first = (start + x) % row.pitch
            for k in range(max(0, floor((width - turned.width_mm - first) / row.pitch + 1e-9) + 1)):
                if -1e-9 <= y + up <= height - turned.height_mm + 1e-9:
                    laid.append((turned, first + k * row.pitch, max(y + up, 0.0)))
        y += steps[number % 2]
    return laid


def _apart(one: Turned, other: Turned, ups: Sequence[float] | Floats, gap_mm: float) -> list[float]:
    """How far to the right of one the other has to be, at several heights."""
    fixed = one.shape
    shapely.prepare(fixed)
    apart = _apart_mm(gap_mm, one, other)

    def free(across: Floats) -> NDArray[np.bool_]:
        moved = [affinity.translate(other.shape, x, y) for x, y in zip(across, ups, strict=True)]
        near: NDArray[np.bool_] = shapely.dwithin(fixed, np.array(moved, dtype=object), apart)
        return ~near

    return _halved(free, len(ups), one.width_mm + apart + LESS_MM)


def _apart_mm(gap_mm: float, one: Turned, other: Turned) -> float:
    """The distance at which two shapes are near: with no gap, where they touch."""
    # below nothing, GEOS answers by its version: before 3.14 what overlaps was not near
    return max(gap_mm - LESS_MM + one.slack_mm + other.slack_mm, 0.0)


def _above(row: _Row, other: _Row, shifts: Floats, gap_mm: float) -> list[float]:
    """How far above a row another one has to be, at several shifts."""
    copies = [affinity.translate(row.shape, k * row.pitch) for k in range(-COPIES, COPIES + 1)]
    fixed = shapely.multipolygons([part for copy in copies for part in shapely.get_parts(copy)])
    shapely.prepare(fixed)
    shape = other.shape
    apart = _apart_mm(gap_mm, row.cell[0][0], other.cell[0][0])
    far = row.bottom + row.height - other.bottom + apart + LESS_MM
    inside = (shifts + row.pitch / 2) % row.pitch - row.pitch / 2

    def free(up: Floats) -> NDArray[np.bool_]:
        moved = [affinity.translate(shape, x, y) for x, y in zip(inside, up, strict=True)]
        near: NDArray[np.bool_] = shapely.dwithin(fixed, np.array(moved, dtype=object), apart)
        return ~near

    return _halved(free, len(shifts), far)


def _halved(free: Callable[[Floats], NDArray[np.bool_]], count: int, far: float) -> list[float]:
    """The least distances that are free, where `far` is and everything beyond."""
    low, high = np.zeros(count), np.full(count, far)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        good = free(middle)
        high, low = np.where(good, middle, high), np.where(good, low, middle)
    return [float(value) for value in high]


def _together(cell: Sequence[Laid]) -> shapely.MultiPolygon:
    moved = [affinity.translate(turned.shape, x, y) for turned, x, y in cell]
    return shapely.multipolygons([part for one in moved for part in shapely.get_parts(one)])

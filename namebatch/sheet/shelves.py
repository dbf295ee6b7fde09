"""Filling with boxes on shelves: quick, in list order where asked, wasteful."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from namebatch.sheet.blocks import Block, Turned, fitting
from namebatch.sheet.model import Placement, Rect

OPEN_SHEETS = 40
"""So many sheets are looked at for a new shelf; on older ones only shelves are filled up."""


@dataclass(slots=True)
class _Shelf:
    """A row of blocks: its height is that of its first block."""

    y: float
    height: float
    x: float = 0.0


@dataclass(slots=True)
class _Stack:
    """The shelves of one sheet, from the bottom up."""

    shelves: list[_Shelf] = field(default_factory=list)
    placed: list[tuple[int, tuple[Placement, ...]]] = field(default_factory=list)

    @property
    def top(self) -> float:
        return self.shelves[-1].y + self.shelves[-1].height if self.shelves else 0.0


def shelves(
    blocks: Sequence[Block], usable: Rect, gap_mm: float, keep_order: bool
) -> list[list[Placement]]:
    """Boxes on shelves, first fit, tallest first; several ways tried, the best taken.

    Coffman, Garey, Johnson & Tarjan 1980 (first fit decreasing height). With `keep_order`
    the blocks stay in list order and only the current shelf and sheet are open.

    Args:
        blocks: each fits the usable area in at least one of its turns.
        usable: x, y, width, height.
        gap_mm: least distance of two boxes.
        keep_order: do not sort.

    Returns:
        Placements of each sheet, in list order of the blocks.
    """
    best: list[_Stack] | None = None
    for prefer in (_first, _lowest, _tallest):
        stacks = _fill(blocks, usable, gap_mm, keep_order, prefer)
        if best is None or _cost(stacks) < _cost(best):
            best = stacks
    return [
        [placement for _, placements in sorted(stack.placed) for placement in placements]
        for stack in best or []
    ]


def _first(options: list[Turned]) -> Turned:
    return options[0]


def _lowest(options: list[Turned]) -> Turned:
    return min(options, key=lambda turned: turned.height_mm)


def _tallest(options: list[Turned]) -> Turned:
    return max(options, key=lambda turned: turned.height_mm)


def _cost(stacks: Sequence[_Stack]) -> tuple[int, float]:
    return len(stacks), stacks[-1].top if stacks else 0.0


def _fill(
    blocks: Sequence[Block],
    usable: Rect,
    gap_mm: float,
    keep_order: bool,
    prefer: Callable[[list[Turned]], Turned],
) -> list[_Stack]:
    chosen = [(index, prefer(fitting(block, usable))) for index, block in enumerate(blocks)]
    if not keep_order:
        chosen.sort(key=lambda pair: (-pair[1].height_mm, -pair[1].width_mm, pair[0]))
    stacks: list[_Stack] = []
    places: list[tuple[_Stack, _Shelf]] = []
    heights, ends = np.empty(len(chosen)), np.empty(len(chosen))  # of their shelves
    for index, turned in chosen:
        first = max(len(places) - 1, 0) if keep_order else 0
        tall = heights[first : len(places)] >= turned.height_mm - 1e-9
        wide = ends[first : len(places)] + gap_mm + turned.width_mm <= usable[2] + 1e-9
        with_room = np.flatnonzero(tall & wide)
        if with_room.size:
            number = first + int(with_room[0])
        else:
            number = len(places)
            places.append(_new_shelf(stacks, turned, usable, gap_mm, keep_order))
            heights[number] = places[number][1].height
        stack, shelf = places[number]
        x = shelf.x + gap_mm if shelf.x else 0.0
        at = turned.place(usable[0] + x, usable[1] + shelf.y)
        stack.placed.append((index, at))
        ends[number] = shelf.x = x + turned.width_mm
    return stacks


def _new_shelf(
    stacks: list[_Stack], turned: Turned, usable: Rect, gap_mm: float, keep_order: bool
) -> tuple[_Stack, _Shelf]:
    """Open a shelf on the first recent sheet with room above, else on a new sheet."""
    for stack in stacks[-1:] if keep_order else stacks[-OPEN_SHEETS:]:
        y = stack.top + gap_mm
        if y + turned.height_mm <= usable[3] + 1e-9:
            stack.shelves.append(_Shelf(y, turned.height_mm))
            return stack, stack.shelves[-1]
    stacks.append(_Stack([_Shelf(0.0, turned.height_mm)]))
    return stacks[-1], stacks[-1].shelves[0]

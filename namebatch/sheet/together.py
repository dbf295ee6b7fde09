"""Pieces of one order on as few sheets as it takes, so that it can be packed from one pile."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

from namebatch.errors import SheetError
from namebatch.sheet.bitboard import Board, Raster
from namebatch.sheet.blocks import Block
from namebatch.sheet.model import Rect
from namebatch.sheet.pool import Manner, Place, Stamps, fill_board
from namebatch.sheet.tries import MANY, Laid, cell_mm, laid

WAY = Manner(at_once=10, at_hand=400, height_weight=1.0)
OPEN = 12
"""So many sheets are looked at for an order, the latest ones."""


@dataclass(slots=True)
class _Pile:
    """A sheet while it is being filled."""

    board: Board
    places: list[Place] = field(default_factory=list)


def together(
    blocks: Sequence[Block], groups: Sequence[Hashable], usable: Rect, gap_mm: float
) -> list[list[Laid]]:
    """Fill sheets with whole groups: one that fits an empty sheet is never split.

    A larger group fills sheets of its own; the last of them takes others too. Orders are tried as
    they come and the largest first, sheets filled from below and from the left; the fewest sheets
    are taken, and of those the ones that keep the orders as they came.

    Args:
        blocks: each fits the usable area in at least one turn.
        groups: what each block belongs to.
        usable: x, y, width, height in mm.
        gap_mm: least distance of cut lines.

    Returns:
        The blocks of each sheet; sheets in the order of their first block.

    Raises:
        SheetError: a block has no room on an empty sheet.
    """
    if not blocks:
        return []
    members: dict[Hashable, list[int]] = {}
    for number, group in enumerate(groups):
        members.setdefault(group, []).append(number)
    as_they_come = list(members.values())
    largest_first = sorted(as_they_come, key=lambda some: -sum(blocks[n].area_mm2 for n in some))
    cell = cell_mm(len(blocks), usable)
    found: list[list[list[Laid]]] = []
    for order in (as_they_come,) if len(blocks) > MANY else (as_they_come, largest_first):
        for upright in (True, False):
            raster = Raster(usable, gap_mm, cell, upright)
            piles = _piled(order, Stamps(blocks, raster))
            found.append([laid(pile.places, raster) for pile in piles])
    best = min(found, key=len)
    return sorted(best, key=lambda sheet: min(place[0] for place in sheet))


def _piled(order: Sequence[Sequence[int]], stamps: Stamps) -> list[_Pile]:
    """Group by group onto the sheet that it leaves the least room on."""
    piles: list[_Pile] = []
    for numbers in order:
        first = max(len(piles) - OPEN, 0)
        tried = {k: _with(piles[k], numbers, stamps) for k in range(first, len(piles))}
        taken = [(pile.board.room, k, pile) for k, pile in tried.items() if pile is not None]
        if taken:
            _, k, piles[k] = min(taken, key=lambda some: some[:2])
        else:
            piles.extend(_alone(numbers, stamps))
        for number in numbers:
            stamps.drop(number)
    return piles


def _with(pile: _Pile, numbers: Sequence[int], stamps: Stamps) -> _Pile | None:
    """The sheet with all of a group on it; None if it does not take it."""
    if sum(min(s.count for s in stamps.of(n)) for n in numbers) > pile.board.room:
        return None
    board = pile.board.copy()
    places = fill_board(board, stamps, numbers, WAY)
    return _Pile(board, [*pile.places, *places]) if len(places) == len(numbers) else None


def _alone(numbers: Sequence[int], stamps: Stamps) -> list[_Pile]:
    """A group on new sheets."""
    piles: list[_Pile] = []
    left = list(numbers)
    while left:
        board = Board(stamps.raster.size)
        places = fill_board(board, stamps, left, WAY)
        if not places:
            raise SheetError("A piece has no room on an empty sheet. Please report this list.")
        placed = {place[0] for place in places}
        left = [number for number in left if number not in placed]
        piles.append(_Pile(board, places))
    return piles

"""Pieces of one order on as few sheets as it takes, so that it can be packed from one pile."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from math import ceil

from namebatch.errors import SheetError
from namebatch.sheet.bitboard import Board, Raster
from namebatch.sheet.blocks import Block, Turned
from namebatch.sheet.equal import best_sheet, like
from namebatch.sheet.model import Rect
from namebatch.sheet.pool import Manner, Place, Stamps, fill_board
from namebatch.sheet.tries import MANY, Laid, cell_mm, laid

WAY = Manner(at_once=10, at_hand=400, height_weight=1.0)
OPEN = 12
"""So many sheets are looked at for an order, the latest ones."""


@dataclass(slots=True)
class _Pile:
    """A sheet while it is being filled; one that is laid out as it is takes no more."""

    board: Board
    places: list[Place] = field(default_factory=list)
    laid: list[Laid] = field(default_factory=list)


def together(
    blocks: Sequence[Block], groups: Sequence[Hashable], usable: Rect, gap_mm: float
) -> list[list[Laid]]:
    """Fill sheets with whole groups: one that fits an empty sheet is never split.

    A larger group fills sheets of its own; the last of them takes others too, unless its pieces
    are equal and lie in rows there. Orders are tried as
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
    best_of = _Sheets(blocks, usable, gap_mm)
    members: dict[Hashable, list[int]] = {}
    for number, group in enumerate(groups):
        members.setdefault(group, []).append(number)
    as_they_come = list(members.values())
    largest_first = sorted(as_they_come, key=lambda some: -sum(blocks[n].area_mm2 for n in some))
    found: list[list[list[Laid]]] = []
    if len({block.kind for block in blocks}) == 1:
        found = [_counted(order, best_of) for order in (as_they_come, largest_first)]
        if min(map(len, found)) <= ceil(len(blocks) / best_of.most(0)):
            return _in_order(min(found, key=len))
    cell = cell_mm(blocks, usable)
    for order in (as_they_come,) if len(blocks) > MANY else (as_they_come, largest_first):
        for upright in (True, False):
            raster = Raster(usable, gap_mm, cell, upright)
            piles = _piled(order, Stamps(blocks, raster), best_of)
            found.append([pile.laid or laid(pile.places, raster) for pile in piles])
    return _in_order(min(found, key=len))


def _in_order(sheets: Sequence[list[Laid]]) -> list[list[Laid]]:
    return sorted(sheets, key=lambda sheet: min(place[0] for place in sheet))


class _Sheets:
    """The best sheet of each kind of block, looked for when it is asked for."""

    def __init__(self, blocks: Sequence[Block], usable: Rect, gap_mm: float) -> None:
        self._blocks, self._usable, self._gap_mm = blocks, usable, gap_mm
        self._known: dict[int, list[tuple[Turned, float, float]]] = {}

    def most(self, number: int) -> int:
        """How many blocks like this one a sheet takes."""
        return len(self._spots(number))

    def laid(self, numbers: Sequence[int]) -> list[Laid]:
        """Equal blocks, no more than a sheet takes, laid out from the bottom up."""
        spots = self._spots(numbers[0])
        return [
            (number, like(self._blocks[number], turned), x, y)
            for number, (turned, x, y) in zip(sorted(numbers), spots, strict=False)
        ]

    def are_equal(self, numbers: Sequence[int]) -> bool:
        """True if all are of one kind."""
        return len({self._blocks[number].kind for number in numbers}) == 1

    def _spots(self, number: int) -> list[tuple[Turned, float, float]]:
        block = self._blocks[number]
        if block.kind not in self._known:
            count = sum(other.kind == block.kind for other in self._blocks)
            self._known[block.kind] = best_sheet(block, self._usable, self._gap_mm, count)
        return self._known[block.kind]


def _counted(order: Sequence[Sequence[int]], best_of: _Sheets) -> list[list[Laid]]:
    """Where all blocks are equal it is their number alone that counts; the fullest sheet first."""
    most = best_of.most(order[0][0])
    sheets: list[list[int]] = []
    for numbers in order:
        left = list(numbers)
        while len(left) > most:
            sheets.append(left[:most])
            left = left[most:]
        room = [(most - len(sheet), k) for k, sheet in enumerate(sheets)]
        fitting = [(spare, k) for spare, k in room if spare >= len(left)]
        if fitting:
            sheets[min(fitting)[1]] += left
        else:
            sheets.append(left)
    return [best_of.laid(sheet) for sheet in sheets]


def _piled(order: Sequence[Sequence[int]], stamps: Stamps, best_of: _Sheets) -> list[_Pile]:
    """Group by group onto the sheet that it leaves the least room on."""
    piles: list[_Pile] = []
    for numbers in order:
        first = max(len(piles) - OPEN, 0)
        still_open = [k for k in range(first, len(piles)) if not piles[k].laid]
        tried = {k: _with(piles[k], numbers, stamps) for k in still_open}
        taken = [(pile.board.room, k, pile) for k, pile in tried.items() if pile is not None]
        if taken:
            _, k, piles[k] = min(taken, key=lambda some: some[:2])
        else:
            piles.extend(_alone(numbers, stamps, best_of))
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


def _alone(numbers: Sequence[int], stamps: Stamps, best_of: _Sheets) -> list[_Pile]:
    """A group on new sheets."""
    piles = _placed(numbers, stamps)
    if len(piles) > 1 and best_of.are_equal(numbers):
        most = best_of.most(numbers[0])
        if -(-len(numbers) // most) < len(piles):
            parts = [numbers[k : k + most] for k in range(0, len(numbers), most)]
            return [_Pile(Board(stamps.raster.size), laid=best_of.laid(part)) for part in parts]
    return piles


def _placed(numbers: Sequence[int], stamps: Stamps) -> list[_Pile]:
    """A group on new sheets, each block where it touches most."""
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

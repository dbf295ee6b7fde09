"""Filling sheet by sheet: of the blocks at hand always the one that fits its place best."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from namebatch.errors import SheetError
from namebatch.sheet.bitboard import Board, Raster, Stamp, stamp_of
from namebatch.sheet.blocks import Block
from namebatch.sheet.masks import masks_of

Place = tuple[int, Stamp, int, int]
"""Number of a block, its stamp, row and column."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How a sheet is filled.

    Attributes:
        at_once: so many blocks that have room somewhere compete for the next place.
        at_hand: so many blocks, in order, are looked at for one sheet.
        height_weight: see `Board.best_place`.
    """

    at_once: int
    at_hand: int
    height_weight: float


@dataclass(frozen=True, slots=True)
class Try:
    """Sheets as one manner filled them.

    Attributes:
        sheets: places, sheet by sheet.
        length: sheets, of the last one only the share that is used.
    """

    sheets: tuple[tuple[Place, ...], ...]
    length: float


class Stamps:
    """The stamps of blocks, made when a block comes to hand and dropped when it is placed."""

    def __init__(self, blocks: Sequence[Block], raster: Raster) -> None:
        self._blocks = blocks
        self._made: dict[int, list[Stamp]] = {}
        self.raster = raster

    def of(self, number: int) -> list[Stamp]:
        """Stamps of a block, turn by turn; those that do not fit the sheet are left out."""
        if number not in self._made:
            masks = masks_of(self._blocks[number], self.raster.gap_mm, self.raster.cell_mm)
            stamps = (stamp_of(mask, self.raster) for mask in masks)
            self._made[number] = [stamp for stamp in stamps if stamp is not None]
        return self._made[number]

    def is_host(self, number: int) -> bool:
        """True if other blocks may lie in a hollow of this one."""
        return any(part.interiors for part in self._blocks[number].turns[0].shape.geoms)

    def share(self, number: int, stamps: list[Stamp]) -> None:
        """Give a block the stamps of an equal one."""
        self._made[number] = stamps

    def drop(self, number: int) -> None:
        """Forget a block's stamps: thousands of them are too many to keep."""
        self._made.pop(number, None)


def fill_sheets(
    stamps: Stamps,
    order: Sequence[int],
    urgent: Sequence[float],
    way: Manner,
    most: int | None = None,
) -> Try:
    """Fill sheets one after the other until every block lies somewhere.

    Args:
        stamps: of all blocks; each fits the sheet in at least one turn.
        order: numbers of the blocks as they come to hand.
        urgent: of each block by its number; of those at hand the most urgent go first.
        way: how.
        most: fill no more sheets than this.

    Raises:
        SheetError: a block has no room on an empty sheet.
    """
    left = list(order)
    sheets: list[tuple[Place, ...]] = []
    top = 0
    while left and (most is None or len(sheets) < most):
        hand = sorted(left[: way.at_hand], key=lambda number: (-urgent[number], number))
        board = Board(stamps.raster.size)
        places = fill_board(board, stamps, hand, way)
        top = board.top
        if not places:
            raise SheetError("A piece has no room on an empty sheet. Please report this list.")
        placed = {place[0] for place in places}
        if len(order) > way.at_hand:
            for number in placed:
                stamps.drop(number)
        left = [number for number in left if number not in placed]
        sheets.append(tuple(places))
    rows = stamps.raster.size[0]
    return Try(tuple(sheets), len(sheets) - 1 + top / rows if sheets else 0.0)


def fill_board(board: Board, stamps: Stamps, hand: Sequence[int], way: Manner) -> list[Place]:
    """Put onto a board what of the blocks at hand finds room, and return their places.

    Args:
        board: it is changed.
        stamps: of the blocks, for boards of this size.
        hand: numbers of the blocks, the most urgent first.
        way: how many compete for a place, and what low places are worth.
    """
    hosts = [number for number in hand if stamps.is_host(number)]
    if hosts and len(hosts) < len(hand):  # nothing could be put round what already lies there
        others = [number for number in hand if not stamps.is_host(number)]
        first = fill_board(board, stamps, hosts, way)
        return [*first, *fill_board(board, stamps, others, way)]
    places: list[Place] = []
    waiting = list(hand)
    while waiting:
        best, without = _next_place(board, stamps, waiting, way)
        if best is None:
            break
        number, stamp, row, column = best
        board.put(stamp, row, column)
        places.append(best)
        # what has no room now has none later
        without.add(number)
        waiting = [other for other in waiting if other not in without]
    return places


def _next_place(
    board: Board, stamps: Stamps, waiting: Sequence[int], way: Manner
) -> tuple[Place | None, set[int]]:
    """The block that touches with the largest share of its edge; and those without room."""
    best: Place | None = None
    best_score = -inf
    without: set[int] = set()
    found = 0
    for number in waiting:
        has_room = False
        for stamp in stamps.of(number):
            place = board.best_place(stamp, way.height_weight)
            if place is None:
                continue
            has_room = True
            score = place[0] / stamp.round_rows.size
            if score > best_score:
                best, best_score = (number, stamp, place[1], place[2]), score
        if not has_room:
            without.add(number)
            continue
        found += 1
        if found >= way.at_once:
            break
    return best, without

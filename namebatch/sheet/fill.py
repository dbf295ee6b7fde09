"""Filling sheets: blocks in, placements sheet by sheet out. One function and one line each."""

from collections import Counter
from collections.abc import Callable, Hashable, Mapping, Sequence
from math import ceil

from namebatch.sheet.blocks import Block
from namebatch.sheet.equal import best_sheet, like
from namebatch.sheet.model import Placement, Rect
from namebatch.sheet.shelves import shelves
from namebatch.sheet.tight import tightened
from namebatch.sheet.tight_clock import Clock
from namebatch.sheet.together import together
from namebatch.sheet.tries import Laid, in_tries
from namebatch.sheet.wishes import Wishes

MOST_KINDS = 4
"""For so many shapes, the most numerous, whole sheets of one shape are looked for."""
COMPARE_UP_TO = 400
"""So many blocks of several shapes are also placed all together, and the better taken."""

FillFunction = Callable[[Sequence[Block], Rect, float, Wishes], list[list[Placement]]]


def fast(
    blocks: Sequence[Block], usable: Rect, gap_mm: float, wishes: Wishes
) -> list[list[Placement]]:
    """True shapes: whole sheets of equal blocks, all others where they touch most.

    Never more sheets than boxes on shelves need. With `Wishes.keep_order` list order matters more
    than material, and boxes stand on shelves in that order.

    Args:
        blocks: each fits the usable area in at least one of its turns.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
        wishes: list order or not; there is no time to spend.

    Returns:
        Placements of each sheet, in list order of the blocks.
    """
    boxed = shelves(blocks, usable, gap_mm, wishes.keep_order)
    if wishes.keep_order or not blocks:
        return boxed
    stamped, left = _stamped(blocks, usable, gap_mm)
    sheets = stamped + _mixed(blocks, left, usable, gap_mm)
    if stamped and left and len(blocks) <= COMPARE_UP_TO:
        together = _mixed(blocks, list(range(len(blocks))), usable, gap_mm)
        sheets = min(sheets, together, key=len)
    if len(boxed) < len(sheets):
        return boxed
    return placed(sheets, usable)


def by_order(
    blocks: Sequence[Block], orders: Sequence[Hashable], usable: Rect, gap_mm: float
) -> list[list[Placement]]:
    """Whole orders on as few sheets as it takes, see `together`.

    Args:
        blocks: each fits the usable area in at least one of its turns.
        orders: what each block belongs to.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
    """
    return placed(together(blocks, orders, usable, gap_mm), usable)


def placed(sheets: Sequence[Sequence[Laid]], usable: Rect) -> list[list[Placement]]:
    """Sheets of blocks, from the corner of the usable area, as placements in list order."""
    return [
        [
            placement
            for _, turned, x, y in sorted(sheet, key=lambda laid: laid[0])
            for placement in turned.place(usable[0] + x, usable[1] + y)
        ]
        for sheet in sheets
    ]


def tight(
    blocks: Sequence[Block], usable: Rect, gap_mm: float, wishes: Wishes
) -> list[list[Placement]]:
    """What `fast` fills, then for `Wishes.seconds` in all ever more tightly; see `tightened`.

    Never more sheets than `fast`, nor a longer last one. List order cannot be kept in this way:
    with `Wishes.keep_order` the sheets are those of `fast`.

    Args:
        blocks: each fits the usable area in at least one of its turns.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
        wishes: how long, and who watches.

    Returns:
        Placements of each sheet, in list order of the blocks.
    """
    clock = Clock(wishes)
    sheets = fast(blocks, usable, gap_mm, wishes)
    if wishes.keep_order or not blocks:
        return sheets
    sheets = tightened(sheets, blocks, usable, gap_mm, clock)
    clock.over()
    return sheets


FILLS: Mapping[str, FillFunction] = {"fast": fast, "tight": tight}


def _stamped(
    blocks: Sequence[Block], usable: Rect, gap_mm: float
) -> tuple[list[list[Laid]], list[int]]:
    """Whole sheets of one kind each, and the numbers of the blocks that are left.

    Where all blocks are of one kind, none are left.
    """
    counts = Counter(block.kind for block in blocks)
    sheets: list[list[Laid]] = []
    done: set[int] = set()
    for kind, count in counts.most_common(MOST_KINDS):
        numbers = [number for number, block in enumerate(blocks) if block.kind == kind]
        first = blocks[numbers[0]]
        if len(counts) > 1 and count * first.area_mm2 < usable[2] * usable[3] / 2:
            break
        best = best_sheet(first, usable, gap_mm, _enough(first, count, usable, len(counts) == 1))
        whole = len(best) if len(counts) > 1 else 1
        for start in range(0, count - whole + 1, len(best)):
            some = numbers[start : start + len(best)]
            sheets.append(
                [
                    (number, like(blocks[number], turned), x, y)
                    for number, (turned, x, y) in zip(some, best, strict=False)
                ]
            )
            done.update(some)
    return sheets, [number for number in range(len(blocks)) if number not in done]


def _enough(block: Block, count: int, usable: Rect, alone: bool) -> int:
    """So many on a sheet need no more sheets than area alone allows."""
    if not alone:
        return count
    return ceil(count / ceil(count * block.area_mm2 / (usable[2] * usable[3])))


def _mixed(
    blocks: Sequence[Block], numbers: Sequence[int], usable: Rect, gap_mm: float
) -> list[list[Laid]]:
    """Different blocks, or what is left of equal ones."""
    some = [blocks[number] for number in numbers]
    enough = ceil(sum(block.area_mm2 for block in some) / (usable[2] * usable[3]))
    return [
        [(numbers[number], turned, x, y) for number, turned, x, y in sheet]
        for sheet in in_tries(some, usable, gap_mm, enough)
    ]

"""Which rows of a long list are made together; it depends on list and settings only."""

from collections.abc import Hashable, Sequence

from namebatch.names.row import Row
from namebatch.spares import Spare, spares_of

SECTION = 2_500
"""So many pieces are made, filled and written together; a longer list is made in sections."""


def pieces_of(row: Row, spare: Spare) -> int:
    """How many pieces a row asks for, spares counted; none if it is held."""
    return 0 if row.held else row.quantity + spares_of(spare, row.quantity, 1)


def pieces_in(rows: Sequence[Row], spare: Spare) -> int:
    """How many pieces rows ask for, spares counted; held ones ask for none."""
    kept = [row.quantity for row in rows if not row.held]
    return sum(kept) + spares_of(spare, sum(kept), len(kept))


def split(
    rows: Sequence[Row], spare: Spare, size: int, *, keep_order: bool
) -> tuple[tuple[int, ...], ...]:
    """Share the rows of a list out among sections.

    Rows that follow one another go together. Where the list has orders, and its order need not
    be kept along the sheets, an order goes whole, with its first row; one that is larger than a
    section makes one alone.

    Args:
        rows: all of the list, as they are to be made.
        spare: more pieces than the list orders.
        size: pieces of a section; a row that asks for more is a section alone.
        keep_order: list order matters more.

    Returns:
        Places in `rows` of each section, rising.
    """
    units: dict[Hashable, list[int]] = {}
    for place, row in enumerate(rows):
        order = "" if keep_order else order_key(row.order)
        units.setdefault(order or place, []).append(place)
    found: list[list[int]] = [[]]
    room = size
    for unit in units.values():
        # a held row makes no piece and has to be looked at all the same
        need = sum(max(1, pieces_of(rows[place], spare)) for place in unit)
        if found[-1] and need > room:
            found.append([])
            room = size
        found[-1] += unit
        room -= need
    return tuple(tuple(sorted(some)) for some in found)


def order_key(order: str) -> str:
    """What is the same for all ways to write an order that are taken for one on the sheets."""
    return " ".join(order.split()).casefold()

"""Orders that are one in two spellings: capitals and spaces make no other customer."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from namebatch.finding import note
from namebatch.names.characters import shown
from namebatch.names.row import Row

_SHOWN: Final = 40


def order_key(order: str) -> str:
    """What is the same for all spellings of an order; empty for none."""
    return " ".join(order.split()).casefold()


def with_same_orders(rows: Sequence[Row], place: str) -> tuple[Row, ...]:
    """Rows whose orders are spelled as the list first does it; what was changed is noted.

    Args:
        rows: in list order.
        place: ``Line`` or ``Row``.
    """
    first: dict[str, Row] = {}
    return tuple(_same(row, first.setdefault(order_key(row.order), row), place) for row in rows)


def _same(row: Row, first: Row, place: str) -> Row:
    """A row in the spelling of the first one of its order."""
    if row.order == first.order:
        return row
    told = note(
        "order-spelled-otherwise",
        f'{place} {row.line}: the order "{shown(row.order, _SHOWN)}" is taken for '
        f'"{shown(first.order, _SHOWN)}" on {place.lower()} {first.line}. Give one of them another '
        "name if they are two.",
    )
    return replace(row, order=first.order, findings=(*row.findings, told))

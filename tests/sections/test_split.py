"""How rows are shared out among sections."""

from itertools import chain

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.finding import hold
from namebatch.names.row import Row
from namebatch.sections.split import pieces_in, split
from namebatch.spares import Spare, read_spare


def row(line: int, quantity: int = 1, order: str = "", *, held: bool = False) -> Row:
    """A row of a list."""
    findings = (hold("empty", "Held."),) if held else ()
    return Row(line, {}, {}, quantity, findings, order)


def test_rows_follow_one_another() -> None:
    """Without orders a section is full when the next row would be too much for it."""
    rows = [row(n, quantity) for n, quantity in enumerate((3, 2, 4, 1, 1), start=2)]
    assert split(rows, Spare(), 5, keep_order=False) == ((0, 1), (2, 3), (4,))


def test_a_large_row_stays_whole() -> None:
    """A row that asks for more than a section takes is one alone."""
    rows = [row(2, 1), row(3, 40), row(4, 1)]
    assert split(rows, Spare(), 5, keep_order=False) == ((0,), (1,), (2,))


def test_an_order_stays_whole() -> None:
    """All rows of an order go with its first one, however it is written; list order within."""
    orders = ("Mill", "Dune", "mill ", "", "Dune", "MILL")
    rows = [row(n, 1, order) for n, order in enumerate(orders, start=2)]
    assert split(rows, Spare(), 3, keep_order=False) == ((0, 2, 5), (1, 3, 4))


def test_list_order_goes_before_orders() -> None:
    """Where list order is to be kept, orders are not put together."""
    rows = [row(n, 1, order) for n, order in enumerate("abab", start=2)]
    assert split(rows, Spare(), 2, keep_order=True) == ((0, 1), (2, 3))


@pytest.mark.parametrize(("wish", "total"), [(None, 5), ("1", 8), ("50%", 8)])
def test_spares_count(wish: str | None, total: int) -> None:
    """Spares are pieces like others; held rows make none."""
    rows = [row(2, 3), row(3, 1), row(4, 7, held=True), row(5, 1)]
    assert pieces_in(rows, read_spare(wish)) == total


@given(
    st.lists(st.tuples(st.integers(1, 9), st.sampled_from(["", "a", "b", "c"]), st.booleans())),
    st.integers(1, 12),
    st.booleans(),
)
def test_every_row_once(some: list[tuple[int, str, bool]], size: int, keep_order: bool) -> None:
    """Whatever the list, every row is in one section, in list order, and no section is empty."""
    rows = [row(n, q, order, held=held) for n, (q, order, held) in enumerate(some, start=2)]
    found = split(rows, Spare(), size, keep_order=keep_order)
    assert sorted(chain.from_iterable(found)) == list(range(len(rows)))
    assert all(list(places) == sorted(places) for places in found)
    assert all(found) or not rows

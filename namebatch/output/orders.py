"""What the list orders, order by order, as it goes out to those who ordered it."""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.docpage import counted
from namebatch.piece import Piece

WITHOUT = "Without an order"
"""Title of what belongs to no order."""
_MOST_LINES = 3


@dataclass(frozen=True, slots=True)
class Order:
    """What goes out together.

    Attributes:
        name: as the list writes it; empty for rows without an order.
        pieces: that were made, in list order.
        held: rows that were not made, in list order.
    """

    name: str
    pieces: tuple[Piece, ...]
    held: tuple[Row, ...] = ()

    @property
    def title(self) -> str:
        """The name, or that there is none."""
        return self.name or WITHOUT

    @property
    def count(self) -> int:
        """Pieces that the list orders and that were made; spares do not count."""
        return sum(piece.ordered for piece in self.pieces)

    @property
    def spares(self) -> int:
        """Pieces that are more than the list orders."""
        return sum(piece.spares for piece in self.pieces)

    @property
    def counted(self) -> str:
        """``3 pieces``; where rows are held ``1 of 2 pieces``.

        Where a held row's own quantity is what is wrong, nobody knows of how many.
        """
        if not self.held or not all(row.quantity for row in self.held):
            return counted(self.count, "piece")
        total = self.count + sum(row.quantity for row in self.held)
        return f"{self.count:,} of {counted(total, 'piece')}"

    @property
    def waiting(self) -> str:
        """Which rows are held: ``line 3 waits for an answer``; empty where none is."""
        return waiting(self.held)


def waiting(held: Sequence[Row]) -> str:
    """Which rows are held, in words; empty where none is."""
    if not held:
        return ""
    place = held[0].place.lower()
    if len(held) == 1:
        return f"{place} {held[0].line} waits for an answer"
    some = ", ".join(str(row.line) for row in held[:_MOST_LINES])
    more = len(held) - _MOST_LINES
    some += f" and {more:,} more" if more > 0 else ""
    return f"{place}s {some} wait for an answer"


def orders_of(job: Job) -> tuple[Order, ...]:
    """Orders in the order in which the list begins them, rows without one last.

    A list without orders is one order without a name.
    """
    held = [row for row in job.rows if row.held]
    named = [(piece.line, piece.order) for piece in job.pieces]
    named += [(row.line, row.order) for row in held]
    names = dict.fromkeys(name for _, name in sorted(named, key=lambda one: one[0]))
    pieces: dict[str, list[Piece]] = {name: [] for name in names}
    rows: dict[str, list[Row]] = {name: [] for name in names}
    for piece in job.pieces:
        pieces[piece.order].append(piece)
    for row in held:
        rows[row.order].append(row)
    return tuple(
        Order(name, tuple(pieces[name]), tuple(rows[name]))
        for name in sorted(names, key=lambda name: not name)
    )

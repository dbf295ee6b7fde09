"""The pieces of a job, order by order, as they go out to those who ordered them."""

from dataclasses import dataclass

from namebatch.job import Job
from namebatch.piece import Piece


@dataclass(frozen=True, slots=True)
class Order:
    """What goes out together.

    Attributes:
        name: as the list writes it; empty for pieces without an order.
        pieces: in list order.
    """

    name: str
    pieces: tuple[Piece, ...]

    @property
    def title(self) -> str:
        """The name, or that there is none."""
        return self.name or "Without an order"

    @property
    def count(self) -> int:
        """Pieces that the list orders; spares do not count."""
        return sum(piece.ordered for piece in self.pieces)


def orders_of(job: Job) -> tuple[Order, ...]:
    """Orders in the order in which the list begins them, pieces without one last.

    A list without orders is one order without a name.
    """
    found: dict[str, list[Piece]] = {}
    for piece in job.pieces:
        found.setdefault(piece.order, []).append(piece)
    ordered = sorted(found.items(), key=lambda item: not item[0])
    return tuple(Order(name, tuple(pieces)) for name, pieces in ordered)

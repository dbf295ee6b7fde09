"""What a user asks of a filling, beside the way that it is done."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol, TypeAlias

from namebatch.piece import Piece
from namebatch.sheet.model import Sheet

Laid: TypeAlias = Callable[[Sheet, Mapping[str, Piece]], None]
"""Is shown each sheet as soon as it is filled, with the pieces by id; proved are all at the end."""

SECONDS = 30.0
"""Time that a filling with a budget takes if none is said."""


class Watch(Protocol):
    """Whoever looks on while sheets are filled, and may end it early."""

    def told(self, share: float, sheets: float) -> None:
        """Hear how far it is.

        Args:
            share: of the time or work that may be spent, 0 to 1.
            sheets: how many the best filling needs so far; of its last one only what is used.
        """

    def stopped(self) -> bool:
        """True as soon as the best so far is good enough."""


class NoWatch:
    """Nobody looks on."""

    def told(self, share: float, sheets: float) -> None:
        """Say nothing."""

    def stopped(self) -> bool:
        """Never end early."""
        return False


def nobody_looks(sheet: Sheet, pieces: Mapping[str, Piece]) -> None:
    """Show a sheet to nobody."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a user asks of a filling.

    Attributes:
        keep_order: list order along the sheets matters more than material.
        by_order: all pieces of an order on one sheet, or on as few as it takes.
        seconds: that a way with a budget may take.
        watch: hears of progress and may end the search; the best so far is kept.
        laid: is shown the sheets one by one.
    """

    keep_order: bool = False
    by_order: bool = False
    seconds: float = SECONDS
    watch: Watch = field(default_factory=NoWatch)
    laid: Laid = nobody_looks

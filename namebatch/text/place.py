"""What a place for text has to answer: how large a block may be in it, and where it stands."""

from dataclasses import dataclass
from typing import Protocol

from shapely import MultiPolygon

from namebatch.finding import Finding
from namebatch.text.block import Block
from namebatch.text.setting import Letter


@dataclass(frozen=True, slots=True)
class Placed:
    """A block in its place.

    Attributes:
        shape: the ink in mm.
        letters: the ink cluster by cluster, in text order; empty if it was not asked for.
        baseline_mm: height of the first baseline, at its middle where it is bent.
        notes: what was not done as the template asks.
    """

    shape: MultiPolygon
    letters: tuple[Letter, ...]
    baseline_mm: float
    notes: tuple[Finding, ...] = ()


class Place(Protocol):
    """A rectangle, an arc, a path or an area."""

    @property
    def lines(self) -> int:
        """How many lines it takes at most."""

    def largest(self, block: Block, most_mm: float) -> float:
        """The greatest height of capitals, up to `most_mm`, at which no ink leaves the place."""

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """The block in its place, with capitals of that height."""

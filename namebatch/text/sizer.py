"""How large candidates are in a place, without measuring those that cannot be large enough."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from namebatch.text.block import Block
from namebatch.text.place import Place
from namebatch.text.steps import Candidate

MARGIN = 1.1
"""A text is at most so much larger than its extent lets expect from another setting of it."""
SLACK_MM = 1e-6

Sized = tuple[Candidate, float]


@dataclass(slots=True)
class Sizer:
    """Measures candidates of one text in one place and remembers them.

    A line that is set narrower grows at most as its extent shrinks, exactly so in a rectangle.
    What stays below the least height by that reckoning is put aside, unmeasured.

    Attributes:
        place: where they go.
        least_mm: what is lower is not made.
        most_mm: greatest height that is of use.
    """

    place: Place
    least_mm: float
    most_mm: float
    _seen: dict[tuple[str, int], list[tuple[float, float, float]]] = field(default_factory=dict)
    _aside: list[tuple[float, Candidate]] = field(default_factory=list)

    def height(self, candidate: Candidate) -> float | None:
        """The height of capitals that a candidate can have; None if that is too low to matter."""
        expected = self._expected(candidate.block)
        if not self.is_enough(expected):
            self._aside.append((expected, candidate))
            return None
        return self._measure(candidate)

    def measured(self, candidates: Iterable[Candidate]) -> Iterator[Sized]:
        """Candidates with their heights, without those that are put aside."""
        for candidate in candidates:
            height = self.height(candidate)
            if height is not None:
                yield candidate, height

    def is_enough(self, height_mm: float) -> bool:
        """Whether a text of that height is made."""
        return height_mm >= self.least_mm - SLACK_MM

    def rest(self, best_mm: float) -> list[Sized]:
        """Those of the candidates put aside that may be larger than the best one, measured."""
        found: list[Sized] = []
        for expected, candidate in sorted(self._aside, key=lambda pair: -pair[0]):
            if expected <= best_mm:
                break
            height = self._measure(candidate)
            best_mm = max(best_mm, height)
            found.append((candidate, height))
        return found

    def _measure(self, candidate: Candidate) -> float:
        block = candidate.block
        height = self.place.largest(block, self.most_mm)
        self._seen.setdefault(_key(block), []).append((*_extent(block), height))
        return height

    def _expected(self, block: Block) -> float:
        wide, high = _extent(block)
        limits = [
            MARGIN * height * max(w / wide, h / high)
            for w, h, height in self._seen.get(_key(block), ())
            if height < self.most_mm
        ]
        return min(limits, default=self.most_mm)


def _key(block: Block) -> tuple[str, int]:
    """The text and where it is broken."""
    return block.text, block.rows[-1].start


def _extent(block: Block) -> tuple[float, float]:
    x0, y0, x1, y1 = block.bounds
    return x1 - x0, y1 - y0

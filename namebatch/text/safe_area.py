"""Text in an area: as large as fits, on one line with the others."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.text.block import Block
from namebatch.text.fitting import Fit
from namebatch.text.ground import Ground, ground_of, plain_within
from namebatch.text.hulls import anchor_of, hulls_of
from namebatch.text.levels import CENTRED, level_at, levels_of
from namebatch.text.place import Placed
from namebatch.text.search import Level, Search, search_on

STAYS = 0.8
"""A name leaves the line of the others if it stays below this share of what it could be."""
ROOM = 0.999
"""Share of the greatest size that is used: a text that just fits has no place to choose."""
EASE = 0.9995
TRIES = 12
PROOF_MM = 1e-6
"""Rounding that is no leaving of the area."""
HARDLY = 1e-9


@dataclass(frozen=True, slots=True)
class Inside:
    """An area with holes.

    Names stand with the middle of their capitals on one line of the area, and in its middle,
    wherever that leaves them as large as `STAYS` and `CENTRED` say; else on one of a few other
    lines, else where they are largest.

    Attributes:
        area: in mm; no ink leaves it.
        least_mm, most_mm: bounds of the capitals' height.
        line_mm: y of the line where the template says so; else it follows from the area.
        line_gap: of two lines, in capitals' heights, if names may take them to be larger.
    """

    area: Polygon
    least_mm: float
    most_mm: float
    line_mm: float | None = None
    line_gap: float | None = None

    @property
    def lines(self) -> int:
        """Two, as in a rectangle."""
        return 2

    def largest(self, block: Block, most_mm: float) -> float:
        """By search over size and place; the answer is proved with the ink itself."""
        size = _size(self, block, most_mm)
        for _ in range(TRIES if size > 0 else 0):
            if _stand(self, block, size).proved:
                return size
            size *= EASE
        return 0.0

    def on_line(self, block: Block) -> float:
        """The greatest height of capitals on the line that names share; 0 if there is none."""
        if not _levels(self):
            return 0.0
        centred, along = (_usable(_along(self, block, level)) for level in _levels(self)[:2])
        return centred if centred >= STAYS * along else along

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """On the line, as near to its middle as the size allows; else as `Inside` says."""
        found = _stand(self, block, height_mm)
        letters = block.letters(height_mm, found.x, found.y) if by_letter else ()
        return Placed(found.ink, letters, found.y)


@dataclass(frozen=True, slots=True)
class Stand:
    """A block at a size in its area.

    Attributes:
        x, y: of its origin, in mm.
        ink: in mm.
        proved: none of it leaves the area.
    """

    x: float
    y: float
    ink: MultiPolygon
    proved: bool


def _size(inside: Inside, block: Block, most_mm: float) -> float:
    """The height of capitals that a block is given: the first in `_ways` that is large enough."""
    if not _levels(inside):
        return 0.0
    bound = min(_search(inside.area, block).bound(most_mm), most_mm)
    centred, along = (
        min(_usable(_along(inside, block, level)), most_mm) for level in _levels(inside)[:2]
    )
    if along < _wanted(inside, bound):
        sizes = [min(_usable(trail), most_mm) for trail in _ways(inside, block)]
        wanted = _wanted(inside, sizes[-1])
        if along < wanted:
            return next(size for size in sizes if size >= wanted)
    return centred if centred >= _wanted(inside, along, CENTRED) else along


def _wanted(inside: Inside, largest: float, share: float = STAYS) -> float:
    """What a text must reach to stay where it is, while it could be so large elsewhere."""
    least = inside.least_mm if largest >= inside.least_mm else 0.0
    return max(share * largest, least)


def _ways(inside: Inside, block: Block) -> list[tuple[Fit, ...]]:
    """Trails along every line, then the one to the largest size of all."""
    along = [_along(inside, block, level) for level in _levels(inside)]
    return [*along, _anywhere(inside, block)]


@lru_cache(maxsize=64)
def _stand(inside: Inside, block: Block, size: float) -> Stand:
    """Where a block stands at a size that it can have."""
    x, y = _middle(inside, block, size)
    middle_x, middle_y = anchor_of(block)
    x, y = x - middle_x * size, y - middle_y * size
    ink = block.ink(size, x, y)
    return Stand(x, y, ink, bool(_proof(inside.area).contains(ink)))


def _middle(inside: Inside, block: Block, size: float) -> tuple[float, float]:
    """Where the middle of the capitals comes to stand."""
    levels, search = _levels(inside), _search(inside.area, block)
    for level in levels:
        trail = _along(inside, block, level)
        if _usable(trail) >= size - HARDLY:
            x = search.along(level, size)
            return (_between(trail, size)[0] if x is None else x), level.y
    near = search.near(levels[0].x, levels[0].y, size)
    return near or _between(_anywhere(inside, block), size)


@lru_cache(maxsize=16)
def _ground(area: Polygon) -> Ground | None:
    """None where the area is too small for anything."""
    plain = plain_within(area)
    return None if plain.is_empty else ground_of(plain)


@lru_cache(maxsize=16)
def _levels(inside: Inside) -> tuple[Level, ...]:
    """Empty where the area is too small for anything."""
    ground = _ground(inside.area)
    if ground is None:
        return ()
    found = levels_of(ground, inside.least_mm, inside.most_mm, inside.line_gap)
    if inside.line_mm is None:
        return found
    return (*level_at(ground, inside.line_mm, inside.least_mm), *found)


@lru_cache(maxsize=16)
def _proof(area: Polygon) -> Polygon:
    whole = shapely.buffer(area, PROOF_MM)
    shapely.prepare(whole)
    return whole


@lru_cache(maxsize=32)
def _search(area: Polygon, block: Block) -> Search:
    ground = _ground(area)
    if ground is None:
        raise ValueError("nothing can be searched for in an area that is empty")
    return search_on(ground, hulls_of(block))


@lru_cache(maxsize=64)
def _along(inside: Inside, block: Block, level: Level) -> tuple[Fit, ...]:
    return _search(inside.area, block).on_level(level, inside.most_mm / ROOM)


@lru_cache(maxsize=32)
def _anywhere(inside: Inside, block: Block) -> tuple[Fit, ...]:
    along = (_along(inside, block, level) for level in _levels(inside))
    starts = tuple(trail[-1] for trail in along if trail)
    return _search(inside.area, block).anywhere(starts, inside.most_mm / ROOM)


def _usable(trail: tuple[Fit, ...]) -> float:
    return trail[-1].size * ROOM if trail else 0.0


def _between(trail: tuple[Fit, ...], size: float) -> tuple[float, float]:
    """The place on a trail at a size."""
    sizes = [fit.size for fit in trail]
    x = np.interp(size, sizes, [fit.x for fit in trail])
    y = np.interp(size, sizes, [fit.y for fit in trail])
    return float(x), float(y)

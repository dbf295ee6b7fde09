"""The lines on which the names of a safe area stand, from the area and its box alone."""

import numpy as np
import shapely
from shapely import Polygon

from namebatch.template.guide import Floats
from namebatch.text.convex import piece_of
from namebatch.text.fitting import stretches_of
from namebatch.text.ground import Ground
from namebatch.text.hulls import Hulls
from namebatch.text.larger import CLEARLY
from namebatch.text.search import Level, Search, search_on

WIDTHS = (3.5, 5.5, 7.5, 10.0)
"""Of names that are short, usual (a word or two) and long, in capitals' heights (some 4 to 14
letters)."""
CAPITAL = 0.8
"""Width of the capital that each begins with, in its own height; it reaches 0.5 above and below
the middle."""
HALF = 0.6
"""Width of the longer of two lines, as a share of the name on one."""
SMALL = 0.35
"""So far small letters reach. As far on either side, so that capitals stand in the middle of an
area that is alike above and below; ascenders and descenders are passed over."""
STEPS = 48
"""So many heights are tried."""
AS_GOOD = 0.9
"""Heights at which names come out larger than this share of the best are as good."""
CENTRED = 2 / 3
"""A name leaves the middle of its line if it stays below this share of what it could be along it;
else short names would go to the sides of whatever stands in the middle, as a notch of a heart
does."""
EXACT_MM = 0.05
"""So near the middle is in it."""
THIN = 0.01
"""Width of what is as good as a stroke, in capitals' heights."""
HARDLY = 1e-9
APART_MM = 1.0
"""Lines nearer than that are one."""
SWAYS = 0.03
"""Share of its line by which a name may stand beside the middle and still count as centred."""


def levels_of(
    ground: Ground, least_mm: float, most_mm: float, line_gap: float | None = None
) -> tuple[Level, ...]:
    """The line that names of all lengths share, then lines for those that it does not suit.

    A line is the middle of the heights about the best one at which names come out nearly as
    large as there. What counts is their size in the middle of the line; where it is below
    `CENTRED` of what there is beside the middle, names go there, and count for as much less.

    Args:
        ground: the area.
        least_mm: least height of capitals.
        most_mm: their greatest height.
        line_gap: from baseline to baseline, in capitals' heights, if names may take two lines to
            be larger.

    Returns:
        At least two: the first line with names in its middle, then with names anywhere along it.
    """
    _, bottom, _, top = ground.area.bounds
    heights = np.linspace(bottom, top, STEPS + 2)[1:-1]
    middles = [level_at(ground, y, least_mm)[0].x for y in heights]
    points = list(zip(middles, heights.tolist(), strict=True))
    sizes = np.array([[_size(name, *at, most_mm) for at in points] for name in _usual(ground)])
    if line_gap is not None:
        twice = [_on_two(ground, width, line_gap) for width in WIDTHS]
        larger = np.array([[_size(name, *at, most_mm) for at in points] for name in twice])
        sizes = np.where(larger >= CLEARLY * sizes, larger, sizes)
    shares = sizes / np.maximum(sizes.max(axis=1, keepdims=True), HARDLY)
    shared = _middle(heights, shares.mean(axis=0))
    found = [*level_at(ground, shared, least_mm)]
    for own in shares:
        y = _middle(heights, own)
        if all(abs(y - other.y) >= APART_MM for other in found):
            found.append(level_at(ground, y, least_mm)[1])
    return tuple(found)


def level_at(ground: Ground, y: float, height_mm: float) -> tuple[Level, Level]:
    """The line at a height: with names in the middle of its longest stretch, and anywhere.

    Args:
        ground: the area.
        y: of the line, in mm.
        height_mm: so high a stretch has to be free.
    """
    left, _, right, _ = ground.area.bounds
    found = stretches_of(_stroke(ground).rules.level(y), height_mm)
    stretches = found if len(found) else np.array([[left, right]])
    begin, end = stretches[np.argmax(stretches[:, 1] - stretches[:, 0])]
    x, sway = float(begin + end) / 2, SWAYS * float(end - begin)
    return Level(x, y, x - sway, x + sway), Level(x, y)


def _usual(ground: Ground) -> list[Search]:
    return [_name(ground, width) for width in WIDTHS]


def _name(ground: Ground, width: float) -> Search:
    """What stands for a name of a width on one line."""
    return _standing(ground, _row(width, 0.0))


def _on_two(ground: Ground, width: float, gap: float) -> Search:
    """What stands for the same name on two lines."""
    rows = (_row(HALF * width, y) for y in (gap / 2, -gap / 2))
    return _standing(ground, tuple(part for row in rows for part in row))


def _row(width: float, y: float) -> tuple[Polygon, Polygon]:
    """A capital and small letters, with the middle of the capital at a height."""
    left = -width / 2
    capital = shapely.box(left, y - 0.5, left + CAPITAL, y + 0.5)
    return capital, shapely.box(left, y - SMALL, left + width, y + SMALL)


def _standing(ground: Ground, parts: tuple[Polygon, ...]) -> Search:
    whole = shapely.convex_hull(shapely.union_all(parts))
    return search_on(ground, Hulls(piece_of(whole), tuple(piece_of(part) for part in parts)))


def _stroke(ground: Ground) -> Search:
    """A capital that is next to nothing wide."""
    piece = piece_of(shapely.box(-THIN / 2, -0.5, THIN / 2, 0.5))
    return search_on(ground, Hulls(piece, (piece,)))


def _size(search: Search, x: float, y: float, most: float) -> float:
    """What a name is worth at a height: its size in the middle, or somewhat less beside it."""
    along = search.on_level(Level(x, y), most)
    if not along:
        return 0.0
    if abs(along[-1].x - x) <= EXACT_MM:
        return along[-1].size
    centred = search.on_level(Level(x, y, x - EXACT_MM, x + EXACT_MM), most)
    return max(centred[-1].size if centred else 0.0, CENTRED * along[-1].size)


def _middle(heights: Floats, shares: Floats) -> float:
    """The middle of the heights about the best at which a share is nearly as good."""
    best = int(np.argmax(shares))
    good = shares >= AS_GOOD * shares[best]
    low = high = best
    while low > 0 and good[low - 1]:
        low -= 1
    while high < len(heights) - 1 and good[high + 1]:
        high += 1
    return float(heights[low] + heights[high]) / 2

"""The lines on which the names of a safe area stand, from the area and its box alone."""

import numpy as np
import shapely

from namebatch.template.guide import Floats
from namebatch.text.convex import piece_of
from namebatch.text.fitting import stretches_of
from namebatch.text.ground import Ground
from namebatch.text.hulls import Hulls
from namebatch.text.search import Level, Search, search_on

WIDTHS = (3.5, 6.0, 10.0)
"""Of names that are short, usual and long, in capitals' heights (some 4 to 14 letters)."""
CAPITAL = 0.8
"""Width of the capital that each begins with, in its own height; it reaches 0.5 above and below
the middle."""
SMALL = 0.35
"""So far small letters reach. As far on either side, so that capitals stand in the middle of an
area that is alike above and below; ascenders and descenders are passed over."""
STEPS = 48
"""So many heights are tried."""
AS_GOOD = 0.9
"""Heights at which names come out larger than this share of the best are as good."""
THIN = 0.01
"""Width of what is as good as a stroke, in capitals' heights."""
HARDLY = 1e-9
APART_MM = 1.0
"""Lines nearer than that are one."""
SWAYS = 0.05
"""Share of its line by which a name may stand beside the middle and still count as centred."""


def levels_of(ground: Ground, least_mm: float, most_mm: float) -> tuple[Level, ...]:
    """The line that names of all lengths share, then lines for those that it does not suit.

    A line is the middle of the heights about the best one at which names come out nearly as
    large as there.

    Args:
        ground: the area.
        least_mm: least height of capitals.
        most_mm: their greatest height.

    Returns:
        At least two: the first line with names in its middle, then with names anywhere along it.
    """
    _, bottom, _, top = ground.area.bounds
    heights = np.linspace(bottom, top, STEPS + 2)[1:-1]
    sizes = np.array([[_size(search, y, most_mm) for y in heights] for search in _usual(ground)])
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
    """What stands for a name of a width: a capital and small letters."""
    left = -width / 2
    capital = shapely.box(left, -0.5, left + CAPITAL, 0.5)
    small = shapely.box(left, -SMALL, left + width, SMALL)
    whole = shapely.convex_hull(shapely.union(capital, small))
    return search_on(ground, Hulls(piece_of(whole), (piece_of(capital), piece_of(small))))


def _stroke(ground: Ground) -> Search:
    """A capital that is next to nothing wide."""
    piece = piece_of(shapely.box(-THIN / 2, -0.5, THIN / 2, 0.5))
    return search_on(ground, Hulls(piece, (piece,)))


def _size(search: Search, y: float, most: float) -> float:
    trail = search.on_level(Level(0.0, y), most)
    return trail[-1].size if trail else 0.0


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

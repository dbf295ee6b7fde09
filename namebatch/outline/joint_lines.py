"""Where a piece may be split: lines from edge to edge that keep clear of lettering. mm.

A line that stands upright or leans a little is told by where it crosses the middle of the piece
and by its angle. All are looked at, those that are clear of lettering and of small holes are
kept, and of them the set with the least length in the material is chosen by dynamic programming:
the best way to reach a line with so many before it follows from the best ways with one less.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Floats
from namebatch.outline.joint import BEYOND_MM, JointLine, JointOrder

STEP_MM = 0.5
MOST_PLACES = 1500
"""Lines are tried in steps so long, or so many over the piece's width."""
LEANS_DEG = (5.0, -5.0, 10.0, -10.0, 15.0, -15.0, 20.0, -20.0, 25.0, -25.0, 30.0, -30.0)
LEAN_STEPS = 2
"""Leaning lines are tried in steps so much longer."""
MOST_CLEAR = 2000
"""Of more lines that are clear only every second, third … is kept."""
HOLLOW_MM = 15.0
"""A line may cross windows that are larger than this, and no smaller hole."""
EVEN = 0.001
"""A line this much longer is no worse if it makes the parts more alike; of the distance."""
AIR_MM = 6.0
AIR = 0.5
"""A line nearer to lettering counts as longer, by this share of what is lacking."""
MORE_PARTS = 1000.0
"""What a further part costs, in mm of joint."""
LEAST_RUN = 4.0
"""No stretch of a joint is shorter than so many times the least width: glue would not hold it."""
LEAST_PART = 8.0
"""No part is narrower than so many times the least width."""
TOGETHER = 32
"""So many lines side by side are crossed with a part at a time."""
ROUNDED_MM = 1e-6
"""More than distances are rounded by."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines across a piece that keep clear of everything, from left to right.

    Attributes:
        middle: x at half the height of the piece.
        slope: x gained per mm of height.
        low, high: least and greatest x within the piece's height.
        cost: length in the material, and what further parts cost.
    """

    middle: Floats
    slope: Floats
    low: Floats
    high: Floats
    cost: Floats

    def without(self, near: float, within_mm: float) -> "Lines":
        """Without those whose middle is near a place."""
        return self._only(np.abs(self.middle - near) > within_mm)

    def _only(self, kept: np.ndarray) -> "Lines":
        fields = (self.middle, self.slope, self.low, self.high, self.cost)
        return Lines(*(field[kept] for field in fields))


def clear_lines(part: Polygon, order: JointOrder, leaning: bool) -> Lines:
    """All lines from the bottom to the top of a part that cross no lettering and no hole.

    Args:
        part: what is to be split.
        order: what is asked of the joints.
        leaning: those that lean up to 30° instead of those that stand upright.
    """
    x0, y0, x1, y1 = part.bounds
    step = max(STEP_MM, (x1 - x0) / MOST_PLACES) * (LEAN_STEPS if leaning else 1)
    places = x0 + step * np.arange(1, int((x1 - x0) / step))
    slopes = np.tan(np.radians(LEANS_DEG)) if leaning else np.zeros(1)
    middle, slope = (axis.ravel() for axis in np.meshgrid(places, slopes, indexing="ij"))
    reach = np.abs(slope) * (y1 - y0) / 2
    inside = (middle - reach > x0) & (middle + reach < x1)
    middle, slope, reach = middle[inside], slope[inside], reach[inside]
    lines = _across(middle, slope, y0, y1)
    off = order.required_mm + order.fit_mm / 2
    away = np.full(len(lines), np.inf)
    for kept in _kept_clear(part, order):
        away = np.minimum(away, _away(kept, lines, off))
    clear = np.flatnonzero(away >= off)
    clear = clear[:: 1 + len(clear) // MOST_CLEAR]
    runs = _runs(part, lines[clear])
    stout = _shortest(runs) >= LEAST_RUN * order.required_mm
    clear, runs = clear[stout], runs[stout]
    cost = shapely.length(runs) + MORE_PARTS * _further_parts(part, lines[clear], runs)
    cost += AIR * np.maximum(AIR_MM - away[clear], 0.0)
    return Lines(
        middle[clear],
        slope[clear],
        (middle - reach)[clear],
        (middle + reach)[clear],
        cost,
    )


def chosen(
    lines: Lines, ends: tuple[float, float], count: int, widest: float, over: float, least: float
) -> list[int] | None:
    """The cheapest so many lines that leave no part too wide or too narrow.

    Args:
        lines: from `clear_lines`.
        ends: least and greatest x of the piece.
        count: of lines.
        widest: of a part.
        over: by how much keys of a line reach beyond it to the right.
        least: narrowest part.

    Returns:
        Their numbers from left to right; None if there are none.
    """
    if not len(lines.middle):
        return None
    start, end = ends
    even = start + (end - start) * np.arange(1, count + 1) / (count + 1)
    cost = [lines.cost + EVEN * np.abs(lines.middle - place) for place in even]
    first = (lines.high + over - start <= widest) & (lines.low - start >= least)
    total = np.where(first, cost[0], np.inf)
    before: list[np.ndarray] = []
    for number in range(1, count):
        # rows: the line before; columns: this one
        fits = lines.high[None, :] + over - lines.low[:, None] <= widest
        fits &= lines.low[None, :] - lines.high[:, None] >= least
        ways = np.where(fits, total[:, None], np.inf)
        before.append(ways.argmin(axis=0))
        total = ways.min(axis=0) + cost[number]
    last = (end - lines.low <= widest) & (end - lines.high >= least)
    total = np.where(last, total, np.inf)
    if not np.isfinite(total).any():
        return None
    way = [int(total.argmin())]
    for links in reversed(before):
        way.append(int(links[way[-1]]))
    return way[::-1]


def joint_lines(lines: Lines, numbers: Sequence[int], part: Polygon) -> tuple[JointLine, ...]:
    """Some of the lines, as they cross a part."""
    _, y0, _, y1 = part.bounds
    across = _across(lines.middle[list(numbers)], lines.slope[list(numbers)], y0, y1)
    ends = shapely.get_coordinates(across).reshape(-1, 2, 2).round(4)
    return tuple(JointLine((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))) for a, b in ends)


def _across(middle: Floats, slope: Floats, y0: float, y1: float) -> np.ndarray:
    """Lines from below the piece to above it."""
    half = (y1 - y0) / 2 + BEYOND_MM
    centre = (y0 + y1) / 2
    ends = np.empty((len(middle), 2, 2))
    ends[:, 0, 0], ends[:, 0, 1] = middle - slope * half, centre - half
    ends[:, 1, 0], ends[:, 1, 1] = middle + slope * half, centre + half
    return np.asarray(shapely.linestrings(ends), dtype=np.object_)


def _kept_clear(part: Polygon, order: JointOrder) -> list[shapely.Geometry]:
    """Lettering, and holes too small to be crossed."""
    small = [hole for ring in part.interiors if _is_small(hole := Polygon(ring))]
    kept = [order.ink, shapely.union_all(small), order.avoid]
    return [shape for shape in kept if not shape.is_empty]


def _is_small(hole: Polygon) -> bool:
    """True if no circle of a hollow's size has room in a hole."""
    x0, y0, x1, y1 = hole.bounds
    if min(x1 - x0, y1 - y0) < HOLLOW_MM:
        return True
    return bool(2 * shapely.maximum_inscribed_circle(hole, tolerance=0.1).length < HOLLOW_MM)


def _away(kept: shapely.Geometry, lines: np.ndarray, off: float) -> Floats:
    """Distances from what is kept clear; 0 and infinite where only near or far matters."""
    shapely.prepare(kept)
    away = np.zeros(len(lines))
    clear = np.flatnonzero(~shapely.intersects(kept, lines))
    clear = clear[~shapely.dwithin(kept, lines[clear], off - ROUNDED_MM)]
    near = shapely.dwithin(kept, lines[clear], max(off, AIR_MM))
    away[clear] = np.inf
    away[clear[near]] = shapely.distance(kept, lines[clear[near]])
    return away


def _runs(part: Polygon, lines: np.ndarray) -> np.ndarray:
    """Where each line, from left to right, runs in the material.

    So many neighbours at a time are crossed with what of the part lies about them.
    """
    runs = np.empty(len(lines), dtype=np.object_)
    _, y0, _, y1 = part.bounds
    for first in range(0, len(lines), TOGETHER):
        some = lines[first : first + TOGETHER]
        x0, _, x1, _ = shapely.total_bounds(some)
        strip = shapely.box(x0 - 1.0, y0 - 1.0, x1 + 1.0, y1 + 1.0)
        runs[first : first + TOGETHER] = shapely.intersection(
            shapely.intersection(part, strip), some
        )
    return runs


def _shortest(runs: np.ndarray) -> Floats:
    """The shortest stretch of each line in the material."""
    stretches, owners = shapely.get_parts(runs, return_index=True)
    least = np.full(len(runs), np.inf)
    np.minimum.at(least, owners, shapely.length(stretches))
    return least


def _further_parts(part: Polygon, lines: np.ndarray, runs: np.ndarray) -> Floats:
    """Into how many parts more than two each line splits a part."""
    more = np.zeros(len(lines))
    for number in np.flatnonzero(shapely.get_num_geometries(runs) > 1).tolist():
        left = shapely.difference(part, shapely.buffer(lines[number], 0.001))
        more[number] = max(0, int(shapely.get_num_geometries(left)) - 2)
    return more

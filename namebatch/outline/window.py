"""A name in a window of the base, held by two bars across the window. Lengths in mm.

One long bar breaks and lets the name swing; two at its ends hold it. Bars run upright or level,
down rather than up or sideways, where one sees them least.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.arrays import Floats
from namebatch.outline.bars import HOLE_MARGIN_MM, bridges_of
from namebatch.outline.cores import ADD_MARGIN_MM, areas_of
from namebatch.outline.model import Bridge

STEP_MM = 1.0
MOST = 60
DOWN, UP, SIDEWAYS = 1.0, 1.5, 1.3
"""What a millimetre of a bar costs by its way."""
FOOT, HIGH = 0.35, 1.0
"""What a level bar costs for each millimetre above this share of the name's height: up there it
changes what one reads."""
SPREAD, TOGETHER = 0.6, 2.0
"""Bars that begin nearer to each other than this share of the name's length cost more, by so much
for each millimetre that is lacking."""
ROOT = 0.35
"""A bar begins so many widths within a stroke; thin ones have been made wide before."""
DEEP = 1.0
"""A bar ends so many widths within what it joins, or in the middle of a narrower frame."""


def held_in_windows(
    shape: MultiPolygon, base: Polygon, width_mm: float, holes: MultiPolygon
) -> tuple[Bridge, ...]:
    """Two bars for every part that stands in a window of the base and is not tied to it.

    Args:
        shape: base and names, joined as far as that goes without crossing a window.
        base: the base.
        width_mm: no bar is narrower.
        holes: holes of the template, from which bars keep off.

    Returns:
        None for parts to which no bar can be laid.
    """
    parts = areas_of(shape)
    windows = [Polygon(ring) for ring in base.interiors]
    bars: list[Bridge] = []
    for part in parts:
        around = next((window for window in windows if shapely.contains(window, part)), None)
        if around is None:
            continue
        frame = shapely.union_all([other for other in parts if other is not part])
        bars += bridges_of(_best_two(_options(part, frame, width_mm, holes), part), width_mm)
    return tuple(bars)


def _options(
    part: Polygon, frame: shapely.Geometry, width_mm: float, holes: MultiPolygon
) -> tuple[Floats, Floats]:
    """Straight bars from a part to what lies round it: their ends, and what each costs.

    A bar begins well within a stroke, so that it is rooted in it.
    """
    half = width_mm / 2 + ADD_MARGIN_MM
    core = shapely.buffer(part, -ROOT * width_mm)
    if core.is_empty:
        return np.zeros((0, 4)), np.zeros(0)
    x0, y0, x1, y1 = core.bounds
    left, bottom, right, top = shapely.total_bounds(frame)
    found: list[tuple[float, float, float, float]] = []
    cost: list[float] = []
    for x in _places(x0, x1):
        for ends, way in _upright(core, frame, x, (bottom, top), half):
            found.append(ends)
            cost.append(way * abs(ends[3] - ends[1]))
    swap = np.array([[0.0, 1.0], [1.0, 0.0]])
    turned = [shapely.transform(g, lambda xy: xy @ swap) for g in (core, frame)]
    for y in _places(y0, y1):
        for (v0, u0, v1, u1), _ in _upright(turned[0], turned[1], y, (left, right), half):
            found.append((u0, v0, u1, v1))
            high = max(v0 - y0 - FOOT * (y1 - y0), 0.0)
            cost.append(SIDEWAYS * abs(u1 - u0) + HIGH * high)
    bars, price = np.array(found).reshape(-1, 4), np.array(cost)
    if not holes.is_empty and len(bars):
        lines = shapely.linestrings(bars.reshape(-1, 2, 2))
        clear = ~shapely.dwithin(lines, holes, half + HOLE_MARGIN_MM)
        bars, price = bars[clear], price[clear]
    return bars, price


def _places(low: float, high: float) -> Floats:
    """Where lines are laid, ends included."""
    edge = min((high - low) / 50, 0.05)
    number = int(np.clip((high - low) / STEP_MM, 2, MOST)) + 1
    return np.linspace(low + edge, high - edge, number)


def _upright(
    core: shapely.Geometry, frame: shapely.Geometry, x: float, reach: Sequence[float], half: float
) -> list[tuple[tuple[float, float, float, float], float]]:
    """The bars on one upright line: down from the lowest of the core, and up from the highest."""
    line = shapely.LineString([(x, reach[0] - 1), (x, reach[1] + 1)])
    inside = shapely.intersection(line, core)
    if inside.is_empty:
        return []
    low, high = inside.bounds[1], inside.bounds[3]
    found = []
    for start, end, way in ((low, reach[0] - 1, DOWN), (high, reach[1] + 1, UP)):
        beyond = shapely.intersection(shapely.LineString([(x, start), (x, end)]), frame)
        spans = [g.bounds for g in shapely.get_parts(beyond) if g.length > half]
        if not spans:
            continue
        near = max(b[3] for b in spans) if way == DOWN else min(b[1] for b in spans)
        span = next(b for b in spans if near in (b[1], b[3]))
        deep = min(DEEP * 2 * half, (span[3] - span[1]) / 2)
        found.append(((x, start, x, near - deep if way == DOWN else near + deep), way))
    return found


def _best_two(options: tuple[Floats, Floats], part: Polygon) -> Floats:
    """The two bars that cost least together; one if there is no other."""
    ends, cost = options
    if len(ends) < 2:
        return ends
    x0, y0, x1, y1 = part.bounds
    axis = int(y1 - y0 > x1 - x0)
    wanted = SPREAD * max(x1 - x0, y1 - y0)
    apart = np.abs(ends[:, None, axis] - ends[None, :, axis])
    total = cost[:, None] + cost[None, :] + TOGETHER * np.maximum(wanted - apart, 0.0)
    np.fill_diagonal(total, np.inf)
    one, other = divmod(int(np.argmin(np.round(total, 6))), len(ends))
    return np.asarray(ends[[one, other]])

"""Local thickening: material added only along necks and tails that are too thin. Lengths in mm.

Circles of the least width are strung along the middle of what is thin. Where there is no room on
one side (a counter, a hole, a gap between strokes) the string is moved to the other side.
"""

from dataclasses import dataclass
from math import dist
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.curves import Point
from namebatch.outline.boundary import Boundary, Floats, ball_at, boundary_of, compiled
from namebatch.outline.thickness import necks_below
from namebatch.outline.tips import Survey, distances, farthest, is_neck, survey

FIND_MARGIN_MM = 0.004
"""Looked for beyond half the width, so that chords of circles do not decide."""
ADD_MARGIN_MM = 0.012
"""Added beyond half the width."""
REACH = 1.0
"""Corners and short ends may stand out of what is wide enough by this many widths."""
OPEN_MM = 0.3
"""Counters and gaps between strokes are kept this wide unless they are narrower already."""
GAP_SLACK_MM = 0.02
"""A gap is measured past the joints of the chords beside it."""
SIMPLIFY_MM = 0.003
ROOT_STEPS = 3
"""A string is led on to a firm place that is at most so many places further."""
ROUNDS = 3
QUARTER = 8
OPPOSED = -0.34
"""Cosine of the least angle between the two contacts of a circle; less is a corner's end."""


@dataclass(frozen=True, slots=True)
class Thickened:
    """A shape after local thickening.

    Attributes:
        shape: the shape; the very same object when nothing was thin.
        added_mm2: area that was added.
        places: middles of the necks and ends of the tails that were thickened.
    """

    shape: Polygon
    added_mm2: float
    places: tuple[Point, ...]


def thicken(
    shape: Polygon,
    width_mm: float,
    keep_open: MultiPolygon,
    *,
    open_mm: float = OPEN_MM,
    reach_mm: float | None = None,
) -> Thickened:
    """Make necks and thin tails as wide as they must be, and nothing else.

    Counters stay open and the number of holes stays what it was. What cannot be thickened is
    left as far as it came; ask `narrowest` and `thin_tips` for what was reached.

    Args:
        shape: a valid polygon.
        width_mm: nothing should be narrower.
        keep_open: holes into which nothing may grow.
        open_mm: counters and gaps are not made narrower than this.
        reach_mm: corners and ends may stand out by this; the width by default.
    """
    reach = REACH * width_mm if reach_mm is None else reach_mm
    result, places = shape, list[Point]()
    for _ in range(ROUNDS):
        thin = _find(result, width_mm, reach)
        if thin is None:
            break
        grown = _grown(result, thin, width_mm, keep_open, open_mm)
        if grown.area <= result.area + 1e-6:
            break
        for place in thin.places:
            if all(dist(place, other) > width_mm for other in places):
                places.append(place)
        result = grown
    return Thickened(result, result.area - shape.area, tuple(places))


@dataclass(frozen=True, slots=True)
class _Thin:
    """What is thin: the survey, chosen places in order, necks as points, and what to call it."""

    boundary: Boundary
    survey: Survey
    chosen: npt.NDArray[np.int64]
    necks: Floats
    places: list[Point]


def _find(shape: Polygon, width: float, reach: float) -> _Thin | None:
    """Necks and tails that are too thin; None if there are none."""
    b = boundary_of(shape)
    radius = width / 2 + FIND_MARGIN_MM
    necks = necks_below(b, 2 * radius)
    s = survey(b, radius)
    across = _in_necks(s) if necks.shape[0] else np.zeros(s.x.size, np.bool_)
    sides = s.radius[across, None]
    middles = np.column_stack([s.x, s.y])[across] + sides * np.column_stack([s.nx, s.ny])[across]
    limit = radius + reach
    far = distances(b, s, radius, reach, middles)
    ends = farthest(s, far, limit)
    if not necks.shape[0] and not ends:
        return None
    for k in _hanging(b, s, necks):
        far[k] = np.inf
    chosen = across | _on_the_way(s, far, limit, width / 2 + ADD_MARGIN_MM)
    chosen = _rooted(s, chosen & _one_of_two(s))
    places = [(float(x), float(y)) for x, y in necks[:, 1:3]]
    places += [(float(s.x[k]), float(s.y[k])) for k in ends]
    return _Thin(b, s, np.flatnonzero(chosen), necks, places)


@compiled
def _hanging(b: Boundary, s: Survey, necks: Any) -> Any:
    """The end of each part that hangs at a neck and is itself nowhere wide enough."""
    found = np.empty(necks.shape[0], np.int64)
    count = 0
    for n in range(necks.shape[0]):
        x, y = necks[n, 1], necks[n, 2]
        ends = np.zeros(2, np.int64)
        for side in range(2):
            edge, best = int(necks[n, 3 + side]), 1e30
            for i in (b.before[edge], edge, b.after[edge]):
                k = np.searchsorted(s.edge, i)
                while k < s.x.size and s.edge[k] == i:
                    away = (s.x[k] - x) ** 2 + (s.y[k] - y) ** 2
                    if away < best and s.run[k] >= 0:
                        best, ends[side] = away, k
                    k += 1
            if best == 1e30:
                ends[side] = -1
        low, high = ends.min(), ends.max()
        if low < 0 or s.run[low] != s.run[high]:
            continue
        r = 0
        while s.first[r + 1] <= low:
            r += 1
        end, best = -1, -1.0
        for step in (-1, 1):  # the way that stays in the run
            j, here, furthest = low, low, -1.0
            while j != high and s.run[j] == s.run[low]:
                away = (s.x[j] - x) ** 2 + (s.y[j] - y) ** 2
                if away > furthest:
                    here, furthest = j, away
                j = j + step
                j = s.first[r] if j == s.first[r + 1] else j
                j = s.first[r + 1] - 1 if j < s.first[r] else j
            if j == high and (end < 0 or furthest < best):
                end, best = here, furthest
        if end >= 0:
            found[count] = end
            count += 1
    return found[:count]


@compiled
def _opposed(s: Survey, k: int) -> bool:
    """True if the two contacts of a place's circle lie across from each other."""
    cx, cy = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
    dot = -(s.nx[k] * (s.ox[k] - cx) + s.ny[k] * (s.oy[k] - cy))
    return bool(dot < OPPOSED * s.radius[k])


@compiled
def _in_necks(s: Survey) -> Any:
    found = np.zeros(s.x.size, np.bool_)
    for k in range(s.x.size):
        found[k] = s.run[k] >= 0 and is_neck(s, k) and _opposed(s, k)
    return found


def _one_of_two(s: Survey) -> npt.NDArray[np.bool_]:
    """Of the two places across from each other, which see the same middle, one."""
    other = s.run[s.opposite]
    return (other < 0) | (s.run < other) | ((s.run == other) & (np.arange(s.x.size) < s.opposite))


@compiled
def _rooted(s: Survey, chosen: Any) -> Any:
    """Chosen places and the firm ones next to them: a string ends inside what is wide enough."""
    found = chosen.copy()
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            if not chosen[k]:
                continue
            for step in (-1, 1):
                j = k
                for _ in range(ROOT_STEPS):
                    j = j + step
                    j = low if j == high else (high - 1 if j < low else j)
                    if chosen[j]:
                        break
                    if s.run[j] < 0:
                        found[j] = True
                        break
    return found


@compiled
def _on_the_way(s: Survey, far: Any, limit: float, disc: float) -> Any:
    """Places on the way from what is wide enough to an end that is too far away.

    The string of circles stops where the last one covers the end.
    """
    found = np.zeros(s.x.size, np.bool_)
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            o = s.opposite[k]
            if s.run[k] < 0 or s.run[o] != s.run[k] or not _opposed(s, k):
                continue
            cx, cy = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
            least, leads = 1e30, False
            for step in (-1, 1):  # the tail lies between the two contacts, in the same run
                j, reach, ends = k, (s.x[k] - cx) ** 2 + (s.y[k] - cy) ** 2, False
                while j != o and s.run[j] == s.run[k]:
                    reach = max(reach, (s.x[j] - cx) ** 2 + (s.y[j] - cy) ** 2)
                    ends = ends or far[j] > limit
                    j = j + step
                    j = low if j == high else (high - 1 if j < low else j)
                if j == o:
                    leads = leads or ends
                    least = min(least, reach)
            found[k] = leads and least > disc * disc
    return found


def _grown(
    shape: Polygon, thin: _Thin, width: float, keep_open: MultiPolygon, open_mm: float
) -> Polygon:
    """The shape with its strings of circles; holes as before."""
    disc = width / 2 + ADD_MARGIN_MM
    s, chosen = thin.survey, thin.chosen
    room = _room(thin.boundary, s, chosen, disc, open_mm)
    if not keep_open.is_empty and chosen.size:
        near = np.column_stack([s.x[chosen], s.y[chosen], s.ox[chosen], s.oy[chosen]])
        away = shapely.distance(shapely.points(near.reshape(-1, 2)), keep_open).reshape(-1, 2)
        room = np.minimum(room, np.maximum(away - 1e-3, 0.0))
    strings = [_strings(s, chosen, room, disc)]
    bare = thin.necks[_uncovered(thin.necks, s, chosen, disc), 1:3]
    if len(bare):
        strings.append(_lines(bare, np.arange(len(bare))))
    strings = shapely.get_parts(strings)
    added = shapely.buffer(shapely.multilinestrings(strings), disc, quad_segs=QUARTER)
    added = shapely.buffer(strings, disc, quad_segs=QUARTER)
    if not keep_open.is_empty:
        added = shapely.difference(added, keep_open)
    return _with_its_holes(shape, shapely.union(shape, added), added)


@compiled
def _room(b: Boundary, s: Survey, chosen: Any, disc: float, open_mm: float) -> Any:
    """How much each side of a chosen place may grow: what its gap has to spare.

    Half of that where the gap's other side is thin too and will grow.
    """
    thin = np.zeros(b.x.size, np.bool_)
    for k in range(s.x.size):
        if s.run[k] >= 0:
            thin[s.edge[k]] = True
    room = np.empty((chosen.size, 2))
    for n in range(chosen.size):
        k = chosen[n]
        most = 2 * (disc - s.radius[k])
        room[n, 0] = room[n, 1] = most
        if s.run[k] < 0:
            continue
        widest = most + open_mm / 2
        cx, cy = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
        ux, uy = (s.ox[k] - cx) / s.radius[k], (s.oy[k] - cy) / s.radius[k]
        for side in range(2):
            x, y, nx, ny = s.x[k], s.y[k], -s.nx[k], -s.ny[k]
            if side == 1:
                x, y, nx, ny = s.ox[k], s.oy[k], ux, uy
            gap, edge, _ = ball_at(b, x, y, nx, ny, widest, GAP_SLACK_MM)
            spare = 2 * gap - open_mm if edge < 0 or not thin[edge] else gap - open_mm / 2
            room[n, side] = min(max(spare, 0.0), most)
    return room


def _strings(
    s: Survey, chosen: npt.NDArray[np.int64], room: Floats, disc: float
) -> shapely.MultiLineString:
    """Middles of the circles, moved to the side that has room; neighbours joined to lines."""
    if not chosen.size:
        return shapely.MultiLineString()
    here = np.column_stack([s.x[chosen], s.y[chosen]])
    normal = np.column_stack([s.nx[chosen], s.ny[chosen]])
    radius = s.radius[chosen]
    middle = here + radius[:, None] * normal
    across = np.column_stack([s.ox[chosen], s.oy[chosen]]) - here
    across = np.where(s.run[chosen, None] < 0, normal, across)
    across /= np.maximum(np.hypot(across[:, 0], across[:, 1]), 1e-9)[:, None]
    grow = 2 * (disc - radius)
    short = np.maximum(grow - room.sum(axis=1), 0.0) / 2
    room = room + short[:, None]
    shift = np.clip(grow / 2, grow - room[:, 0], room[:, 1]) - grow / 2
    steps = np.hypot(*np.diff(middle, axis=0).T)
    part = np.concatenate([[0], np.cumsum((np.diff(chosen) > ROOT_STEPS) | (steps > 2 * disc))])
    if shift.any():
        shift = _evened(_evened(shift, part), part)
    return _lines(middle + across * shift[:, None], part)


@compiled
def _evened(shift: Any, part: Any) -> Any:
    """Shifts without jumps along a string."""
    found = np.empty(shift.size)
    for k in range(shift.size):
        total = 0.0
        for step in range(-2, 3):
            j = min(max(k + step, 0), shift.size - 1)
            total += shift[j] if part[j] == part[k] else shift[k]
        found[k] = total / 5
    return found


def _lines(points: Floats, part: npt.NDArray[np.int64]) -> shapely.MultiLineString:
    """A line for each part; a single point becomes a very short line."""
    alone = np.flatnonzero(np.bincount(part) == 1)
    twins = points[np.searchsorted(part, alone)] + (1e-4, 0.0)
    order = np.argsort(np.concatenate([part, alone]), kind="stable")
    lines = shapely.linestrings(
        np.concatenate([points, twins])[order], indices=np.concatenate([part, alone])[order]
    )
    return shapely.multilinestrings(shapely.simplify(lines, SIMPLIFY_MM))


@compiled
def _uncovered(necks: Any, s: Survey, chosen: Any, disc: float) -> Any:
    """Necks that no chosen place sees: both ends are corners, the rest is wide enough."""
    found = np.ones(necks.shape[0], np.bool_)
    for n in range(necks.shape[0]):
        for k in chosen:
            x, y = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
            if (x - necks[n, 1]) ** 2 + (y - necks[n, 2]) ** 2 < disc * disc / 9:
                found[n] = False
                break
    return found


def _with_its_holes(shape: Polygon, grown: shapely.Geometry, added: shapely.Geometry) -> Polygon:
    """The grown shape with one hole for each of the shape's own, and no new ones."""
    parts = [part for part in shapely.get_parts(grown) if isinstance(part, Polygon)]
    part = max(parts, key=lambda p: p.area)
    if not part.interiors and not shape.interiors:
        return part
    old = shapely.polygons(np.array(shape.interiors, dtype=object))
    new = shapely.polygons(np.array(part.interiors, dtype=object))
    which, owner = shapely.STRtree(old).query(shapely.point_on_surface(new), "within")
    if len(new) == len(old) and np.array_equal(np.sort(owner), np.arange(len(old))):
        return part
    size = shapely.area(new)
    kept = []
    for k, ring in enumerate(shape.interiors):
        inside = which[owner == k]
        kept.append(part.interiors[int(inside[np.argmax(size[inside])])] if inside.size else ring)
    return Polygon(part.exterior, kept)

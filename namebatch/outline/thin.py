"""What must be thickened: necks, and tails with the way to their ends. Lengths in mm."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely import Polygon

from namebatch.curves import Point
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.boundary import Boundary
from namebatch.outline.compiled import compiled
from namebatch.outline.edged import edged
from namebatch.outline.outlying import Outlying, farthest_on_way, on_along_runs, outlying
from namebatch.outline.strings import ROOT_STEPS
from namebatch.outline.tips import Survey, distances, farthest, is_neck

FIND_MARGIN_MM = 0.004
"""Looked for beyond half the width, so that chords of circles do not decide."""
ALSO_ASKED = 1.3
"""Necks are looked for up to so many widths at once."""
OPPOSED = -0.34
"""Cosine of the least angle between the two contacts of a circle; less is a corner's end."""


@dataclass(frozen=True, slots=True)
class Thin:
    """What is thin.

    Attributes:
        boundary: of the shape.
        survey: its places.
        chosen: places along whose middles material is wanted, in order.
        tips: for each of them how a string that ends there goes on to cover a tail's end: x, y,
            and 1 or -1 for behind or before the place; 0 where it does not.
        necks: as `necks_below` gives them.
        places: middles of necks and ends of tails.
    """

    boundary: Boundary
    survey: Survey
    chosen: Ints
    tips: Floats
    necks: Floats
    places: list[Point]


def find_thin(shape: Polygon, width: float, reach: float, disc: float) -> Thin | None:
    """Find necks and tails that are too thin.

    Args:
        shape: a valid polygon.
        width: what is asked for.
        reach: how far corners and ends may stand out of what is wide enough.
        disc: radius of the circles that will be added.

    Returns:
        None if nothing is too thin.
    """
    sides = edged(shape)
    b = sides.inside
    radius = width / 2 + FIND_MARGIN_MM
    near = sides.necks(ALSO_ASKED * width)  # the narrowest one will be asked for among these
    necks = near[near[:, 0] < 2 * radius]
    s = sides.survey(radius)
    limit = radius + reach
    if not necks.shape[0] and not (s.run >= 0).any():
        return None
    across = _in_necks(s) if necks.shape[0] else np.zeros(s.x.size, np.bool_)
    deep = s.radius[across, None]
    middles = np.column_stack([s.x, s.y])[across] + deep * np.column_stack([s.nx, s.ny])[across]
    far = distances(b, s, radius, reach, middles)
    ends = farthest(s, far, limit)
    if not necks.shape[0] and not ends:
        return None
    for k in _hanging(b, s, necks):
        far[k] = np.inf
    on_the_way, tips = _on_the_way(s, far, limit, disc)
    chosen = _rooted(s, (across | on_the_way) & _one_of_two(s))
    places = [(float(x), float(y)) for x, y in necks[:, 1:3]]
    places += [(float(s.x[k]), float(s.y[k])) for k in ends]
    which = np.flatnonzero(chosen)
    return Thin(b, s, which, _at_ends(s, chosen, tips)[which], necks, places)


@compiled
def _hanging(b: Boundary, s: Survey, necks: Any) -> Any:
    """The end of each part that hangs at a neck and is itself nowhere wide enough."""
    found = np.empty(necks.shape[0], np.int64)
    count = 0
    if necks.shape[0] == 0:
        return found
    o, (ahead, behind) = outlying(s.x, s.y), on_along_runs(s.run, s.first)
    for n in range(necks.shape[0]):
        x, y = necks[n, 1], necks[n, 2]
        one = _thin_beside(b, s, int(necks[n, 3]), x, y)
        other = _thin_beside(b, s, int(necks[n, 4]), x, y)
        if min(one, other) < 0 or s.run[one] != s.run[other]:
            continue
        up, above = _end_between(s, o, ahead, one, other, 1, x, y)
        down, below = _end_between(s, o, behind, one, other, -1, x, y)
        if up >= 0 or down >= 0:
            found[count] = up if down < 0 or (up >= 0 and above < below) else down
            count += 1
    return found[:count]


@compiled
def _thin_beside(b: Boundary, s: Survey, edge: int, x: float, y: float) -> int:
    """The thin place nearest to a point, on an edge or the two beside it; -1 without one."""
    found, best = -1, 1e30
    for i in (b.before[edge], edge, b.after[edge]):
        k = int(np.searchsorted(s.edge, i))
        while k < s.x.size and s.edge[k] == i:
            away = (s.x[k] - x) ** 2 + (s.y[k] - y) ** 2
            if away < best and s.run[k] >= 0:
                best, found = away, k
            k += 1
    return found


@compiled
def _end_between(
    s: Survey, o: Outlying, along: Any, one: int, other: int, step: int, x: float, y: float
) -> Any:
    """The farthest place from a point on the way between two places of one run.

    Returns:
        The place and its distance squared; place -1 if the way leaves the run.
    """
    r = np.searchsorted(s.first, one, "right") - 1
    low, high = s.first[r], s.first[r + 1]
    if not low <= other < high or step * (other - one) % (high - low) > along[one]:
        return -1, -1.0
    if one == other:
        return one, -1.0
    return farthest_on_way(o, low, high, one, other, step, x, y)


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


def _one_of_two(s: Survey) -> Flags:
    """Of the two places across from each other, which see the same middle, one."""
    other = s.run[s.opposite]
    first: Flags = np.arange(s.x.size) < s.opposite
    found: Flags = (other < 0) | (s.run < other) | ((s.run == other) & first)
    return found


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

    Returns:
        The places, and for each how far it is from there to the middle of that last circle.
    """
    found, tips = np.zeros(s.x.size, np.bool_), np.zeros((s.x.size, 3))
    if not (far > limit).any():
        return found, tips
    places, (ahead, behind) = outlying(s.x, s.y), on_along_runs(s.run, s.first)
    ends = np.zeros(s.x.size + 1, np.int64)
    ends[1:] = np.cumsum(far > limit)
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            o = s.opposite[k]
            if s.run[k] < 0 or s.run[o] != s.run[k] or not _opposed(s, k):
                continue
            cx, cy = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
            least, leads, way = 1e30, False, 0
            for step in (-1, 1):  # the tail lies between the two contacts, in the same run
                along = ahead[k] if step > 0 else behind[k]
                if step * (o - k) % (high - low) > along:
                    continue
                leads = leads or _lead_to_end(ends, low, high, k, o, step)
                reach = farthest_on_way(places, low, high, k, o, step, cx, cy)[1]
                reach = max(reach, (s.x[k] - cx) ** 2 + (s.y[k] - cy) ** 2)
                if reach < least:
                    least, way = reach, step
            found[k] = leads and least > disc * disc
            if found[k]:  # the end's two corners lie beside the middle line, by the radius
                beside = s.radius[k] ** 2
                more = (least - beside) ** 0.5 - max(disc * disc - beside, 0.0) ** 0.5
                more = min(more, disc)
                ax, ay = s.ox[k] - s.x[k], s.oy[k] - s.y[k]
                along = way * more / max((ax * ax + ay * ay) ** 0.5, 1e-9)
                tips[k, 0], tips[k, 1], tips[k, 2] = along * ay, -along * ax, way
    return found, tips


@compiled
def _lead_to_end(ends: Any, low: int, high: int, start: int, end: int, step: int) -> bool:
    """True if there is an end on a way along a ring; `ends` counts those before each place."""
    if step < 0:
        start, end = end + 1, start + 1
    count = ends[end] - ends[start]
    if end < start:
        count += ends[high] - ends[low]
    return bool(count > 0)


@compiled
def _at_ends(s: Survey, chosen: Any, tips: Any) -> Any:
    """The tips of those places behind which, towards the tail, nothing more is chosen."""
    found = np.zeros_like(tips)
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            if not chosen[k] or tips[k, 2] == 0.0:
                continue
            j, last = k, True
            for _ in range(ROOT_STEPS):
                j += int(tips[k, 2])
                j = low if j == high else (high - 1 if j < low else j)
                last = last and not chosen[j]
            if last:
                found[k] = tips[k]
    return found

"""A line at a distance from a boundary, corners mitred, where no gap closes. Lengths in mm.

Every corner is moved along its mitre. Where the boundary turns inwards sharply the moved line
runs back and crosses itself: what lies nearer to the boundary than the distance is cut off, and
the lines on either side of the cut are brought to their crossing. Whether more than that would
have to be cut, because two stretches come too near to each other, shows in what is left: it is
then not valid, and the general buffer must do it.
"""

from typing import Any

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Ints, Polygons
from namebatch.outline.boundary import Boundary, nearest_edge
from namebatch.outline.compiled import compiled

SLACK_MM = 1e-6
"""A point that is nearer by no more counts as being at the distance."""

STRAY_MM = 0.01
"""A crossing may lie so far beyond the end of an edge, beside next to no turn."""

BRIDGED = 4
"""Living stretches of fewer points between two dead ones are given up where need be."""

TRIED = 10
"""So many lines more, on both sides of a cut together, are tried for the crossing."""

POLYGON = int(shapely.GeometryType.POLYGON)


def mitred(b: Boundary, distance_mm: float, limit: float) -> Polygon | None:
    """The line at a distance to the left of a boundary, one ring for each of its own.

    Args:
        b: the boundary, the side to which the line moves on its left.
        distance_mm: how far.
        limit: longest mitre, as a multiple of the distance; beyond it corners are cut off.

    Returns:
        What the line encloses; None where rings would vanish, part or meet.
    """
    xy, ends = _mitred(b, distance_mm, limit, SLACK_MM)
    if ends[1] == 0:
        return None
    sizes = np.diff(ends)
    done = np.flatnonzero(sizes)
    of = np.repeat(np.arange(len(done)), sizes[done])
    rings = np.empty(len(sizes), dtype=object)
    rings[done] = shapely.linearrings(xy[: ends[-1]], indices=of)
    left = np.flatnonzero(sizes == 0)
    if left.size:
        rings[left] = _by_buffer(b, left, distance_mm, limit)
        if shapely.is_missing(rings[left]).any():
            return None
    moved = shapely.polygons(rings[0], rings[1:] if len(rings) > 1 else None)
    return moved if shapely.is_valid(moved) else None


def _by_buffer(b: Boundary, which: Ints, distance_mm: float, limit: float) -> Polygons:
    """Lines of some holes by the general buffer; None for one that does not stay one."""
    xy = np.column_stack([b.x, b.y])
    rings = [shapely.linearrings(xy[b.first[r] : b.first[r + 1]]) for r in which]
    less = shapely.buffer(
        shapely.polygons(rings), -distance_mm, join_style="mitre", mitre_limit=limit
    )
    whole = (shapely.get_type_id(less) == POLYGON) & (shapely.get_num_interior_rings(less) == 0)
    whole &= ~shapely.is_empty(less)
    return np.asarray(np.where(whole, shapely.get_exterior_ring(less), None), dtype=np.object_)


@compiled
def _mitred(b: Boundary, d: float, limit: float, slack: float) -> Any:
    """Points of all rings and where each ring ends; a ring that cannot be done has no points."""
    n = b.x.size
    x, y = np.empty(2 * n), np.empty(2 * n)
    edge, alive = np.empty(2 * n, np.int64), np.empty(2 * n, np.bool_)
    out, ends = np.empty((2 * n, 2)), np.zeros(b.first.size, np.int64)
    total = 0
    for r in range(b.first.size - 1):
        count = _moved(b, b.first[r], b.first[r + 1], d, limit, x, y, edge)
        for k in range(count):
            alive[k] = nearest_edge(b, x[k], y[k], d - slack, True, -1)[0] < 0
        total = -1
        for bridged in range(BRIDGED):
            if bridged > 0:
                _bridge(alive, count, bridged)
            total = _brought_together(b, d, slack, x, y, edge, alive, count, out, ends[r])
            if total >= ends[r] + 3:
                break
        if total >= ends[r] + 3:
            ends[r + 1] = total
        elif r == 0:
            break
        else:
            ends[r + 1] = total = ends[r]
    return out, ends


@compiled
def _bridge(alive: Any, count: int, most: int) -> None:
    """Count short living stretches between dead ones as dead: lines run to and fro there."""
    length = most + 1
    for k in range(2 * count):
        if alive[k % count]:
            length += 1
            continue
        if length <= most:
            for j in range(k - length, k):
                alive[j % count] = False
        length = 0


@compiled
def _moved(
    b: Boundary, low: int, high: int, d: float, limit: float, x: Any, y: Any, edge: Any
) -> int:
    """The corners of a ring moved along their mitres, and the edge that goes out from each."""
    count = 0
    for i in range(low, high):
        p = b.before[i]
        turn = b.dx[p] * b.dy[i] - b.dy[p] * b.dx[i]
        dot = b.dx[p] * b.dx[i] + b.dy[p] * b.dy[i]
        # a mitre is as long as 1 / cos of half the turn
        if turn >= 0.0 or (1.0 + dot) * limit * limit >= 2.0:
            along = d / max(1.0 + dot, 1e-12)
            x[count] = b.x[i] - along * (b.dy[p] + b.dy[i])
            y[count] = b.y[i] + along * (b.dx[p] + b.dx[i])
            edge[count] = i
            count += 1
            continue
        # cut off at right angles to the mitre, at the limit: both moved edges are that long
        half = ((1.0 + dot) / 2.0) ** 0.5  # cos of half the turn
        more = d * (limit - half) / max((1.0 - half * half) ** 0.5, 1e-12)
        x[count], y[count] = b.x[i] - d * b.dy[p] + more * b.dx[p], 0.0
        y[count] = b.y[i] + d * b.dx[p] + more * b.dy[p]
        edge[count] = -1
        x[count + 1] = b.x[i] - d * b.dy[i] - more * b.dx[i]
        y[count + 1] = b.y[i] + d * b.dx[i] - more * b.dy[i]
        edge[count + 1] = i
        count += 2
    return count


@compiled
def _brought_together(
    b: Boundary, d: float, slack: float, x: Any, y: Any, edge: Any, alive: Any, count: int,
    out: Any, total: int,
) -> int:  # fmt: skip
    """Append a ring without its dead stretches, the lines beside each brought to their crossing.

    Beside a dead stretch lines may run back on themselves though their ends are far enough from
    the boundary, so a few of the lines next to it are tried too, the nearest first.

    Returns:
        The number of points; -1 if a ring is dead or there is no crossing.
    """
    start, first = _amid_living(alive, count), total
    k = start
    while k < start + count:
        here = k % count
        out[total, 0], out[total, 1] = x[here], y[here]
        total += 1
        k += 1
        if alive[k % count]:
            continue
        while not alive[k % count] and k < start + count:
            k += 1
        found, cx, cy, most = False, 0.0, 0.0, 0
        while most < TRIED and total - most - 1 > first and alive[(here - most - 1) % count]:
            most += 1  # lines before the cut that no other cut has touched
        for together in range(TRIED + 1):
            for back in range(min(together, most) + 1):
                end = k + together - back
                i, j = edge[(here - back) % count], edge[(end - 1) % count]
                if end > start + count or not alive[end % count] or i < 0 or j < 0:
                    continue
                found, cx, cy = _crossing(b, i, j, d)
                found = found and nearest_edge(b, cx, cy, d - 10 * slack, True, -1)[0] < 0
                found = found and _area(x, y, count, here - back + 1, end, cx, cy) < d * d
                if found:
                    total, k = total - back, end
                    break
            if found:
                break
        if not found:
            return -1
        out[total, 0], out[total, 1] = cx, cy
        total += 1
    return total


@compiled
def _area(x: Any, y: Any, count: int, low: int, high: int, cx: float, cy: float) -> float:
    """Area of what is cut off at a crossing: positive for a bay, which must not be lost.

    Lines that run back on themselves enclose a negative one.
    """
    area = 0.0
    for q in range(low, high - 1):
        a, c = q % count, (q + 1) % count
        area += (x[a] - cx) * (y[c] - cy) - (x[c] - cx) * (y[a] - cy)
    return area / 2.0


@compiled
def _amid_living(alive: Any, count: int) -> int:
    """The middle of the longest stretch that stays; `count` if nothing does."""
    best, found, length = 0, count, 0
    for k in range(2 * count):
        length = length + 1 if alive[k % count] else 0
        if best < length <= count:
            best, found = length, (k - length // 2) % count
    return found


@compiled
def _crossing(b: Boundary, i: int, j: int, d: float) -> Any:
    """Where two edges meet when they are moved: whether they do, x and y."""
    across = b.dx[i] * b.dy[j] - b.dy[i] * b.dx[j]
    if abs(across) < 1e-9:
        return False, 0.0, 0.0
    px = b.x[j] - d * b.dy[j] - (b.x[i] - d * b.dy[i])
    py = b.y[j] + d * b.dx[j] - (b.y[i] + d * b.dx[i])
    t = (px * b.dy[j] - py * b.dx[j]) / across
    u = (px * b.dy[i] - py * b.dx[i]) / across
    if _lies_on(b, i, t, d) and _lies_on(b, j, u, d):
        return True, b.x[i] - d * b.dy[i] + t * b.dx[i], b.y[i] + d * b.dx[i] + t * b.dy[i]
    return False, 0.0, 0.0


@compiled
def _lies_on(b: Boundary, i: int, t: float, d: float) -> bool:
    """True if a place along an edge is on it or on the mitres at its ends."""
    p, k = b.before[i], b.after[i]
    turn = b.dx[p] * b.dy[i] - b.dy[p] * b.dx[i]
    low = -d * max(-turn, 0.0) / max(1.0 + b.dx[p] * b.dx[i] + b.dy[p] * b.dy[i], 1e-9)
    turn = b.dx[i] * b.dy[k] - b.dy[i] * b.dx[k]
    more = d * max(-turn, 0.0) / max(1.0 + b.dx[i] * b.dx[k] + b.dy[i] * b.dy[k], 1e-9)
    return bool(low - STRAY_MM <= t <= b.length[i] + more + STRAY_MM)

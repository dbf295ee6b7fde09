"""Thin places along the boundary, and thin parts that hang by one end. Lengths in mm.

Every place of the boundary gets the largest circle that touches it from inside, up to the width
asked for. Where that circle fits the place is firm; the middles of the firm circles are the edge
of what an erosion leaves. Thin places come in runs. In a corner or a tail a thin place has its
opposite in the same run; in a neck the opposite belongs to another run.
"""

from math import acos, ceil, cos, pi, sin
from typing import Any, NamedTuple

import numpy as np
import shapely

from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.boundary import Boundary, ball_at, nearest_edge
from namebatch.outline.compiled import compiled

SPACING = 0.25
"""Places along the boundary are this many widths apart, or nearer."""

FAN_DEG = 15.0
"""A corner that points inwards has a circle for each so many degrees of its turn."""

SLACK_MM = 0.001

LOOKS = (1_000_000, 64)
"""So many places, and so many for each there is, are looked at before a tree is built."""

NOWHERE = 1e15
"""How far something is from what is not there."""


class Survey(NamedTuple):
    """Places along a boundary, ring by ring.

    Attributes:
        x, y: the places.
        nx, ny: unit normals, inwards.
        edge: the edge of each; that which starts at the corner for a corner.
        radius: of the largest circle that touches there from inside.
        run: number of its run of thin places, -1 for a firm one.
        ox, oy: the opposite contact of a thin place.
        opposite: the place nearest to the opposite contact, -1 for a firm one.
        first: index of each ring's first place, and the number of places.
    """

    x: Floats
    y: Floats
    nx: Floats
    ny: Floats
    edge: Ints
    radius: Floats
    run: Ints
    ox: Floats
    oy: Floats
    opposite: Ints
    first: Ints


def survey(b: Boundary, radius: float, spacing_mm: float | None = None) -> Survey:
    """Find the thin places of a boundary: those without a circle of the radius.

    Args:
        b: the boundary.
        radius: half the width asked for.
        spacing_mm: how far apart places are at most; a quarter of the width by default.
    """
    spacing = 2 * SPACING * radius if spacing_mm is None else spacing_mm
    return Survey(*_survey(b, radius, spacing, FAN_DEG * pi / 180, SLACK_MM))


def distances(
    b: Boundary,
    s: Survey,
    radius: float,
    reach: float,
    more: Floats,
    looks: tuple[int, int] = LOOKS,
) -> Floats:
    """How far each place in a corner or a tail is from what is wide enough; 0 elsewhere.

    Exact for places that are farther than the radius and the reach; others are nearer.

    Args:
        b: the boundary.
        s: its survey.
        radius: half the width.
        reach: with the radius, the distance that matters.
        more: rows of x and y that count as wide enough.
        looks: so many places, and so many for each there is, are looked at one by one, which is
            the soonest where little is thin; for the rest a tree is asked.
    """
    found, left = _distances(b, s, radius, reach, more, looks[0] + looks[1] * s.x.size)
    if left.any():
        found[left] = _nearest(s, left, radius, more)
    far: Floats = found
    return far


def _nearest(s: Survey, which: Flags, radius: float, more: Floats) -> Floats:
    """How far each of some places is from what is wide enough."""
    firm = s.run < 0
    x = np.concatenate([s.x[firm] + radius * s.nx[firm], more[:, 0]])
    y = np.concatenate([s.y[firm] + radius * s.ny[firm], more[:, 1]])
    if not x.size:
        return np.full(np.count_nonzero(which), NOWHERE)
    k = shapely.STRtree(shapely.points(x, y)).nearest(shapely.points(s.x[which], s.y[which]))
    px, py = x[k] - s.x[which], y[k] - s.y[which]
    found: Floats = (px * px + py * py) ** 0.5
    return found


def farthest(s: Survey, far: Floats, limit: float) -> list[int]:
    """The farthest place of each stretch of places beyond a limit."""
    found: list[int] = []
    if not far.size or far.max() <= limit:
        return found
    for start, end in zip(s.first[:-1], s.first[1:], strict=True):
        beyond = np.flatnonzero(far[start:end] > limit) + start
        if not beyond.size:
            continue
        parts = np.split(beyond, np.flatnonzero(np.diff(beyond) > 1) + 1)
        if len(parts) > 1 and beyond[0] == start and beyond[-1] == end - 1:
            parts[0] = np.concatenate([parts.pop(), parts[0]])  # over the ring's start
        found += [int(part[np.argmax(far[part])]) for part in parts]
    return found


@compiled
def _survey(b: Boundary, limit: float, spacing: float, fan: float, slack: float) -> Any:
    fans, pieces, at = _counted(b, spacing, fan)
    x, y, nx, ny, edge = _places(b, fans, pieces, at)
    total = x.size
    radius, opposite = np.full(total, limit), np.full(total, -1)
    ox, oy = np.zeros(total), np.zeros(total)
    for s in range(total):
        px, py = x[s] + limit * nx[s], y[s] + limit * ny[s]
        if nearest_edge(b, px, py, limit - slack, True, -1)[0] < 0:
            continue
        r, j, t = ball_at(b, x[s], y[s], nx[s], ny[s], limit, slack / 2, -1)
        if j < 0:
            continue
        radius[s] = r
        ox[s], oy[s] = b.x[j] + t * b.dx[j], b.y[j] + t * b.dy[j]
        k = b.after[j]
        if t <= 1e-9 and fans[j] > 0:
            opposite[s] = at[j] + fans[j] // 2
        elif t >= b.length[j] - 1e-9 and fans[k] > 0:
            opposite[s] = at[k] + fans[k] // 2
        else:
            step = int(t / b.length[j] * pieces[j])
            opposite[s] = at[j] + fans[j] + min(step, pieces[j] - 1)
    first = at[b.first].copy()
    return x, y, nx, ny, edge, radius, _runs(opposite, first), ox, oy, opposite, first


@compiled
def _counted(b: Boundary, spacing: float, fan: float) -> Any:
    """How many places each corner and each edge gets, and the first of them."""
    n = b.x.size
    fans, pieces, at = np.zeros(n, np.int64), np.zeros(n, np.int64), np.zeros(n + 1, np.int64)
    for i in range(n):
        p = b.before[i]
        if b.dx[p] * b.dy[i] - b.dy[p] * b.dx[i] < 0.0:
            angle = acos(min(max(b.dx[p] * b.dx[i] + b.dy[p] * b.dy[i], -1.0), 1.0))
            fans[i] = ceil(angle / fan) if angle > fan else 0
        pieces[i] = max(ceil(b.length[i] / spacing), 1)
        at[i + 1] = at[i] + fans[i] + pieces[i]
    return fans, pieces, at


@compiled
def _places(b: Boundary, fans: Any, pieces: Any, at: Any) -> Any:
    """Places and their normals: fans at corners, middles of equal pieces along edges."""
    total = at[-1]
    x, y, nx, ny = np.empty(total), np.empty(total), np.empty(total), np.empty(total)
    edge = np.empty(total, np.int64)
    for i in range(b.x.size):
        p = b.before[i]
        angle = acos(min(max(b.dx[p] * b.dx[i] + b.dy[p] * b.dy[i], -1.0), 1.0))
        for k in range(fans[i]):
            turned = -(k + 0.5) / fans[i] * angle
            s = at[i] + k
            x[s], y[s], edge[s] = b.x[i], b.y[i], i
            nx[s] = -b.dy[p] * cos(turned) - b.dx[p] * sin(turned)
            ny[s] = -b.dy[p] * sin(turned) + b.dx[p] * cos(turned)
        for k in range(pieces[i]):
            t = (k + 0.5) / pieces[i] * b.length[i]
            s = at[i] + fans[i] + k
            x[s], y[s], edge[s] = b.x[i] + t * b.dx[i], b.y[i] + t * b.dy[i], i
            nx[s], ny[s] = -b.dy[i], b.dx[i]
    return x, y, nx, ny, edge


@compiled
def _runs(opposite: Any, first: Any) -> Any:
    """Number the runs of thin places; a run may go on over its ring's start."""
    run = np.full(opposite.size, -1)
    label = -1
    for r in range(first.size - 1):
        low, high = first[r], first[r + 1]
        for s in range(low, high):
            if opposite[s] >= 0:
                label += s == low or opposite[s - 1] < 0
                run[s] = label
        if high > low and run[low] >= 0 and run[high - 1] >= 0 and run[low] != run[high - 1]:
            s = high - 1
            while run[s] == label:
                run[s] = run[low]
                s -= 1
            label -= 1
    return run


@compiled
def is_neck(s: Survey, k: int) -> bool:
    """True if a thin place faces another run: both ends of what is thin there hold on."""
    o = s.opposite[k]
    if s.run[o] == s.run[k]:
        return False
    if s.run[o] >= 0:
        return True
    # firm by a hair where a tail begins: look at its neighbours
    for d in (-1, 1, -2, 2):
        if 0 <= o + d < s.run.size and s.run[o + d] >= 0:
            return bool(s.run[o + d] != s.run[k])
    return True


@compiled
def _distances(b: Boundary, s: Survey, radius: float, reach: float, more: Any, budget: int) -> Any:
    """As `distances`, and which places are left to do when so many were looked at."""
    far, left = np.zeros(s.x.size), np.zeros(s.x.size, np.bool_)
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            if s.run[k] < 0 or is_neck(s, k):
                continue
            if budget < 0:
                left[k] = True
                continue
            near, steps = _is_near(s, k, low, high, reach)
            budget -= steps
            if near:
                continue
            # the nearest places first: most find something firm soon, and need no more
            x, y = s.x[k], s.y[k]
            best, enough = NOWHERE**2, (radius + reach) ** 2
            for step in range(1, max(k, s.x.size - 1 - k) + 1):
                for j in (k - step, k + step):
                    if 0 <= j < s.x.size and s.run[j] < 0:
                        px, py = s.x[j] + radius * s.nx[j] - x, s.y[j] + radius * s.ny[j] - y
                        best = min(best, px * px + py * py)
                budget -= 1
                if best <= enough:
                    break
            for j in range(more.shape[0]):
                if best <= enough:
                    break
                px, py = more[j, 0] - x, more[j, 1] - y
                best = min(best, px * px + py * py)
                budget -= 1
            far[k] = best**0.5
    return far, left


@compiled
def _is_near(s: Survey, k: int, low: int, high: int, reach: float) -> Any:
    """Whether a firm place is within reach along the boundary; how many were looked at."""
    x, y, steps = s.x[k], s.y[k], 0
    for step in (-1, 1):
        j, way = k, 0.0
        while way < reach:
            i = j + step
            i = low if i == high else (high - 1 if i < low else i)
            way += ((s.x[i] - s.x[j]) ** 2 + (s.y[i] - s.y[j]) ** 2) ** 0.5
            steps += 1
            if s.run[i] < 0 and (s.x[i] - x) ** 2 + (s.y[i] - y) ** 2 < reach**2:
                return True, steps
            j = i
            if i == k:
                break
    return False, steps

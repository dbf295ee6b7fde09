"""Strings of circles along the middle of what is thin, moved to where there is room. mm."""

from typing import Any

import numpy as np
import shapely

from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.boundary import Boundary, ball_at, way_free
from namebatch.outline.compiled import compiled
from namebatch.outline.tips import Survey

GAP_SLACK_MM = 0.02
"""A gap is measured past the joints of the chords beside it."""
BESIDE = 1.5
"""A ball's contact is across from its foot when the chord leans by less than 30°: 2 cos² ≥ 1.5."""
SIMPLIFY_MM = 0.003
ROOT_STEPS = 3
"""A string is led on to a firm place that is at most so many places further."""


@compiled
def room_beside(b: Boundary, s: Survey, chosen: Any, disc: float, open_mm: float) -> Any:
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
            x, y, nx, ny, beside = s.x[k], s.y[k], -s.nx[k], -s.ny[k], s.edge[k]
            if side == 1:
                x, y, nx, ny, beside = s.ox[k], s.oy[k], ux, uy, s.edge[s.opposite[k]]
            corner = -1  # from a corner the gap is what lies beyond the edges that meet in it
            for i in (beside, b.after[beside]):
                if abs(b.x[i] - x) + abs(b.y[i] - y) < 1e-9:
                    corner = i
            gap, edge, t = ball_at(b, x, y, nx, ny, widest, GAP_SLACK_MM, corner)
            if edge >= 0:
                qx, qy = b.x[edge] + t * b.dx[edge] - x, b.y[edge] + t * b.dy[edge] - y
                if 2.0 * (qx * nx + qy * ny) ** 2 < BESIDE * (qx * qx + qy * qy):
                    # beside it, not across: only what lies straight ahead counts
                    gap, edge = way_free(b, x, y, nx, ny, 2.0 * widest)
                    gap /= 2.0
            spare = 2 * gap - open_mm if edge < 0 or not thin[edge] else gap - open_mm / 2
            room[n, side] = min(max(spare, 0.0), most)
    return room


def strings_of(
    s: Survey, chosen: Ints, room: Floats, disc: float, tips: Floats | None = None
) -> shapely.MultiLineString:
    """Middles of the circles, moved to the side that has room; neighbours joined to lines.

    Args:
        s: the places.
        chosen: which of them.
        room: how much each side of them may grow.
        disc: radius of the circles.
        tips: how strings go on at the ends of tails, as in `Thin`; without it each circle
            stands alone.
    """
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
    if tips is None:
        return lines(middle + across * shift[:, None], np.arange(chosen.size))
    part = np.concatenate([[0], np.cumsum((np.diff(chosen) > ROOT_STEPS) | (steps > 2 * disc))])
    if shift.any():
        firm = s.run[chosen] < 0
        shift = _evened(_evened(shift, part, firm), part, firm)
    return lines(*_with_tips(middle + across * shift[:, None], part, tips))


def _with_tips(points: Floats, part: Ints, tips: Floats) -> tuple[Floats, Ints]:
    """The strings, with a point more where they go on to the end of a tail."""
    at = np.flatnonzero(tips[:, 2])
    behind = at + (tips[at, 2] > 0)
    more = points[at] + tips[at, :2]
    return np.insert(points, behind, more, axis=0), np.insert(part, behind, part[at])


@compiled
def _evened(shift: Any, part: Any, firm: Any) -> Any:
    """Shifts without jumps along a string, its roots left out."""
    found = shift.copy()
    for k in range(shift.size):
        total, count = 0.0, 0
        for j in range(max(k - 2, 0), min(k + 3, shift.size)):
            if part[j] == part[k] and not firm[j] and not firm[k]:
                total += shift[j]
                count += 1
        if count > 0:
            found[k] = total / count
    return found


def lines(points: Floats, part: Ints) -> shapely.MultiLineString:
    """A line for each part; a single point becomes a very short line."""
    alone = np.flatnonzero(np.bincount(part) == 1)
    twins = points[np.searchsorted(part, alone)] + (1e-4, 0.0)
    order = np.argsort(np.concatenate([part, alone]), kind="stable")
    lines = shapely.linestrings(
        np.concatenate([points, twins])[order], indices=np.concatenate([part, alone])[order]
    )
    return shapely.multilinestrings(shapely.simplify(lines, SIMPLIFY_MM))


def bare_necks(b: Boundary, s: Survey, chosen: Ints, necks: Floats, disc: float) -> Survey:
    """Necks that no chosen place is near to, each as one place at its inward corner.

    Both ends are corners there, and the edges beside them lead away from each other.
    """
    necks = necks[uncovered(necks, s, chosen, disc)]
    corner = necks[:, 3].astype(np.int64)
    x, y = b.x[corner], b.y[corner]
    radius = np.maximum(necks[:, 0] / 2, 1e-6)
    nx, ny = (necks[:, 1:3] - np.column_stack([x, y])).T / radius
    none = np.zeros(len(necks), np.int64)
    ox, oy = 2 * necks[:, 1] - x, 2 * necks[:, 2] - y
    first = np.array([0, len(necks)])
    return Survey(x, y, nx, ny, corner, radius, none, ox, oy, none, first)


def uncovered(necks: Floats, s: Survey, chosen: Ints, disc: float) -> Flags:
    """Necks that no chosen place sees: both ends are corners, the rest is wide enough."""
    if not chosen.size or not necks.size:
        return np.ones(len(necks), dtype=np.bool_)
    x = s.x[chosen] + s.radius[chosen] * s.nx[chosen]
    y = s.y[chosen] + s.radius[chosen] * s.ny[chosen]
    k = shapely.STRtree(shapely.points(x, y)).nearest(shapely.points(necks[:, 1:3]))
    found: Flags = (x[k] - necks[:, 1]) ** 2 + (y[k] - necks[:, 2]) ** 2 >= disc * disc
    return found

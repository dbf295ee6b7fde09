"""Strings of circles along the middle of what is thin, moved to where there is room. mm."""

from typing import Any

import numpy as np
import shapely

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.boundary import Boundary, ball_at
from namebatch.outline.compiled import compiled
from namebatch.outline.tips import Survey

GAP_SLACK_MM = 0.02
"""A gap is measured past the joints of the chords beside it."""
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
            x, y, nx, ny = s.x[k], s.y[k], -s.nx[k], -s.ny[k]
            if side == 1:
                x, y, nx, ny = s.ox[k], s.oy[k], ux, uy
            gap, edge, _ = ball_at(b, x, y, nx, ny, widest, GAP_SLACK_MM)
            spare = 2 * gap - open_mm if edge < 0 or not thin[edge] else gap - open_mm / 2
            room[n, side] = min(max(spare, 0.0), most)
    return room


def strings_of(s: Survey, chosen: Ints, room: Floats, disc: float) -> shapely.MultiLineString:
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
    return lines(middle + across * shift[:, None], part)


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


def lines(points: Floats, part: Ints) -> shapely.MultiLineString:
    """A line for each part; a single point becomes a very short line."""
    alone = np.flatnonzero(np.bincount(part) == 1)
    twins = points[np.searchsorted(part, alone)] + (1e-4, 0.0)
    order = np.argsort(np.concatenate([part, alone]), kind="stable")
    lines = shapely.linestrings(
        np.concatenate([points, twins])[order], indices=np.concatenate([part, alone])[order]
    )
    return shapely.multilinestrings(shapely.simplify(lines, SIMPLIFY_MM))


@compiled
def uncovered(necks: Any, s: Survey, chosen: Any, disc: float) -> Any:
    """Necks that no chosen place sees: both ends are corners, the rest is wide enough."""
    found = np.ones(necks.shape[0], np.bool_)
    for n in range(necks.shape[0]):
        for k in chosen:
            x, y = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
            if (x - necks[n, 1]) ** 2 + (y - necks[n, 2]) ** 2 < disc * disc / 9:
                found[n] = False
                break
    return found

"""The largest size at which convex pieces fit into an area, and where: exact and from a start.

For every piece and every obstacle one line between them is taken; with these lines kept, size
and shift are bound by linear inequalities, and the best of them is a small linear program. Its
answer is no worse than the start, and the lines are taken anew from there.
"""

from dataclasses import dataclass

import numpy as np

from namebatch.template.guide import Floats
from namebatch.text.ground import Rules
from namebatch.text.program import SLACK, greatest

ROUNDS = 40
GAIN = 1e-5
"""An answer that grows by a smaller share is as good as the one before."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Pieces in an area: shape = size × piece + (x, y)."""

    size: float
    x: float
    y: float


def topmost(rules: Rules, most: float) -> tuple[Floats, bool] | None:
    """The best point that the hull of the area allows, and whether no obstacle is in its way.

    Args:
        rules: at a fixed height, or free.
        most: greatest size that is of use.

    Returns:
        Size and shift; None where not even a point fits.
    """
    point = greatest(rules.always, most)
    if point is None or point[0] < 0.0:
        return None
    return point, clear(rules, point)


def clear(rules: Rules, point: Floats) -> bool:
    """Whether no obstacle is in the way at a size and shift."""
    if not len(rules.either):
        return True
    gaps = rules.either[..., -1] - rules.either[..., :-1] @ point
    return bool((gaps.max(axis=1) >= -SLACK).all())


def grown(start: Floats, rules: Rules, most: float) -> tuple[Floats, ...]:
    """Better and better points, as far as they can be reached from a start.

    Args:
        start: size and shift at which the pieces lie inside; size 0 among them.
        rules: that keep them inside; at a fixed height, or free.
        most: greatest size that is of use.

    Returns:
        The start, then points of greater size; what lies between two of them fits as well.
    """
    trail = [start]
    every = np.arange(len(rules.either))
    for _ in range(ROUNDS):
        best = trail[-1]
        rows = rules.always
        if len(every):
            gaps = rules.either[..., -1] - rules.either[..., :-1] @ best
            rows = np.concatenate([rows, rules.either[every, gaps.argmax(axis=1)]])
        found = greatest(rows, most)
        if found is None or found[0] <= best[0]:
            break
        trail.append(found)
        if found[0] <= best[0] * (1 + GAIN) or found[0] >= most:
            break
    return tuple(trail)


def stretches_of(rules: Rules, size: float) -> Floats:
    """Where pieces may stand at a fixed height and size: (n, 2), from x to x, from the left.

    Args:
        rules: at a fixed height.
        size: of the pieces.
    """
    low, high = _span(rules.always, size)
    if low > high:
        return np.empty((0, 2))
    if not len(rules.either):
        return np.array([[low, high]])
    begins, ends = _conflicts(rules.either, size)
    found = []
    reach = low
    for begin, end in sorted(zip(begins.tolist(), ends.tolist(), strict=True)):
        if begin < end:
            if begin > reach:
                found.append((reach, min(begin, high)))
            reach = max(reach, end)
    found.append((reach, high))
    return np.array([pair for pair in found if pair[0] < pair[1]]).reshape(-1, 2)


def _span(rows: Floats, size: float) -> tuple[float, float]:
    """The x that keep all of some inequalities."""
    room = rows[:, 2] - rows[:, 0] * size
    slope = rows[:, 1]
    if (room[np.abs(slope) < SLACK] < -SLACK).any():
        return 1.0, 0.0
    right, left = slope >= SLACK, slope <= -SLACK
    return float((room[left] / slope[left]).max()), float((room[right] / slope[right]).min())


def _conflicts(rows: Floats, size: float) -> tuple[Floats, Floats]:
    """The x at which all of some inequalities are broken, from and to, obstacle by obstacle."""
    room = rows[..., 2] - rows[..., 0] * size
    slope = rows[..., 1]
    flat = np.abs(slope) < SLACK
    edge = room / np.where(flat, 1.0, slope)
    begins = np.where(slope >= SLACK, edge, -np.inf).max(axis=1)
    ends = np.where(slope <= -SLACK, edge, np.inf).min(axis=1)
    kept = (flat & (room >= -SLACK)).any(axis=1)
    return begins, np.where(kept, begins, ends)

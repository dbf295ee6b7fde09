"""The way of the cutter through one operation: which line after which, and where each is entered.

Lines and entries depend on each other: with a turn of the lines given, the best entries are
found exactly, line by line; with the entries given, a shorter turn is searched for; and so on
until nothing gets shorter. mm.
"""

from collections.abc import Sequence

import numpy as np

from namebatch.curves import Point
from namebatch.outline.arrays import Floats, Ints
from namebatch.sheet.tour import short_way, way_length

ROUNDS = 4
FEW_KICKS = 1
"""For each line, once a good turn is there."""
WORTH_WHILE = 0.002
"""A round that shortens the way by a smaller share is the last one."""


def route(stops: Sequence[Floats], groups: Ints, start: Point) -> list[tuple[int, int]]:
    """A short way from a start through one entry of each stop.

    Args:
        stops: of each closed line the points where it may be entered, two columns; it is left
            where it was entered.
        groups: of each stop, numbered from 0; the stops of a group come one after the other.
        start: where the cutter stands.

    Returns:
        Numbers of stop and entry, in turn.
    """
    if not stops:
        return []
    middles = np.array([points.mean(axis=0) for points in stops])
    order = short_way(middles, groups, start)
    chosen = best_entries(stops, order, start)
    length = np.inf
    best = order, chosen
    for _ in range(ROUNDS):
        at = np.array([stops[k][chosen[k]] for k in range(len(stops))])
        order = short_way(at, groups, start, order, FEW_KICKS)
        chosen = best_entries(stops, order, start)
        at = np.array([stops[k][chosen[k]] for k in range(len(stops))])
        found = way_length(at, order, start)
        gained = length - found
        if gained > 0.0:
            best = order, chosen
        if gained <= WORTH_WHILE * found:
            break
        length = found
    order, chosen = best
    return [(int(k), int(chosen[k])) for k in order]


def best_entries(stops: Sequence[Floats], order: Ints, start: Point) -> Ints:
    """The entries that make the way through the stops in a given turn shortest.

    From stop to stop the shortest way to each entry is kept (dynamic programming): exact.

    Returns:
        Number of the entry of each stop, by stop.
    """
    before, cost = np.array([start], dtype=float), np.zeros(1)
    back: list[Ints] = []
    for k in order:
        points = stops[k]
        reach = cost[:, None] + np.hypot(
            points[None, :, 0] - before[:, None, 0], points[None, :, 1] - before[:, None, 1]
        )
        back.append(reach.argmin(axis=0).astype(np.int64))
        before, cost = points, reach.min(axis=0)
    chosen = np.zeros(len(stops), np.int64)
    entry = int(cost.argmin())
    for k, came in zip(order[::-1], back[::-1], strict=True):
        chosen[k] = entry
        entry = int(came[entry])
    return chosen

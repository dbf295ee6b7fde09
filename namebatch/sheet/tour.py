"""A short way through places: the nearest first, then 2-opt and Or-opt, then small kicks. mm.

2-opt takes two steps of the way out and joins it up again with what lies between turned round;
Or-opt puts up to three places in a row somewhere else (both: G. A. Croes 1958 and I. Or 1976, as
told by Johnson & McGeoch 1997, from memory). A kick exchanges two neighbouring stretches, and is
taken back where the search after it finds no shorter way.
"""

import numpy as np

from namebatch.curves import Point
from namebatch.outline.arrays import Floats, Ints
from namebatch.sheet.tour_search import improve
from namebatch.sheet.tour_start import nearest_first, neighbours

NEAR = 8
"""Places tried as the next one: so many of all, and as many of other groups."""
KICKS = 10
"""For each place."""
MOST_KICKS = 50_000


def short_tour(places: Floats) -> Ints:
    """A round through all places that ends where it began.

    Args:
        places: x and y.

    Returns:
        Their numbers in turn.
    """
    count = len(places)
    if count < 4:
        return np.arange(count)
    groups = np.arange(count)
    order = nearest_first(places, groups, 0, count)
    improve(places, groups, -1, _near(places, groups, count), order, _kicks(count, KICKS))
    return order


def short_way(
    places: Floats, groups: Ints, start: Point, order: Ints | None = None, kicks: int = KICKS
) -> Ints:
    """A way from a start through all places that may end anywhere.

    The places of one group are passed one after the other. The same places give the same way.

    Args:
        places: x and y.
        groups: of each place, numbered from 0, in any turn.
        start: where the way begins.
        order: a way to begin the search with, groups together; the nearest first without it.
        kicks: for each place.

    Returns:
        Their numbers in turn.
    """
    count = len(places)
    if count < 2:
        return np.arange(count)
    # the start is fixed at the front, and the end is a place that is nowhere
    at = np.vstack([places, [start], [start]])
    ids = np.concatenate([groups, [-1, -2]]).astype(np.int64)
    if order is None:
        way = nearest_first(at, ids, count, count)
    else:
        way = np.concatenate([[count], order])
    way = np.concatenate([way, [count + 1]]).astype(np.int64)
    improve(at, ids, count + 1, _near(at, ids, count), way, _kicks(count, kicks))
    return way[1:-1].copy()


def way_length(places: Floats, order: Ints, start: Point | None) -> float:
    """Length of a way from a start, or of a round without one."""
    along = places[order]
    first = along[-1:] if start is None else np.array([start], dtype=float)
    return float(np.hypot(*np.diff(np.vstack([first, along]), axis=0).T).sum())


def _near(places: Floats, groups: Ints, count: int) -> Ints:
    turn = np.argsort(places[:count, 0], kind="stable").astype(np.int64)
    return neighbours(places, groups.astype(np.int64), turn, count, NEAR)


def _kicks(count: int, each: int) -> int:
    return min(each * count, MOST_KICKS)

"""The search for a tab that hangs a shape straight and leaves its lettering open. Lengths in mm."""

from collections.abc import Iterator
from math import atan2, degrees

from namebatch.curves import Point as At
from namebatch.outline.hole_task import (
    CHEAP,
    ENOUGH_DEG,
    Place,
    Task,
    centre_of,
    edge_above,
    tilt_of,
)
from namebatch.outline.tab import Ground, grow_tab

STRAIGHT_DEG = 0.05
"""Nearer to upright than anyone can see."""

BESIDE = 6
"""So many places to either side of the straight one are tried, in quarters of a half width."""

TALLER = 1.0
"""To have its hole high enough a tab grows taller by up to so many half widths."""

ROUNDS = 6
STEADY = 0.8
"""A tab moves the centre of mass by its share of the area only, so a few rounds are enough."""


def with_tab(task: Task) -> Place | None:
    """A tab where the line through the centre of mass leaves the shape.

    If no place over the centre holds one, or it would fill lettering there, the cheapest of
    all tries is taken.
    """
    columns = _columns(task)
    best = _balanced(task, next(columns))
    if best is not None and not _is_good(task, best):
        best = _beside(task, best)
    if best is not None and best.tilt_deg < ENOUGH_DEG:
        return best
    for start in columns:
        place = _balanced(task, start)
        if place is not None:
            best = place if best is None else _cheaper(task, best, place)
        if best is not None and _is_good(task, best):
            break
    return best


def tab_at(task: Task, x: float, low: float) -> Place | None:
    """A tab at a column whose hole does not lie below a height; None if there is none."""
    edge = edge_above(task.shape, x)
    if edge is None or edge + task.half * TALLER < low:
        return None
    ground = Ground(task.shape, task.avoid, task.clear_mm, task.field)
    grown = grow_tab(ground, task.ear, (x, edge), low)
    if grown is None:
        return None
    return Place(grown.at, grown, tilt_of(task, grown.at, grown))


def _is_good(task: Task, place: Place) -> bool:
    """True if nobody could wish for a better place."""
    return place.tilt_deg < ENOUGH_DEG and place.cost(task.half) <= CHEAP


def _cheaper(task: Task, one: Place, other: Place) -> Place:
    return other if other.cost(task.half) < one.cost(task.half) - 1e-9 else one


def _beside(task: Task, straight: Place) -> Place:
    """The cheapest tab a little aside of the straight one: it may clear the lettering there."""
    best, low = straight, task.least_height
    lever = straight.at[1] + task.half - task.shape.centroid.y
    for step in range(1, BESIDE + 1):
        away = step * task.half / 4
        lean = degrees(atan2(away, lever))
        if Place(straight.at, None, lean).cost(task.half) >= best.cost(task.half):
            break
        for x in (straight.at[0] - away, straight.at[0] + away):
            place = tab_at(task, x, low)
            best = best if place is None else _cheaper(task, best, place)
    return best


def _balanced(task: Task, x: float) -> Place | None:
    """The straightest tab on the way from a column to where tab and centre agree.

    The tab shifts the centre, so the column is moved after it, by the secant rule where the
    edge is smooth enough for that.
    """
    low, best = task.least_height, None
    tried: list[At] = []
    for _ in range(ROUNDS):
        place = tab_at(task, x, low)
        if place is None:
            break
        if best is None or place.tilt_deg < best.tilt_deg:
            best = place
        if place.tilt_deg < STRAIGHT_DEG:
            break
        tried.append((x, centre_of(task, place.at, place.tab)[0]))
        x = _next_column(tried)
    return best


def _next_column(tried: list[At]) -> float:
    """Where column and centre would agree if both went on as before."""
    x, centre = tried[-1]
    if len(tried) > 1 and x != tried[-2][0]:
        slope = (centre - tried[-2][1]) / (x - tried[-2][0])
        if abs(slope) < STEADY:
            return x + (centre - x) / (1 - slope)
    return centre


def _columns(task: Task) -> Iterator[float]:
    """Where a tab is tried: above the centre, then ever farther to both sides."""
    x0, _, x1, _ = task.shape.bounds
    middle = float(task.shape.centroid.x)
    yield middle
    for step in range(1, 33):
        away = step * (x1 - x0) / 32
        for x in (middle - away, middle + away):
            if x0 < x < x1:
                yield x

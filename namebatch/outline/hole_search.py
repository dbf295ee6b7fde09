"""The search for a hole's place, in a frame that is turned so that up is up. Lengths in mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, affinity

from namebatch.curves import Point as At
from namebatch.outline.room import hole_shape, room_for
from namebatch.outline.tab import HIGHEST, Tab, grow_tab

CLOSE = 3.0
"""A hole is near the edge if its centre lies within this many times half its width and wall."""

LEVER = 0.5
"""Its centre lies above the centre of mass by this many times half its width and wall."""

INK_MM = 0.5
"""Kept between a hole and the lettering, where there is room."""

STRAIGHT_DEG = 0.05
"""Nearer to upright than anyone can see."""

ENOUGH_DEG = 0.5
"""Good enough to look no further."""

ADD_MORE_MM = 0.012
"""Added to the wall of a tab, so that its chords do not come too near."""

ROUNDS = 6
STEADY = 0.8
"""A tab moves the centre of mass by its share of the area only, so a few rounds are enough."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked, in the frame with the edge up; `ink` is `avoid` with its clearance."""

    shape: Polygon
    length_mm: float
    width_mm: float
    wall_mm: float
    avoid: shapely.Geometry
    ink: shapely.Geometry

    @property
    def cut(self) -> Polygon:
        """The hole about the origin."""
        return hole_shape(self.length_mm, self.width_mm)

    @property
    def ring(self) -> Polygon:
        """The hole grown by its wall."""
        more = 2 * (self.wall_mm + ADD_MORE_MM)
        return hole_shape(self.length_mm + more, self.width_mm + more)

    @property
    def half(self) -> float:
        """Half the height of the ring."""
        return self.width_mm / 2 + self.wall_mm


@dataclass(frozen=True, slots=True)
class Place:
    """A candidate in that frame: the hole's centre, and what a tab adds."""

    at: At
    tab: Tab | None
    tilt_deg: float


def above_centre(task: Task, tab: bool) -> Place | None:
    """The best place for hanging straight, or None."""
    room = _room(task)
    inside = _on_line(task, room)
    if inside is not None and _is_near(task, inside.at):
        return inside
    grown = _with_tab(task) if tab else None
    if grown is not None and grown.tilt_deg < ENOUGH_DEG:
        return grown
    leaning = None if inside is not None else _leaning(task, room)
    places = [place for place in (inside, grown, leaning) if place is not None]
    return min(places, key=lambda place: place.tilt_deg) if places else None


def _room(task: Task) -> shapely.Geometry:
    return room_for(task.shape, task.length_mm, task.width_mm, task.wall_mm, task.avoid, INK_MM)


def _least_height(task: Task) -> float:
    return float(task.shape.centroid.y) + LEVER * task.half


def _on_line(task: Task, room: shapely.Geometry) -> Place | None:
    """The highest place straight above the centre of mass.

    Cutting a hole that lies above the centre moves it straight down, so no rounds are needed.
    """
    x, low = float(task.shape.centroid.x), _least_height(task)
    top = task.shape.bounds[3]
    if room.is_empty or top <= low:
        return None
    free = shapely.intersection(room, LineString([(x, low), (x, top)]))
    if free.is_empty:
        return None
    at = (x, float(free.bounds[3]))
    return Place(at, None, _tilt(task, at, None))


def _is_near(task: Task, at: At) -> bool:
    """True if the shape's edge is not far above a place."""
    above = _edge_above(task.shape, at[0])
    return above is not None and above - at[1] <= CLOSE * task.half


def _edge_above(shape: Polygon, x: float) -> float | None:
    """Height at which the line up at x leaves the shape for good."""
    _, y0, _, y1 = shape.bounds
    line = shapely.intersection(shape, LineString([(x, y0 - 1), (x, y1 + 1)]))
    return None if line.is_empty else float(line.bounds[3])


def _leaning(task: Task, room: shapely.Geometry) -> Place | None:
    """The place with the least tilt above the centre of mass.

    The tangent of the tilt is a quotient of linear terms, so its least value over a polygon
    is at a corner.
    """
    above = shapely.get_coordinates(room)
    above = above[above[:, 1] >= _least_height(task)]
    if len(above) == 0:
        return None
    mass = task.shape.centroid
    tangents = np.abs(above[:, 0] - mass.x) / (above[:, 1] - mass.y)
    x, y = above[np.lexsort((above[:, 0], tangents.round(9)))[0]].tolist()
    return Place((x, y), None, _tilt(task, (x, y), None))


def _with_tab(task: Task) -> Place | None:
    """A tab where the line through the centre of mass leaves the shape.

    If no place over the centre holds one, the straightest of all tries is taken.
    """
    best = None
    for start in _columns(task):
        place = _balanced(task, start)
        if place is not None and (best is None or place.tilt_deg < best.tilt_deg - 1e-9):
            best = place
        if best is not None and best.tilt_deg < ENOUGH_DEG:
            break
    return best


def _balanced(task: Task, x: float) -> Place | None:
    """The straightest tab on the way from a column to where tab and centre agree.

    The tab shifts the centre, so the column is moved after it, by the secant rule where the
    edge is smooth enough for that.
    """
    low, best = _least_height(task), None
    tried: list[At] = []
    for _ in range(ROUNDS):
        place = _tab_at(task, x, low)
        if place is None:
            break
        if best is None or place.tilt_deg < best.tilt_deg:
            best = place
        if place.tilt_deg < STRAIGHT_DEG:
            break
        tried.append((x, _centre(task, place.at, place.tab)[0]))
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


def _tab_at(task: Task, x: float, low: float) -> Place | None:
    """A tab at a column; None if its hole would not lie above a height."""
    edge = _edge_above(task.shape, x)
    if edge is None or edge + task.half * HIGHEST < low:
        return None
    grown = grow_tab(task.shape, task.ring, task.cut, (x, edge), task.half, task.ink)
    if grown is None or grown.at[1] < low:
        return None
    return Place(grown.at, grown, _tilt(task, grown.at, grown))


def nearest(task: Task, at: At, tab: bool) -> Place | None:
    """The place nearest to a point; with a tab if that is too far from it."""
    room = _room(task)
    if not room.is_empty:
        way = shapely.shortest_line(room, Point(at))
        if way.length <= task.half or not tab:
            x, y = shapely.get_coordinates(way)[0].tolist()
            return Place((x, y), None, _tilt(task, (x, y), None))
    return _tab_at(task, at[0], task.shape.bounds[1]) if tab else None


def _centre(task: Task, at: At, tab: Tab | None) -> At:
    """The centroid of shape and tab less the hole, from their areas and own centroids."""
    cut = affinity.translate(task.cut, *at)
    parts = [(1.0, task.shape), (-1.0, cut)] + ([(1.0, tab.added)] if tab else [])
    area = sum(sign * part.area for sign, part in parts)
    x = sum(sign * part.area * part.centroid.x for sign, part in parts) / area
    y = sum(sign * part.area * part.centroid.y for sign, part in parts) / area
    return x, y


def _tilt(task: Task, at: At, tab: Tab | None) -> float:
    x, y = _centre(task, at, tab)
    return abs(degrees(atan2(at[0] - x, at[1] - y)))

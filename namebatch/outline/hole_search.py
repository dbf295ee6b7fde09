"""The search for a hole's place, in a frame that is turned so that up is up. Lengths in mm."""

import numpy as np
import shapely
from shapely import LineString, Point

from namebatch.curves import Point as At
from namebatch.outline.hole_task import CHEAP, ENOUGH_DEG, Place, Task, edge_above, tilt_of
from namebatch.outline.room import room_for
from namebatch.outline.tab_search import tab_at, with_tab

CLOSE = 3.0
"""A hole is near the edge if its centre lies within this many times half its width and wall."""

INK_MM = 0.5
"""Kept between a hole and the lettering, where there is room."""


def above_centre(task: Task, tab: bool) -> Place | None:
    """The best place for hanging straight, or None."""
    room = _room(task)
    inside = _on_line(task, room)
    if inside is not None and _is_near(task, inside.at):
        return inside
    grown = with_tab(task) if tab else None
    if grown is not None and grown.tilt_deg < ENOUGH_DEG and grown.cost(task.half) <= CHEAP:
        return grown
    leaning = None if inside is not None else _leaning(task, room)
    places = [place for place in (inside, grown, leaning) if place is not None]
    return min(places, key=lambda place: place.cost(task.half), default=None)


def nearest(task: Task, at: At, tab: bool) -> Place | None:
    """The place nearest to a point; with a tab if that is too far from it.

    A tab that would fill lettering is grown only where there is no other place at all.
    """
    room = _room(task)
    inside = None
    if not room.is_empty:
        way = shapely.shortest_line(room, Point(at))
        x, y = shapely.get_coordinates(way)[0].tolist()
        inside = Place((x, y), None, tilt_of(task, (x, y), None))
        if way.length <= task.half or not tab:
            return inside
    grown = tab_at(task, at[0], task.shape.bounds[1]) if tab else None
    if grown is not None and (inside is None or grown.filled(task.half) <= CHEAP):
        return grown
    return inside


def _room(task: Task) -> shapely.Geometry:
    return room_for(task.shape, task.length_mm, task.width_mm, task.wall_mm, task.avoid, INK_MM)


def _on_line(task: Task, room: shapely.Geometry) -> Place | None:
    """The highest place straight above the centre of mass.

    Cutting a hole that lies above the centre moves it straight down, so no rounds are needed.
    """
    x, low = float(task.shape.centroid.x), task.least_height
    top = task.shape.bounds[3]
    if room.is_empty or top <= low:
        return None
    free = shapely.intersection(room, LineString([(x, low), (x, top)]))
    if free.is_empty:
        return None
    at = (x, float(free.bounds[3]))
    return Place(at, None, tilt_of(task, at, None))


def _is_near(task: Task, at: At) -> bool:
    """True if the shape's edge is not far above a place."""
    above = edge_above(task.shape, at[0])
    return above is not None and above - at[1] <= CLOSE * task.half


def _leaning(task: Task, room: shapely.Geometry) -> Place | None:
    """The place with the least tilt above the centre of mass.

    The tangent of the tilt is a quotient of linear terms, so its least value over a polygon
    is at a corner.
    """
    above = shapely.get_coordinates(room)
    above = above[above[:, 1] >= task.least_height]
    if len(above) == 0:
        return None
    mass = task.shape.centroid
    tangents = np.abs(above[:, 0] - mass.x) / (above[:, 1] - mass.y)
    x, y = above[np.lexsort((above[:, 0], tangents.round(9)))[0]].tolist()
    return Place((x, y), None, tilt_of(task, (x, y), None))

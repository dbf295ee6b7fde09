"""The search for a hole's place, in a frame that is turned so that up is up. Lengths in mm."""

from math import radians, tan

import numpy as np
import shapely
from shapely import LineString, Point

from namebatch.curves import Point as At
from namebatch.outline.hole_task import (
    ALIKE_DEG,
    CHEAP,
    ENOUGH_DEG,
    PLAIN_DEG,
    Place,
    Task,
    edge_above,
    tilt_of,
)
from namebatch.outline.room import EVERYWHERE, Asked, room_for
from namebatch.outline.tab_search import tab_at, with_tab

FLAT_MM = 0.5
"""Of places this much below the highest the straightest is taken."""

SAME_MM = 0.003
"""The usual place lies on the rim of its room, which another shape may round differently."""

UPRIGHT_DEG = 2 * PLAIN_DEG
"""Places that lean more are looked for only where no other and no tab will do."""

CLOSE = 3.0
"""A hole is near the edge if its centre lies within this many times half its width and wall."""


def above_centre(task: Task, tab: bool) -> Place | None:
    """The best place for hanging straight, or None.

    A place in the shape as it is, near its edge, goes before a tab unless the shape would be
    seen to lean; and the place in which other pieces have their hole goes before all others.
    """
    plain = straight_inside(task)
    if plain is not None:
        return plain
    grown = with_tab(task) if tab else None
    if grown is not None and grown.tilt_deg < ENOUGH_DEG and grown.cost(task.half) <= CHEAP:
        return grown
    room = _room(task, Asked(task.least_height))
    inside = _on_line(task, room) or _leaning(task, room)
    places = [place for place in (inside, grown) if place is not None]
    return min(places, key=lambda place: place.cost(task.half), default=None)


def straight_inside(task: Task) -> Place | None:
    """The best place in the shape as it is, near its edge, that hangs it straight; or None."""
    usual = _usual(task)
    if usual is not None:
        return usual
    room = _room(task, _upright(task))
    inside = _on_line(task, room)
    if inside is not None and is_near(task, inside.at):
        return inside
    plain = _leaning(task, room, PLAIN_DEG)
    if plain is not None and plain.tilt_deg < PLAIN_DEG and is_near(task, plain.at):
        return plain
    return None


def nearest(task: Task, at: At, tab: bool) -> Place | None:
    """The place nearest to a point; with a tab if that is too far from it.

    A tab that would fill lettering is grown only where there is no other place at all.
    """
    room = _room(task, EVERYWHERE)
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


def _upright(task: Task) -> Asked:
    """Where a hole hangs the shape so straight that it is taken for that."""
    x, y = task.shape.centroid.x, task.shape.centroid.y
    aside = tan(radians(UPRIGHT_DEG)) * (task.shape.bounds[3] - y)
    return Asked(task.least_height, x - aside, x + aside)


def _room(task: Task, asked: Asked) -> shapely.Geometry:
    return room_for(
        task.shape, task.length_mm, task.width_mm, task.wall_mm, task.avoid, task.clear_mm, asked
    )


def _usual(task: Task) -> Place | None:
    """The usual place, if it is free and the shape hangs straight enough by it."""
    if task.usual is None:
        return None
    x, y = task.usual
    room = _room(task, Asked(y - SAME_MM, x - SAME_MM, x + SAME_MM))
    if not shapely.intersects(room, Point(x, y).buffer(SAME_MM)):
        return None
    place = Place(task.usual, None, tilt_of(task, task.usual, None))
    return place if place.tilt_deg < ALIKE_DEG else None


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


def is_near(task: Task, at: At) -> bool:
    """True if the shape's edge is not far above a place."""
    above = edge_above(task.shape, at[0])
    return above is not None and above - at[1] <= CLOSE * task.half


def _leaning(task: Task, room: shapely.Geometry, enough_deg: float = 0.0) -> Place | None:
    """The place with the least tilt above the centre of mass; near the edge where that is enough.

    The tangent of the tilt is a quotient of linear terms, so its least value over a polygon
    is at a corner.
    """
    above = shapely.get_coordinates(room)
    above = above[above[:, 1] >= task.least_height]
    if len(above) == 0:
        return None
    mass = task.shape.centroid
    tangents = np.abs(above[:, 0] - mass.x) / (above[:, 1] - mass.y)
    straight = tangents < np.tan(np.radians(enough_deg))
    if straight.any():
        straight &= above[:, 1] > above[straight, 1].max() - FLAT_MM
        above, tangents = above[straight], tangents[straight]
    x, y = above[np.lexsort((above[:, 0], tangents.round(9)))[0]].tolist()
    return Place((x, y), None, tilt_of(task, (x, y), None))

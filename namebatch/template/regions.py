"""Where the ink of a text box may be: regions of arcs and lines, and more room for them. In mm."""

from dataclasses import replace
from math import ceil, cos, radians, sin

import numpy as np
import shapely
from shapely import LineString, Polygon

from namebatch.template.guide import LEAST_STRETCH, Floats, guide_along
from namebatch.template.textbox import AlongPath, Arc, SafeArea, TextBox

Bounds = tuple[float, float, float, float]
Room = tuple[float, float]
CLOSEST = 0.25
"""Ink stays so far from the centre of its arc, as a share of the radius."""
DEGREES = 0.5
"""From corner to corner of a region along an arc."""
SHARES = 8
"""More room along a line is given in so many steps."""


def region_of(box: TextBox) -> shapely.Geometry:
    """The area that the ink of a box may take, as one sees its face."""
    place = box.place
    if isinstance(place, SafeArea):
        return place.area
    if isinstance(place, Arc):
        return sector(place, place.room_mm)
    if isinstance(place, AlongPath):
        return strip_along(place.line, place.room_mm)
    x, y, width, height = box.box_mm
    return shapely.box(x, y, x + width, y + height)


def sector(arc: Arc, room: Room) -> Polygon:
    """The part of a ring along an arc, so far below and above the baseline; drawn round it."""
    below, above = room
    out, into = (above, below) if arc.side == "outside" else (below, above)
    steps = ceil(arc.sweep_deg / DEGREES)
    half = radians(arc.sweep_deg) / 2
    angle = radians(arc.middle_deg) + np.linspace(-half, half, steps + 1)
    ray = np.column_stack([np.cos(angle), np.sin(angle)])
    # chords of the outer side lie outside of the ring, not inside
    outer = ray * (arc.radius_mm + out) / np.cos(half / steps) + arc.centre_mm
    inner = ray * (arc.radius_mm - into) + arc.centre_mm
    if arc.sweep_deg >= 360:
        return Polygon(outer[:-1], [inner[:-1]])
    return Polygon(np.concatenate([outer, inner[::-1]]))


def strip_along(line: LineString, room: Room) -> shapely.Geometry:
    """What lies so far below and above a line."""
    return shapely.make_valid(guide_along(line, room).strip(*room), method="structure")


def bounds_of_arc(arc: Arc, room: Room) -> Bounds:
    """The box round the sector of a ring: its corners, and where it crosses the axes."""
    below, above = room
    out, into = (above, below) if arc.side == "outside" else (below, above)
    begin, end = arc.middle_deg - arc.sweep_deg / 2, arc.middle_deg + arc.sweep_deg / 2
    quarters = [90.0 * k for k in range(-12, 13) if begin < 90.0 * k < end]
    points = [
        (arc.centre_mm[0] + r * cos(radians(a)), arc.centre_mm[1] + r * sin(radians(a)))
        for a in (begin, end, *quarters)
        for r in (arc.radius_mm - into, arc.radius_mm + out)
    ]
    return box_round(np.array(points))


def with_room(box: TextBox, wanted: Room) -> TextBox:
    """A box on an arc or a line whose letters get more room, as far as there is.

    On an arc the room ends short of the centre, along a line where it would fold, and on both
    where the place says that its base ends.

    Args:
        box: with the room that its template was read with.
        wanted: below and above the baseline; less than there is changes nothing.
    """
    place = box.place
    if not isinstance(place, Arc | AlongPath):
        return box
    least = place.room_mm
    wanted = max(least[0], wanted[0]), max(least[1], wanted[1])
    if place.most_mm is not None:
        wanted = min(place.most_mm[0], wanted[0]), min(place.most_mm[1], wanted[1])
    if isinstance(place, Arc):
        most = max((1 - CLOSEST) * place.radius_mm, least[place.side == "inside"])
        below, above = wanted
        room = (min(below, most), above) if place.side == "outside" else (below, min(above, most))
    else:
        room = _along(place.line, least, wanted)
    return room_set(box, room)


def room_set(box: TextBox, room: Room) -> TextBox:
    """A box on an arc or a line with so much room below and above the baseline."""
    place = box.place
    if isinstance(place, Arc):
        bounds = bounds_of_arc(place, room)
    elif isinstance(place, AlongPath):
        bounds = box_round(shapely.get_coordinates(guide_along(place.line, room).strip(*room)))
    else:
        return box
    return replace(box, box_mm=bounds, place=replace(place, room_mm=room))


def fold_at(line: LineString, room: Room) -> tuple[int, tuple[float, float]] | None:
    """Where room along a line would fold: 1 above it or -1 below, and the point; None: nowhere."""
    guide = guide_along(line, room)
    for sign, height in ((1, room[1]), (-1, room[0])):
        stretch = guide.stretch(sign * height)
        worst = int(np.argmin(stretch))
        if stretch[worst] < LEAST_STRETCH:
            return sign, (float(guide.points[worst, 0]), float(guide.points[worst, 1]))
    return None


def meets_itself(line: LineString, room: Room) -> bool:
    """Whether room along an open line comes too near itself."""
    return not line.is_closed and not guide_along(line, room).strip(*room).is_valid


def box_round(points: Floats) -> Bounds:
    """X, y, width and height of the box round points."""
    x0, y0 = points.min(axis=0)
    x1, y1 = points.max(axis=0)
    return float(x0), float(y0), float(x1 - x0), float(y1 - y0)


def _along(line: LineString, least: Room, wanted: Room) -> Room:
    """The most of the room wanted that neither folds nor meets itself."""
    for step in range(SHARES, 0, -1):
        share = step / SHARES
        room = (
            least[0] + share * (wanted[0] - least[0]),
            least[1] + share * (wanted[1] - least[1]),
        )
        if fold_at(line, room) is None and not meets_itself(line, room):
            return room
    return least

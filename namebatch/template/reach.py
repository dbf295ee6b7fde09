"""Arcs and lines on their base: how much room it leaves letters there, and where it ends. In mm."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import floor
from typing import Final

import shapely
from shapely import Polygon
from shapely.affinity import affine_transform

from namebatch.finding import Finding, warn
from namebatch.template.model import Rule
from namebatch.template.regions import Room, room_set, sector, strip_along
from namebatch.template.textbox import AlongPath, Arc, TextBox

EDGE_MM: Final = 1.5
"""Letters whose room is not given keep so far off edges and holes, where that leaves enough: the
least width of 3 mm plywood (example value of the built-in workshop)."""
HIGHEST: Final = 4.0
"""No typeface wants more room on one side of a baseline, in heights of capitals."""
HALVINGS: Final = 12
LEAVES_MM: Final = 0.1
"""A place that leaves its base by less is not told."""
LEAST_SHARE: Final = 0.02
"""Of a place, how much must lie off the base to be told: less is a corner, which centred letters
hardly reach."""


def ground_of(box: TextBox, rule: Rule, base: Polygon) -> Polygon | None:
    """What the letters of a box have to stay on, as one sees its face; None: they may leave it.

    Args:
        box: as the template has it.
        rule: of the outline.
        base: with its holes, from its corner; empty where there is none.
    """
    free = rule == "weld" or (rule == "contour" and box.face == "front")
    if free or box.made == "outline" or base.is_empty:
        return None
    if box.face == "front":
        return base
    return affine_transform(base, (-1, 0, 0, 1, base.bounds[2], 0))


def within_base(box: TextBox, base: Polygon | None) -> TextBox:
    """A box on an arc or a line whose letters take no more room than its base has.

    Nothing changes where the template gives the room, or where even the smallest letters would
    leave the base; that is told (`beyond`).

    Args:
        box: as the template has it.
        base: what the letters have to stay on, or None.
    """
    place = box.place
    if base is None or not isinstance(place, Arc | AlongPath) or place.room_given:
        return box
    least = box.min_height_mm
    grounds = (shapely.buffer(base, -EDGE_MM, quad_segs=32), base)
    ground = next((g for g in grounds if g.covers(_region(place, (0.0, least)))), None)
    if ground is None:
        return box
    highest = HIGHEST * box.max_height_mm
    below = _most(lambda h: ground.covers(_region(place, (h, 0.0))), 0.0, highest)
    above = _most(lambda h: ground.covers(_region(place, (0.0, h))), least, highest)
    room = min(place.room_mm[0], below), min(place.room_mm[1], above)
    return room_set(replace(box, place=replace(place, most_mm=(below, above))), room)


def beyond(boxes: Sequence[TextBox], grounds: Sequence[Polygon | None]) -> tuple[Finding, ...]:
    """A warning for each arc or line along which letters may come to lie off the base.

    Args:
        boxes: of a template.
        grounds: of each what its letters have to stay on, or None.
    """
    found = []
    for box, ground in zip(boxes, grounds, strict=True):
        place = box.place
        if ground is None or not isinstance(place, Arc | AlongPath):
            continue
        room = place.room_mm if place.room_given else (0.0, box.min_height_mm)
        region = _region(place, room)
        off = shapely.difference(region, shapely.buffer(ground, LEAVES_MM))
        if off.area > LEAST_SHARE * region.area:
            found.append(_told(box, place, off))
    return tuple(found)


def _region(place: Arc | AlongPath, room: Room) -> shapely.Geometry:
    return sector(place, room) if isinstance(place, Arc) else strip_along(place.line, room)


def _most(lies_on: Callable[[float], bool], least: float, most: float) -> float:
    """The greatest height that still lies on the ground, by halving; `least` does."""
    if lies_on(most):
        return most
    low, high = least, most
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if lies_on(middle) else (low, middle)
    return floor(1000 * low) / 1000


def _told(box: TextBox, place: Arc | AlongPath, off: shapely.Geometry) -> Finding:
    at = max(shapely.get_parts(off), key=lambda part: float(part.area)).representative_point()
    less = "a smaller sweep_deg or radius_mm" if isinstance(place, Arc) else "a shorter line"
    room = " or less room_mm" if place.room_given else ""
    return warn(
        "place-leaves-base",
        f'The place of the text "{box.name}" reaches over the edge of the base or into a hole '
        f"({box.face}, at x {at.x:.1f}, y {at.y:.1f} mm); a text that comes to stand there is "
        f"held. Give it {less}{room}, or move it inwards.",
    )

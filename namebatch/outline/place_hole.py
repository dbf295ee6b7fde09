"""Where a ring hole or a slot goes so that the piece hangs straight. Lengths in mm.

Everything is worked out in a frame that is turned so that the asked edge is up. A piece hangs
with its centre of mass (of an even sheet: the centroid of its area) straight below the hole.
"""

from dataclasses import dataclass, replace
from functools import partial
from math import atan2, degrees, hypot
from typing import Literal, get_args

import shapely
from shapely import Polygon, affinity

from namebatch.curves import Point as At
from namebatch.errors import OutlineError
from namebatch.finding import Finding, hold
from namebatch.outline.hole_search import INK_MM, above_centre, nearest
from namebatch.outline.hole_task import Place, Task
from namebatch.template.model import Near

SPARE_COST = 0.4
"""To spare a picture's subject a place may cost so much more: a lean of 2°."""

EDGES: tuple[Near, ...] = get_args(Near)


@dataclass(frozen=True, slots=True)
class PlacedHole:
    """A hole in its place.

    Attributes:
        hole: the hole.
        shape: the piece with tab and hole; its wall round the hole is at least the one asked.
        tilt_deg: how far the piece leans from the asked edge up, 0 to 180.
        tab: what was added to the piece for it, root included, the hole cut out; or None.
        over_ink: the hole cuts lettering, because there was no other place.
    """

    hole: Polygon
    shape: Polygon
    tilt_deg: float
    tab: Polygon | None
    over_ink: bool


def place_hole(
    shape: Polygon,
    kind: Literal["round", "slot"],
    width_mm: float,
    near: Near | At,
    wall_mm: float,
    *,
    length_mm: float | None = None,
    tab: bool = True,
    avoid: shapely.Geometry | None = None,
    spare: shapely.Geometry | None = None,
    field: shapely.Geometry | None = None,
    name: str | None = None,
) -> PlacedHole | Finding:
    """Find the place of a hole, and grow a tab for it where the shape has no room.

    Near an edge, the hole goes above the centre of mass and as near to the edge as the wall
    allows. If that is far from the edge or there is no such place, a tab is grown where the
    line through the centre of mass leaves the shape; without `tab`, the place with the least
    tilt is taken. Hanging by a corner, straight means: with that corner of the bounding box
    above the centre of mass. Near a point, the nearest place with enough wall is taken, and
    the tilt is that of the drawing as it stands.

    Args:
        shape: valid; its holes are kept clear of by the wall as well.
        kind: round, or a slot that lies along the edge.
        width_mm: diameter, or the slot's width.
        near: edge, corner, or x and y.
        wall_mm: least material between the hole and every edge.
        length_mm: of a slot, overall.
        tab: whether a tab may be grown.
        avoid: lettering that the hole should not cut.
        spare: what it had better leave alone too: it is kept clear of if the piece then hangs
            almost as straight; not near a point.
        field: letters that are cut, with their counters and gaps: a tab should leave them open.
        name: of the hole, for messages.

    Returns:
        The hole, or a hold when there is no place.

    Raises:
        OutlineError: sizes that make no hole.
    """
    length = width_mm if kind == "round" or length_mm is None else length_mm
    if not (width_mm > 0 and wall_mm >= 0 and length >= width_mm):
        raise OutlineError(
            f"A hole of {length:g} × {width_mm:g} mm with a wall of {wall_mm:g} mm cannot be made; "
            "the width must be above 0 and the length of a slot no less than its width."
        )
    up = _up(shape, near)
    turn = 90.0 - degrees(atan2(up[1], up[0]))
    ink, subject, letters = (_turned(part or Polygon(), turn) for part in (avoid, spare, field))
    clear = shapely.buffer(ink, INK_MM, quad_segs=4)
    task = Task(_turned(shape, turn), length, width_mm, wall_mm, ink, clear, letters)
    place = _searched(task, near, tab, subject)
    if place is not None:
        return _result(shape, task, place, turn, near)
    called = name or f"a hole of {length:g} × {width_mm:g} mm"
    above = "near there" if isinstance(near, tuple) else "above the centre of mass"
    extra = "" if tab else ", or allow a tab"
    return hold(
        "no-room-for-hole",
        f"There is no place for {called} with a wall of {wall_mm:g} mm {above}. "
        f"Take a smaller hole or another edge{extra}.",
    )


def _searched(task: Task, near: Near | At, tab: bool, subject: shapely.Geometry) -> Place | None:
    """The best place off the lettering, and off the picture's subject where that is as good."""
    point = near if isinstance(near, tuple) else None
    find = partial(above_centre, tab=tab) if point is None else partial(nearest, at=point, tab=tab)
    place = find(task)
    if place is None and not task.avoid.is_empty:
        return find(replace(task, avoid=Polygon(), ink=Polygon()))
    if place is None or point is not None or subject.is_empty:
        return place
    if not shapely.intersects(affinity.translate(task.cut, *place.at), subject):
        return place
    both = replace(task, avoid=task.avoid.union(subject), ink=shapely.union(task.ink, subject))
    beside = find(both)
    if beside is None or beside.cost(task.half) > place.cost(task.half) + SPARE_COST:
        return place
    return beside


def tilt_about(shape: Polygon, hole: Polygon, near: Near | At, before: Polygon) -> float:
    """How far a piece leans from the asked edge up, in degrees from 0 to 180.

    Args:
        shape: the finished piece, holes cut out.
        hole: what it hangs by.
        near: as in `place_hole`.
        before: the shape that was given to `place_hole`; a corner is that of its bounding box.
    """
    up, mass, pin = _up(before, near), shape.centroid, hole.centroid
    along = (pin.x - mass.x) * up[0] + (pin.y - mass.y) * up[1]
    across = (pin.y - mass.y) * up[0] - (pin.x - mass.x) * up[1]
    return abs(degrees(atan2(across, along)))


def _up(shape: Polygon, near: Near | At) -> At:
    """The direction, as drawn, that is up when the piece hangs: a unit vector."""
    if not isinstance(near, str):
        return 0.0, 1.0
    if near not in EDGES:
        raise OutlineError(f'A hole cannot be near "{near}"; say one of {", ".join(EDGES)}.')
    if "-" not in near:
        ways: dict[str, At] = {"top": (0, 1), "bottom": (0, -1), "left": (-1, 0), "right": (1, 0)}
        return ways[near]
    x0, y0, x1, y1 = shape.bounds
    mass = shape.centroid
    x = (x0 if near.endswith("left") else x1) - mass.x
    y = (y0 if near.startswith("bottom") else y1) - mass.y
    return x / hypot(x, y), y / hypot(x, y)


def _turned(shape: shapely.Geometry, angle_deg: float) -> shapely.Geometry:
    return affinity.rotate(shape, angle_deg, origin=(0, 0)) if angle_deg else shape


def _result(shape: Polygon, task: Task, place: Place, turn: float, near: Near | At) -> PlacedHole:
    """The place turned back into the frame of the drawing, and the tilt of what came out."""
    cut = affinity.translate(task.cut, *place.at)
    over_ink = bool(shapely.intersects(cut, task.avoid))
    hole = _turned(cut, -turn)
    tab = None if place.tab is None else _turned(place.tab.shape, -turn)
    whole = _pierced(shape if tab is None else shapely.union(shape, tab), hole)
    tilt = tilt_about(whole, hole, near, shape)
    return PlacedHole(hole, whole, tilt, None if tab is None else _pierced(tab, hole), over_ink)


def _pierced(shape: shapely.Geometry, hole: Polygon) -> Polygon:
    """A shape without a hole; the largest part, should crumbs fall off."""
    return max(shapely.get_parts(shapely.difference(shape, hole)), key=lambda part: part.area)

"""Where a ring hole or a slot goes so that the piece hangs straight. Lengths in mm.

Everything is worked out in a frame that is turned so that the asked edge is up. A piece hangs
with its centre of mass (of an even sheet: the centroid of its area) straight below the hole.
"""

from dataclasses import dataclass, replace
from math import atan2, degrees, hypot
from typing import Literal, get_args

import shapely
from shapely import Polygon, affinity

from namebatch.curves import Point as At
from namebatch.errors import OutlineError
from namebatch.finding import Finding, hold
from namebatch.outline.hole_search import INK_MM, Place, Task, above_centre, nearest
from namebatch.template.model import Near

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
    ink = Polygon() if avoid is None else avoid
    up = _up(shape, near)
    turn = 90.0 - degrees(atan2(up[1], up[0]))
    turned = _turned(ink, turn)
    clear = shapely.buffer(turned, INK_MM, quad_segs=4)
    task = Task(_turned(shape, turn), length, width_mm, wall_mm, turned, clear)
    tries = (task,) if ink.is_empty else (task, replace(task, avoid=Polygon(), ink=Polygon()))
    at = near if isinstance(near, tuple) else None
    for tried in tries:
        place = above_centre(tried, tab) if at is None else nearest(tried, at, tab)
        if place is not None:
            return _result(shape, task, place, turn, near)
    extra = "" if tab else " or allow a tab"
    return hold(
        "no-room-for-hole",
        f"There is no place for a hole of {length:g} × {width_mm:g} mm with a wall of "
        f"{wall_mm:g} mm above the centre of mass. Take a smaller hole, another edge{extra}.",
    )


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

"""Where a ring hole or a slot goes so that the piece hangs straight. Lengths in mm.

Everything is worked out in a frame that is turned so that the asked edge is up. A piece hangs
with its centre of mass (of an even sheet: the centroid of its area) straight below the hole.
"""

from dataclasses import dataclass, replace
from math import atan2, degrees, hypot
from typing import Literal, get_args

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.curves import Point as At
from namebatch.errors import OutlineError
from namebatch.finding import Finding, hold
from namebatch.outline.hairs import without_hairs
from namebatch.outline.hang import Hang, hang_by
from namebatch.outline.hole_search import above_centre, nearest, straight_inside
from namebatch.outline.hole_task import LEAN_DEG, Place, Task
from namebatch.template.model import Near

SPARE_COST = 0.4
"""To spare a picture's subject a place may cost so much more: a lean of 2°."""

CLEAR_MM, CLEAR_SHARE = 0.8, 0.25
"""Kept between a hole and the lettering where there is room: so much, and so much of its width."""

LESS = (0.5, 0.25)
"""Where there is not, these shares of that."""

LESS_DEG = 2.0
"""And each step down has to save so much lean."""

LETTER_COST = 3.24
"""So as not to be read as part of a letter it may lie in a place that costs so much more: 5°."""

EDGES: tuple[Near, ...] = get_args(Near)


@dataclass(frozen=True, slots=True)
class PlacedHole:
    """A hole in its place.

    Attributes:
        hole: the hole.
        shape: the piece with tab and hole; its wall round the hole is at least the one asked.
        tilt_deg: how far the piece leans from the asked edge up, 0 to 180.
        tab: what was added to the piece for it, root included, the hole cut out, in parts where
            the hole reaches across it; or None.
        over_ink: the hole cuts lettering, because there was no other place.
    """

    hole: Polygon
    shape: Polygon
    tilt_deg: float
    tab: Polygon | MultiPolygon | None
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
    letters: shapely.Geometry | None = None,
    bare: Polygon | None = None,
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
        letters: those that stand on the shape, with their counters, in which the hole would be
            read as part of one; they may overlap as parts of a collection.
        bare: the shape without its lettering, alike for all pieces of a batch: where its hole
            would lie, that of every piece goes if it is free there and hangs straight enough.
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
    ink, subject, open_letters, hulls = (
        _turned(part or Polygon(), turn) for part in (avoid, spare, field, letters)
    )
    task = Task(_turned(shape, turn), length, width_mm, wall_mm, ink, open_letters)
    if bare is not None and not isinstance(near, tuple):
        alone = above_centre(replace(task, shape=_turned(bare, turn), avoid=Polygon()), tab=False)
        task = replace(task, usual=None if alone is None else alone.at)
    place = _searched(task, near, tab, hulls, subject)
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


def _searched(
    task: Task,
    near: Near | At,
    tab: bool,
    letters: shapely.Geometry,
    subject: shapely.Geometry,
) -> Place | None:
    """The best place off the lettering, and off the picture's subject where that is as good."""
    place = _off_ink(task, near, tab)
    if place is None and not task.avoid.is_empty:
        return _found(task.kept_off(Polygon(), 0.0), near, tab)
    if place is None or isinstance(near, tuple):
        return place
    place = _spared(task, near, tab, letters, place, LETTER_COST)
    return _spared(task, near, tab, subject, place, SPARE_COST)


def _spared(
    task: Task, near: Near, tab: bool, spare: shapely.Geometry, place: Place, more: float
) -> Place:
    """The place, or one off something else as well that costs no more than so much more."""
    clear = _clear_mm(task)
    cut = affinity.translate(task.cut, *place.at)
    if spare.is_empty or not shapely.dwithin(cut, spare, LESS[-1] * clear):
        return place
    both = shapely.union_all([task.avoid, *shapely.get_parts(spare)])
    for share in (1.0, *LESS):
        beside = _found(task.kept_off(both, share * clear), near, tab)
        if beside is not None and beside.cost(task.half) <= place.cost(task.half) + more:
            return beside
    return place


def _off_ink(task: Task, near: Near | At, tab: bool) -> Place | None:
    """The best place off the lettering: at a good distance, and nearer if that is better."""
    clear = _clear_mm(task)
    best = _found(task.kept_off(task.avoid, clear), near, tab)
    if task.avoid.is_empty or (best is not None and best.tab is None and _lean(task, best) < 1):
        return best
    if best is not None and _lean(task, best) < 1:
        closer = task.kept_off(task.avoid, LESS[0] * clear)
        inside = None if isinstance(near, tuple) else straight_inside(closer)
        return best if inside is None or _lean(task, inside) >= 1 else inside
    for number, share in enumerate(LESS, 1):
        other = _found(task.kept_off(task.avoid, share * clear), near, tab)
        if other is None:
            continue
        if best is None or _lean(task, other) + number * LESS_DEG < _lean(task, best):
            best = other
    return best


def _lean(task: Task, place: Place) -> float:
    """What speaks against a place, as a lean in degrees."""
    return LEAN_DEG * float(np.sqrt(place.cost(task.half)))


def _found(task: Task, near: Near | At, tab: bool) -> Place | None:
    return nearest(task, near, tab) if isinstance(near, tuple) else above_centre(task, tab)


def _clear_mm(task: Task) -> float:
    return max(CLEAR_MM, CLEAR_SHARE * task.width_mm)


def hang_about(shape: Polygon, hole: Polygon, near: Near | At, before: Polygon) -> Hang:
    """How a piece hangs that is meant to have the asked edge up.

    Args:
        shape: the finished piece, holes cut out.
        hole: what it hangs by.
        near: as in `place_hole`.
        before: the shape that was given to `place_hole`; a corner is that of its bounding box.
    """
    mass, pin = shape.centroid, hole.centroid
    return hang_by((mass.x, mass.y), (pin.x, pin.y), _up(before, near))


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
    # the tab's root runs along the shape's edge, where the two differ by a rounding
    grown_out = shape if tab is None else without_hairs(_largest(shapely.union(shape, tab)))
    whole = _pierced(grown_out, hole)
    tilt = hang_about(whole, hole, near, shape).tilt_deg
    grown = None if tab is None else shapely.difference(tab, hole)
    return PlacedHole(hole, whole, tilt, grown, over_ink)


def _pierced(shape: shapely.Geometry, hole: Polygon) -> Polygon:
    """A shape without a hole; the largest part, should crumbs fall off."""
    return _largest(shapely.difference(shape, hole))


def _largest(shape: shapely.Geometry) -> Polygon:
    return max(shapely.get_parts(shape), key=lambda part: part.area)

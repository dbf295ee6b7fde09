"""A tab: a rounded ear grown out of a shape's upper edge to carry a hole. Lengths in mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

import shapely
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.curves import Point as At
from namebatch.outline.contour import quarter_chords
from namebatch.outline.tongue import UNSEEN, Ear, tongue_of

STEP = 1 / 8
HIGHEST = 8.0
"""A tab is raised in steps of these shares of its half width, up to so many half widths."""

FILLET = 3.0
"""The flanks' arcs end within this many half widths of the tab."""

FILLETS = (1.0, 0.5, 0.25)
"""Radii of the flanks' arcs in half widths; the first that closes no lettering is taken."""

ROOT_MM = 0.05
"""What is added reaches this far into the shape, so that both become one without a hairline."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab.

    Attributes:
        at: the centre of the hole in it.
        shape: the tab, reaching into the old shape at its root.
        added: the part of it that lies outside of the old shape.
        filled_mm2: how much of the lettering's counters and gaps it fills.
    """

    at: At
    shape: Polygon
    added: Polygon
    filled_mm2: float = 0.0


@dataclass(frozen=True, slots=True)
class Ground:
    """What a tab grows out of.

    Attributes:
        shape: the shape.
        avoid: what the hole is kept clear of.
        clear_mm: by so much.
        field: letters with their counters and gaps, which the tab should leave open.
    """

    shape: Polygon
    avoid: shapely.Geometry
    clear_mm: float
    field: shapely.Geometry


def grow_tab(ground: Ground, ear: Ear, edge: At, low: float = -inf) -> Tab | None:
    """Grow a tab upwards from a point of the edge.

    The ear is the hole grown by its wall, drawn out from the edge, so the wall is as wide as
    asked all round whatever the shape does. Its flanks run into the shape in arcs of half its
    width. It starts with the hole's centre on the edge and is raised until nothing sticks out
    of another edge, the hole is clear of the shape's own holes and of the lettering, and the
    ear fills no gap of the lettering. Where its full width would fill one further down, it
    stands on a slim foot instead, where that fills least.

    Args:
        ground: what it grows out of.
        ear: hole, wall and feet.
        edge: the highest point of the shape at that x.
        low: the hole's centre lies no lower.

    Returns:
        The tab, or None if it would have to be higher than is sensible.
    """
    x, y = edge
    half = ear.half_mm
    reach = half * FILLET + float(ear.ring.bounds[2])
    window = box(x - reach, y - reach, x + reach, y + (HIGHEST + FILLET) * half)
    near = shapely.intersection(Polygon(ground.shape.exterior), window)
    field = _open_in(ground.field, near, window)
    holes = MultiPolygon([Polygon(interior) for interior in ground.shape.interiors])
    best: tuple[float, At] | None = None
    for at in _raised(edge, half):
        if at[1] < low:
            continue
        here = affinity.translate(ear.ring, *at)
        if shapely.intersects(here, holes):
            continue
        if _too_near(ground.avoid, affinity.translate(ear.cut, *at), ground.clear_mm):
            continue
        if _count(shapely.difference(here, near)) > 1:
            continue
        filled = float(shapely.intersection(here, field).area)
        if best is None or filled < best[0]:
            best = filled, at
        if filled <= UNSEEN * half * half:
            break
    if best is None:
        return None
    tongue = tongue_of(near, field, ear, edge, best[1])
    # what lies farther off than the widest fillet reaches plays no part
    x0, y0, x1, y1 = tongue.bounds
    reach = 2 * half
    near = shapely.intersection(near, box(x0 - reach, y0 - reach, x1 + reach, y1 + reach))
    return _rooted(near, tongue, best[1], half, field)


def _too_near(avoid: shapely.Geometry, hole: Polygon, clear_mm: float) -> bool:
    """True if a hole touches something, or comes nearer to it than asked."""
    if avoid.is_empty:
        return False
    if clear_mm <= 0:
        return bool(shapely.intersects(hole, avoid))
    # a search asks this many times: told by distance, without growing all lettering first
    shapely.prepare(avoid)
    return bool(shapely.dwithin(avoid, hole, clear_mm))


def _open_in(field: shapely.Geometry, near: shapely.Geometry, window: Polygon) -> shapely.Geometry:
    """The counters and gaps near a tab: lettering without what is solid."""
    if field.is_empty:
        return field
    return shapely.difference(shapely.intersection(field, window), near)


def _raised(edge: At, half_mm: float) -> Iterator[At]:
    for step in range(round(HIGHEST / STEP) + 1):
        yield edge[0], edge[1] + step * STEP * half_mm


def _count(shape: shapely.Geometry) -> int:
    """Parts that can be seen."""
    return sum(part.area > 1e-6 for part in shapely.get_parts(shape))


def _rooted(
    near: shapely.Geometry, tongue: Polygon, at: At, half_mm: float, field: shapely.Geometry
) -> Tab | None:
    """The tongue with filleted flanks, without what sticks out elsewhere."""
    top = Point(at[0], tongue.bounds[3] - 1e-3)
    beyond = shapely.get_parts(shapely.difference(tongue, near))
    others = [part for part in beyond if not shapely.intersects(part, top)]
    own = shapely.difference(tongue, MultiPolygon(others)) if others else tongue
    least = float(shapely.intersection(own, field).area) + UNSEEN * half_mm**2
    whole, added = own, None
    for share in FILLETS:
        whole = shapely.union(_closed(shapely.union(near, own), share * half_mm), own)
        added = _part_at(shapely.difference(whole, near), top)
        if field.is_empty or added is None or shapely.intersection(added, field).area <= least:
            break
    else:
        whole = shapely.union(near, own)
        added = _part_at(shapely.difference(own, near), top)
    if added is None:
        return None
    # One cut from the joined shape: a tab put together along the old edge would have a seam.
    tab = _part_at(shapely.intersection(whole, shapely.buffer(added, ROOT_MM, quad_segs=2)), top)
    filled = float(shapely.intersection(added, field).area)
    return None if tab is None else Tab(at, tab, added, filled)


def _closed(shape: shapely.Geometry, radius: float) -> shapely.Geometry:
    """Inside corners rounded out by a radius."""
    grown = shapely.buffer(shape, radius, join_style="mitre", mitre_limit=5.0)
    return shapely.buffer(grown, -radius, quad_segs=quarter_chords(radius))


def _part_at(shape: shapely.Geometry, point: Point) -> Polygon | None:
    """The part of a shape that holds a point."""
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and shapely.intersects(part, point):
            return part
    return None

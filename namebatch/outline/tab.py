"""A tab: a rounded ear grown out of a shape's upper edge to carry a hole. Lengths in mm."""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.curves import Point as At
from namebatch.outline.contour import quarter_chords

STEP = 1 / 8
HIGHEST = 8.0
"""A tab is raised in steps of these shares of its half width, up to so many half widths."""

FILLET = 3.0
"""The flanks' arcs end within this many half widths of the tab."""

ROOT_MM = 0.05
"""What is added reaches this far into the shape, so that both become one without a hairline."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A tab.

    Attributes:
        at: the centre of the hole in it.
        shape: the tab, reaching into the old shape at its root.
        added: the part of it that lies outside of the old shape.
    """

    at: At
    shape: Polygon
    added: Polygon


def grow_tab(
    shape: Polygon, ring: Polygon, cut: Polygon, edge: At, half_mm: float, ink: shapely.Geometry
) -> Tab | None:
    """Grow a tab upwards from a point of the edge.

    The ear is the hole grown by its wall, drawn out from the edge, so the wall is as wide as
    asked all round whatever the shape does. Its flanks run into the shape in arcs of half its
    width. It starts with the hole's centre on the edge and is raised until nothing sticks out
    of another edge, and the hole is clear of the shape's own holes and of the lettering.

    Args:
        shape: what it grows out of.
        ring: the hole grown by its wall, about the origin.
        cut: the hole, about the origin.
        edge: the highest point of the shape at that x.
        half_mm: half the height of the ring.
        ink: what the hole must not touch.

    Returns:
        The tab, or None if it would have to be higher than is sensible.
    """
    x, y = edge
    reach = half_mm * FILLET + float(ring.bounds[2])
    window = box(x - reach, y - reach, x + reach, y + (HIGHEST + FILLET) * half_mm)
    near = shapely.intersection(Polygon(shape.exterior), window)
    holes = MultiPolygon([Polygon(interior) for interior in shape.interiors])
    for at in _raised(edge, half_mm):
        here = affinity.translate(ring, *at)
        if shapely.intersects(here, holes):
            continue
        if shapely.intersects(affinity.translate(cut, *at), ink):
            continue
        if _count(shapely.difference(here, near)) > 1:
            continue
        low = affinity.translate(ring, *edge)
        return _rooted(near, shapely.convex_hull(shapely.union(here, low)), at, half_mm)
    return None


def _raised(edge: At, half_mm: float) -> Iterator[At]:
    for step in range(round(HIGHEST / STEP) + 1):
        yield edge[0], edge[1] + step * STEP * half_mm


def _count(shape: shapely.Geometry) -> int:
    """Parts that can be seen."""
    return sum(part.area > 1e-6 for part in shapely.get_parts(shape))


def _rooted(near: shapely.Geometry, tongue: Polygon, at: At, half_mm: float) -> Tab | None:
    """The tongue with filleted flanks, without what sticks out elsewhere."""
    top = Point(at[0], tongue.bounds[3] - 1e-3)
    beyond = shapely.get_parts(shapely.difference(tongue, near))
    others = [part for part in beyond if not shapely.intersects(part, top)]
    own = shapely.difference(tongue, MultiPolygon(others)) if others else tongue
    both = shapely.union(near, own)
    grown = shapely.buffer(both, half_mm, join_style="mitre", mitre_limit=5.0)
    closed = shapely.buffer(grown, -half_mm, quad_segs=quarter_chords(half_mm))
    whole = shapely.union(closed, own)
    added = _part_at(shapely.difference(whole, near), top)
    if added is None:
        return None
    # One cut from the joined shape: a tab put together along the old edge would have a seam.
    tab = _part_at(shapely.intersection(whole, shapely.buffer(added, ROOT_MM, quad_segs=2)), top)
    return None if tab is None else Tab(at, tab, added)


def _part_at(shape: shapely.Geometry, point: Point) -> Polygon | None:
    """The part of a shape that holds a point."""
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and shapely.intersects(part, point):
            return part
    return None

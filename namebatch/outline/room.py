"""Where in a shape a hole with its wall fits: all places of its centre at once. mm."""

import numpy as np
import shapely
from shapely import LineString, Point, Polygon

from namebatch.outline.contour import closing_up, quarter_chords
from namebatch.outline.kept import Kept

ERODE_MORE_MM = 0.004
"""Chords of an erosion lie a little too far out; this keeps the wall on the safe side."""


def hole_shape(length_mm: float, width_mm: float) -> Polygon:
    """A round hole or a lying slot about the origin."""
    radius = width_mm / 2
    reach = (length_mm - width_mm) / 2
    spine = LineString([(-reach, 0), (reach, 0)]) if reach > 0 else Point(0, 0)
    return shapely.buffer(spine, radius, quad_segs=quarter_chords(radius))


def room_for(
    shape: Polygon,
    length_mm: float,
    width_mm: float,
    wall_mm: float,
    avoid: shapely.Geometry,
    ink_mm: float,
    low: float | None = None,
) -> shapely.Geometry:
    """All points at which a hole may have its centre.

    Args:
        shape: what the hole goes into.
        length_mm: of the hole in x.
        width_mm: of the hole in y.
        wall_mm: kept to every edge of the shape.
        avoid: kept clear by `ink_mm`.
        ink_mm: see above.
        low: only centres at this y or higher are asked for; lower ones may be wrong.

    Returns:
        Polygons, empty if the hole fits nowhere.
    """
    radius, reach = width_mm / 2, (length_mm - width_mm) / 2
    far = radius + wall_mm + ERODE_MORE_MM
    # what lies farther below than the wall reaches plays no part
    room = _ROOMS.of(
        shape, (far, low), lambda: _inside(shape if low is None else _above(shape, low - far), far)
    )
    if reach > 0 and not room.is_empty:
        # A slot fits where its middle line does not cross the edge of a round hole's room.
        room = shapely.difference(room, _swept(shapely.boundary(room), reach))
    if room.is_empty or avoid.is_empty:
        return room
    clear = radius + ink_mm
    if low is not None:
        avoid = _above(avoid, low - clear)
    ink = shapely.buffer(closing_up(avoid, clear), clear)
    room = shapely.difference(room, ink)
    return room if reach == 0 else shapely.difference(room, _swept(shapely.boundary(ink), reach))


_ROOMS: Kept[shapely.Geometry] = Kept()
"""Of a shape that lettering or other holes are kept off in several ways."""


def _inside(shape: shapely.Geometry, far_mm: float) -> shapely.Geometry:
    return shapely.buffer(shape, -far_mm, quad_segs=quarter_chords(far_mm))


def _above(shape: shapely.Geometry, low: float) -> shapely.Geometry:
    """The part above a height; what is only touched there may be left a little lower."""
    x0, y0, x1, y1 = shape.bounds
    if y0 >= low:
        return shape
    return shapely.clip_by_rect(shape, x0 - 1, low - 1, x1 + 1, max(y1, low) + 1)


def _swept(lines: shapely.Geometry, reach_mm: float) -> shapely.Geometry:
    """All that lines pass over when they are moved to and fro in x: one parallelogram an edge."""
    swept = []
    for line in shapely.get_parts(lines):
        points = shapely.get_coordinates(line)
        start, end = points[:-1], points[1:]
        rising = np.abs(end[:, 1] - start[:, 1]) > 1e-9
        start, end = start[rising], end[rising]
        way = np.array([reach_mm, 0.0])
        corners = np.stack([start - way, start + way, end + way, end - way], axis=1)
        swept.append(shapely.polygons(corners))
    return shapely.union_all(np.concatenate(swept)) if swept else Polygon()

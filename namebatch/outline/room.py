"""Where in a shape a hole with its wall fits: all places of its centre at once. mm."""

from math import inf
from typing import NamedTuple

import numpy as np
import shapely
from shapely import LineString, Point, Polygon

from namebatch.outline.contour import closing_up, quarter_chords
from namebatch.outline.kept import Kept

ERODE_MORE_MM = 0.004
"""Chords of an erosion lie a little too far out; this keeps the wall on the safe side."""


class Asked(NamedTuple):
    """Where centres are asked for; what is told of others may be wrong.

    Attributes:
        low: lowest y.
        left: least x.
        right: greatest x.
    """

    low: float = -inf
    left: float = -inf
    right: float = inf


EVERYWHERE = Asked()


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
    asked: Asked = EVERYWHERE,
) -> shapely.Geometry:
    """All points at which a hole may have its centre.

    Args:
        shape: what the hole goes into.
        length_mm: of the hole in x.
        width_mm: of the hole in y.
        wall_mm: kept to every edge of the shape.
        avoid: kept clear by `ink_mm`.
        ink_mm: see above.
        asked: the centres that matter.

    Returns:
        Polygons, empty if the hole fits nowhere.
    """
    radius, reach = width_mm / 2, (length_mm - width_mm) / 2
    far = radius + wall_mm + ERODE_MORE_MM
    room = _ROOMS.of(
        shape, (far, reach, asked), lambda: _inside(_near(shape, asked, far, reach), far)
    )
    if reach > 0 and not room.is_empty:
        # A slot fits where its middle line does not cross the edge of a round hole's room.
        room = shapely.difference(room, _swept(shapely.boundary(room), reach))
    if room.is_empty or avoid.is_empty:
        return room
    clear = radius + ink_mm
    ink = shapely.buffer(closing_up(_near(avoid, asked, clear, reach), clear), clear)
    room = shapely.difference(room, ink)
    return room if reach == 0 else shapely.difference(room, _swept(shapely.boundary(ink), reach))


_ROOMS: Kept[shapely.Geometry] = Kept()
"""Of a shape that lettering or other holes are kept off in several ways."""


def _inside(shape: shapely.Geometry, far_mm: float) -> shapely.Geometry:
    return shapely.buffer(shape, -far_mm, quad_segs=quarter_chords(far_mm))


def _near(shape: shapely.Geometry, asked: Asked, far: float, reach: float) -> shapely.Geometry:
    """The part of a shape near enough to matter; its edges there lie a little farther off."""
    x0, y0, x1, y1 = shape.bounds
    low, aside = asked.low - far - 1, far + reach + 1
    left, right = max(x0, asked.left - aside), min(x1, asked.right + aside)
    if low < y0 and left == x0 and right == x1:
        return shape
    if left > right or low > y1:
        return Polygon()
    # its own edges are not touched by those of the rectangle
    left, right = left - (left == x0), right + (right == x1)
    return shapely.clip_by_rect(shape, left, max(y0 - 1, low), right, y1 + 1)


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

"""Where a hole with its wall fits: all places, and only those."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline.room import EVERYWHERE, Asked, room_for

SHAPE = (
    box(0, 0, 60, 30).union(Point(50, 28).buffer(9, quad_segs=40)).difference(box(20, 8, 24, 31))
)
INK = MultiPolygon([box(4, 16, 10, 20), box(34, 3, 40, 9)])


def _is_free(at: Point, length: float, width: float, wall: float, clear: float) -> float:
    """How much more room than asked a hole at a place has; below 0 where it has too little."""
    reach = (length - width) / 2
    spine = shapely.LineString([(at.x - reach, at.y), (at.x + reach, at.y)]) if reach else at
    inside = float(shapely.distance(spine, SHAPE.boundary)) - width / 2 - wall
    off = float(shapely.distance(spine, INK)) - width / 2 - clear
    return min(inside, off) if SHAPE.contains(spine) else -1.0


@pytest.mark.parametrize(("length", "width"), [(4.0, 4.0), (9.0, 3.0)])
@pytest.mark.parametrize(
    "asked",
    [
        EVERYWHERE,
        Asked(5.0),
        Asked(14.0),
        Asked(22.5),
        Asked(left=30, right=44),
        Asked(12.0, 3.0, 20.0),
        Asked(right=12.0),
    ],
)
def test_all_places_and_only_those(length: float, width: float, asked: Asked) -> None:
    """Against distances at places half a millimetre apart, as far as they are asked for."""
    room = room_for(SHAPE, length, width, 2.0, INK, 1.0, asked)
    checked = 0
    for x in np.arange(0.25, 60, 0.5):
        for y in np.arange(0.25, 38, 0.5):
            more = _is_free(Point(x, y), length, width, 2.0, 1.0)
            if abs(more) < 0.02 or y < asked.low or not asked.left <= x <= asked.right:
                continue
            assert bool(shapely.intersects(room, Point(x, y))) == (more > 0), (x, y, more)
            checked += more > 0
    assert checked > 20


def test_no_room_is_empty() -> None:
    """A hole larger than the shape has no place, whatever is asked."""
    for asked in (EVERYWHERE, Asked(0.0), Asked(100.0), Asked(left=100.0), Asked(right=-100.0)):
        assert room_for(box(0, 0, 5, 5), 4.0, 4.0, 2.0, Polygon(), 0.0, asked).is_empty

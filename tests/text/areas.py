"""Areas for the tests of fitting text."""

import shapely
from shapely import Point, Polygon

KITE = Polygon([(18, 56), (36, 36), (18, 0), (0, 36)]).difference(Point(18, 45).buffer(2.5, 32))
TAG = shapely.box(0, 0, 60, 28).difference(Point(7, 14).buffer(3, 32))
MOON = Point(30, 30).buffer(30, 64).difference(Point(42, 36).buffer(24, 64))
AREAS = {
    "kite": KITE.buffer(-2, quad_segs=32),
    "tag": TAG.buffer(-2, quad_segs=32),
    "disc": Point(20, 20).buffer(18, 64),
    "moon": MOON.buffer(-1),
}
ELL = Polygon([(0, 0), (80, 0), (80, 24), (24, 24), (24, 70), (0, 70)])

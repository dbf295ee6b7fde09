"""Lines and arcs through a map, against points of the true arcs."""

from math import atan, cos, hypot, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as Place

from namebatch.curves import Affine, Point, apply
from namebatch.registration import moved, moved_points
from namebatch.registration.moving import TOLERANCE_MM
from tests.registration.sheets import laid

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def along(points: tuple[Point, ...], bulges: tuple[float, ...], fine: int = 400) -> list[Point]:
    """Points along a closed line, worked out from centre and angle of each arc."""
    found: list[Point] = []
    for index, (x0, y0) in enumerate(points):
        x1, y1 = points[(index + 1) % len(points)]
        bulge = bulges[index] if bulges else 0.0
        if abs(bulge) < 1e-9:
            steps = np.linspace(0, 1, fine, endpoint=False)
            found += [(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t) for t in steps]
            continue
        angle = 4 * atan(bulge)
        radius = hypot(x1 - x0, y1 - y0) / (2 * sin(abs(angle) / 2))
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        away = radius * cos(angle / 2) * (1 if bulge > 0 else -1) / hypot(x1 - x0, y1 - y0)
        cx, cy = middle[0] - (y1 - y0) * away, middle[1] + (x1 - x0) * away
        start = np.arctan2(y0 - cy, x0 - cx)
        turns = start + np.linspace(0, angle, fine, endpoint=False)
        found += [(cx + radius * cos(t), cy + radius * sin(t)) for t in turns]
    return found


def farthest(points: list[Point], others: list[Point]) -> float:
    """The largest distance of a point from a fine polygon of others."""
    ring = LineString([*others, others[0]])
    return max(float(ring.distance(Place(point))) for point in points)


def test_straight_lines_are_moved_corner_by_corner() -> None:
    """Without arcs nothing is added."""
    true = laid(scale=(0.997, 1.002))
    points, bulges = moved(SQUARE, (), true)
    assert points == moved_points(SQUARE, true)
    assert bulges == ()


def test_under_a_similarity_arcs_stay_what_they_are() -> None:
    """As many points as before, the very same bulges."""
    given_bulges = (0.3, -0.2, 0.0, 1.0)
    points, bulges = moved(SQUARE, given_bulges, laid(12.0, (1.003, 1.003)))
    assert len(points) == 4
    assert bulges == given_bulges


@pytest.mark.parametrize("radius", [0.2, 3.0, 20.0, 140.0])
@pytest.mark.parametrize("scale", [(0.997, 1.002), (0.97, 1.03)])
def test_a_circle_becomes_an_ellipse(radius: float, scale: tuple[float, float]) -> None:
    """Every point of the new arcs lies on the ellipse within the tolerance, and the other way."""
    circle = ((radius, 0.0), (-radius, 0.0))
    true = laid(33.0, scale, 0.001)
    points, bulges = moved(circle, (1.0, 1.0), true)
    drawn = along(points, bulges)
    wanted = [apply(true, point) for point in along(circle, (1.0, 1.0), 4000)]
    assert farthest(drawn, wanted) < TOLERANCE_MM + 2e-4
    assert farthest(wanted[::20], drawn) < TOLERANCE_MM + 2e-4
    assert len(points) <= 32


@given(
    st.floats(-3.0, 3.0).filter(lambda bulge: abs(bulge) > 1e-4),
    st.floats(0.97, 1.03),
    st.floats(0.97, 1.03),
    st.floats(-0.005, 0.005),
    st.floats(-180, 180),
)
def test_any_arc_is_within_the_tolerance(
    bulge: float, x: float, y: float, skew: float, angle: float
) -> None:
    """Small and large, to the left and to the right, under any map of a printer."""
    line = ((0.0, 0.0), (8.0, 3.0))
    true: Affine = laid(angle, (x, y), skew)
    points, bulges = moved(line, (bulge, 0.0), true)
    wanted = [apply(true, point) for point in along(line, (bulge, 0.0), 500)]
    assert farthest(along(points, bulges, 40), wanted) < TOLERANCE_MM + 1e-3


def test_arcs_flatter_than_the_grid_are_lines() -> None:
    """A bulge that no file can tell from a line is not divided."""
    points, bulges = moved(SQUARE, (1e-6, 0.0, 0.0, 0.0), laid(scale=(0.97, 1.03)))
    assert len(points) == 4
    assert bulges == (0.0, 0.0, 0.0, 0.0)


def test_a_quarter_under_a_mild_stretch_stays_one_arc() -> None:
    """A corner of 3 mm stretched by half a percent needs no more pieces than it had."""
    quarter = tan(pi / 8)
    points, bulges = moved(((3.0, 0.0), (0.0, 3.0)), (quarter, 0.0), laid(scale=(0.997, 1.002)))
    assert len(points) == 2
    assert bulges[0] == pytest.approx(quarter, rel=0.01)

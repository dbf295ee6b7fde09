"""Lines by their length: points, normals, and how much longer a parallel line is."""

import numpy as np
import pytest
from shapely import LineString, Point

from namebatch.template.guide import guide_along, sharpest_corner

ROOM = (3.0, 8.0)


def circle(radius: float, clockwise: bool) -> LineString:
    """Half a circle about the origin, from nine to three o'clock over the top, or back."""
    angle = np.linspace(np.pi, 0, 5000)
    line = LineString(radius * np.column_stack([np.cos(angle), np.sin(angle)]))
    return line if clockwise else line.reverse()


@pytest.mark.parametrize("clockwise", [True, False])
def test_normals_of_a_circle_point_along_its_radius(clockwise: bool) -> None:
    """Closed form: clockwise, left is away from the centre; the other way round towards it."""
    guide = guide_along(circle(20.0, clockwise), ROOM)
    inner = slice(30, -30)
    radial = guide.points / np.hypot(*guide.points.T)[:, None]
    sign = 1 if clockwise else -1
    assert np.allclose(guide.normals[inner], sign * radial[inner], atol=1e-3)
    assert guide.length == pytest.approx(20 * np.pi, rel=1e-5)


@pytest.mark.parametrize("height", [-3.0, 4.0, 8.0])
def test_stretch_of_a_circle(height: float) -> None:
    """Closed form: at a height above a circle of radius r a line is 1 + height / r as long."""
    guide = guide_along(circle(20.0, clockwise=True), ROOM)
    assert np.allclose(guide.stretch(height)[30:-30], 1 + height / 20, atol=0.01)


def test_goes_straight_on_beyond_its_ends() -> None:
    """Places before the start and behind the end lie on the tangents."""
    guide = guide_along(LineString([(0, 0), (10, 0)]), ROOM)
    points, normals = guide.frames(np.array([-2.0, 5.0, 13.0]))
    assert np.allclose(points, [(-2, 0), (5, 0), (13, 0)])
    assert np.allclose(normals, [(0, 1)] * 3)


def test_strip_of_a_straight_line_is_a_rectangle() -> None:
    """Closed form: its area is length times height."""
    strip = guide_along(LineString([(0, 0), (10, 0)]), ROOM).strip(1.0, 4.0)
    assert strip.area == pytest.approx(50)
    assert strip.bounds == pytest.approx((0, -1, 10, 4))


def test_closed_line_turns_smoothly_over_its_seam() -> None:
    """The normals at the end are those at the beginning."""
    guide = guide_along(LineString(Point(0, 0).buffer(10, 256).exterior), ROOM)
    assert np.allclose(guide.normals[0], guide.normals[-1], atol=1e-6)
    assert np.allclose(guide.normals[0], guide.points[0] / 10, atol=2e-3)


def test_sharpest_corner_is_found() -> None:
    """The turn of a corner, and where it is; a closed line has one at its seam too."""
    turn, at = sharpest_corner(LineString([(0, 0), (10, 0), (20, 10), (30, 11)]))
    assert turn == pytest.approx(45)
    assert at == (10, 0)
    turn, _ = sharpest_corner(LineString([(0, 0), (10, 0), (10, 10), (0, 0)]))
    assert turn == pytest.approx(135)

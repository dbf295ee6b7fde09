"""The narrowest neck: value and place, against shapes whose neck is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Voronoi
from shapely import Point, Polygon, box, contains_xy, get_coordinates, segmentize

from namebatch.outline.necks import narrowest_neck


def _dumbbell(width: float) -> Polygon:
    """Two squares of 10 mm joined by a bar of the given width, 6 mm long."""
    return box(0, 0, 10, 10) | box(9, 5 - width / 2, 17, 5 + width / 2) | box(16, 0, 26, 10)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.3, 6))
def test_bar_between_two_squares(width: float) -> None:
    """A bar's width is found to 0.02 mm, and the place lies in the bar."""
    neck = narrowest_neck(_dumbbell(width))
    assert neck.width_mm == pytest.approx(width, abs=0.02)
    assert neck.at is not None
    assert 9 <= neck.at[0] <= 17


def test_wall_between_hole_and_edge() -> None:
    """A hole too near the edge is a neck, in the middle of the wall."""
    plate = box(0, 0, 40, 20) - Point(10, 5).buffer(4, quad_segs=90)
    neck = narrowest_neck(plate)
    assert neck.width_mm == pytest.approx(1.0, abs=0.02)
    assert neck.at == pytest.approx((10, 0.5), abs=0.1)


def test_wall_between_two_holes() -> None:
    """Two holes that nearly meet are a neck."""
    plate = box(0, 0, 40, 40) - box(10, 10, 20, 20) - box(21.5, 10, 30, 20)
    assert narrowest_neck(plate).width_mm == pytest.approx(1.5, abs=0.02)


def test_a_disc_has_no_neck_but_its_own_width() -> None:
    """A plain shape is as wide as the widest circle in it."""
    neck = narrowest_neck(Point(0, 0).buffer(7, quad_segs=90))
    assert neck.width_mm == pytest.approx(14, abs=0.02)
    assert neck.at is None


def test_search_stops_at_the_asked_width() -> None:
    """Beyond the width asked for nothing is searched."""
    assert narrowest_neck(box(0, 0, 50, 50), 6.0).width_mm == 6.0


def test_a_tail_is_no_neck() -> None:
    """A thin part that hangs by one end parts nothing."""
    tail = box(0, 0, 20, 20) | box(19, 9.8, 30, 10.2)
    assert narrowest_neck(tail, 6.0).width_mm == 6.0


def test_agrees_with_a_medial_axis() -> None:
    """Bisection on erosions gives what a Voronoi medial axis gives (scipy.spatial).

    The dumbbell's bar is slanted, so that no value is read off the drawing.
    """
    bar = Polygon([(8, 4), (8, 6.2), (18, 9.1), (18, 6.9)])
    shape = box(0, 0, 10, 10) | bar | box(16, 2, 26, 12)
    edge = segmentize(shape.exterior, 0.02)
    points = get_coordinates(edge)[:-1]
    nodes = Voronoi(points).vertices
    nodes = nodes[contains_xy(shape, nodes)]
    inside = nodes[(nodes[:, 0] > 11) & (nodes[:, 0] < 15)]
    radius = np.array([shape.exterior.distance(Point(x, y)) for x, y in inside])
    middle = radius[radius > 0.5]  # branches into the sampled edge have next to no radius
    assert narrowest_neck(shape).width_mm == pytest.approx(2 * middle.min(), abs=0.03)

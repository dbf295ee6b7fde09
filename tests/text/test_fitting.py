"""Fitting convex pieces into areas, against closed forms."""

from itertools import pairwise
from math import sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity

from namebatch.text.fitting import Fit, grown, piece_round, sides_of

TRIANGLE = Polygon([(0, 0), (10, 0), (5, 5 * sqrt(3))])
SQUARE = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
DISC = shapely.get_coordinates(Point(0, 0).buffer(1, 64))[:-1]


def best(points: np.ndarray, area: Polygon, most: float = 1e3) -> Fit:
    """The best fit of one piece from a point inside the area."""
    start = area.point_on_surface()
    return grown(Fit(0.0, start.x, start.y), [piece_round(points, 1e-6)], sides_of(area), most)[-1]


def test_square_in_an_equilateral_triangle() -> None:
    """Closed form: on the base of a triangle of side a stands a square of a·√3 / (2 + √3)."""
    assert best(SQUARE, TRIANGLE).size == pytest.approx(10 * sqrt(3) / (2 + sqrt(3)), rel=1e-6)


def test_disc_in_a_triangle_is_the_incircle() -> None:
    """Closed form: the circle inside a triangle has the radius 2·area / perimeter."""
    found = best(DISC, TRIANGLE)
    assert found.size == pytest.approx(2 * TRIANGLE.area / TRIANGLE.length, rel=1e-3)
    assert (found.x, found.y) == pytest.approx((5, found.size), rel=1e-3)


def test_square_beside_a_hole() -> None:
    """Closed form: between the wall of a box and a square hole in its middle is half the rest."""
    area = shapely.box(0, 0, 30, 30).difference(shapely.box(10, 10, 20, 20))
    assert best(SQUARE, area).size == pytest.approx(10, rel=1e-6)


def test_the_bound_holds() -> None:
    """No size beyond what is of use."""
    assert best(SQUARE, TRIANGLE, most=2.0).size == pytest.approx(2.0)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-3, 3), st.floats(-1, 1)), min_size=3, max_size=9, unique=True),
    st.integers(5, 12),
    st.integers(0, 10**6),
)
def test_pieces_stay_inside_all_the_way(
    points: list[tuple[float, float]], corners: int, seed: int
) -> None:
    """Whatever the piece and the star-shaped area, every fit on the way is inside, and grows."""
    points = [(round(x, 4), round(y, 4)) for x, y in points]  # ink has no subnormal coordinates
    cloud = np.array(points)
    if Polygon(shapely.MultiPoint(points).convex_hull.buffer(0)).area < 0.05:
        return
    dice = np.random.default_rng(seed)
    angle = np.arange(corners) * 2 * np.pi / corners
    radius = dice.uniform(4, 10, corners)
    area = Polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    trail = grown(Fit(0.0, 0.0, 0.0), [piece_round(cloud, 1e-6)], sides_of(area), 1e3)
    hull = shapely.MultiPoint(points).convex_hull
    assert len(trail) > 1
    for fit in trail[1:]:
        ink = affinity.affine_transform(hull, (fit.size, 0, 0, fit.size, fit.x, fit.y))
        assert area.buffer(1e-5).contains(ink)
    assert all(a.size < b.size for a, b in pairwise(trail))

"""Fitting convex pieces into areas, against closed forms and containment."""

from itertools import pairwise
from math import sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity

from namebatch.template.guide import Floats
from namebatch.text.convex import Piece, piece_of
from namebatch.text.fitting import clear, grown, stretches_of, topmost
from namebatch.text.ground import Rules, ground_of, rules_of

TRIANGLE = Polygon([(0, 0), (10, 0), (5, 5 * sqrt(3))])
SQUARE = piece_of(shapely.box(0, 0, 1, 1))
DISC = piece_of(Point(0, 0).buffer(1, 64))
HOLED = shapely.box(0, 0, 30, 30).difference(shapely.box(10, 10, 20, 20))


def rules(piece: Piece, area: Polygon) -> Rules:
    """Of one piece on an area."""
    return rules_of(ground_of(area), piece, (piece,))


def best(piece: Piece, area: Polygon, most: float = 1e3) -> Floats:
    """The best fit from a point inside the area."""
    start = area.point_on_surface()
    return grown(np.array([0.0, start.x, start.y]), rules(piece, area), most)[-1]


def test_square_in_an_equilateral_triangle() -> None:
    """Closed form: on the base of a triangle of side a stands a square of a·√3 / (2 + √3)."""
    size = best(SQUARE, TRIANGLE)[0]
    assert size == pytest.approx(10 * sqrt(3) / (2 + sqrt(3)), rel=1e-6)


def test_disc_in_a_triangle_is_the_incircle() -> None:
    """Closed form: the circle inside a triangle has the radius 2·area / perimeter."""
    size, x, y = best(DISC, TRIANGLE)
    assert size == pytest.approx(2 * TRIANGLE.area / TRIANGLE.length, rel=1e-3)
    assert (x, y) == pytest.approx((5, size), rel=1e-3)


def test_square_beside_a_hole() -> None:
    """Closed form: between the wall of a box and a square hole in its middle is half the rest."""
    assert best(SQUARE, HOLED)[0] == pytest.approx(10, rel=1e-6)


def test_the_bound_holds() -> None:
    """No size beyond what is of use."""
    assert best(SQUARE, TRIANGLE, most=2.0)[0] == pytest.approx(2.0)


def test_the_hull_bounds_what_a_hole_forbids() -> None:
    """Without its hole a box of 30 takes a square of 30; the hole is then in the way."""
    found = topmost(rules(SQUARE, HOLED), 1e3)
    assert found is not None
    assert found[0][0] == pytest.approx(30)
    assert not found[1]


def test_clear_where_nothing_is_in_the_way() -> None:
    """A square of 9 stands clear of the hole in the corner, and not over it."""
    both = rules(SQUARE, HOLED)
    assert clear(both, np.array([9.0, 0.5, 0.5]))
    assert not clear(both, np.array([9.0, 5.0, 5.0]))


def test_stretches_beside_a_hole() -> None:
    """A square of 4 at y 12 may stand from 0 to 6 and from 20 to 26; above the hole anywhere."""
    both = rules(SQUARE, HOLED)
    found = stretches_of(both.level(12.0), 4.0)
    assert found == pytest.approx(np.array([[0, 6], [20, 26]]))
    assert stretches_of(both.level(21.0), 4.0) == pytest.approx(np.array([[0, 26]]))
    assert len(stretches_of(both.level(27.0), 4.0)) == 0


@settings(max_examples=80, deadline=None)
@given(st.floats(0.2, 8), st.floats(0.1, 29.9))
def test_stretches_are_all_there_is(size: float, y: float) -> None:
    """At every x of a fine row it is inside if and only if a stretch says so."""
    area = HOLED.difference(Point(3, 25).buffer(2, 8))
    found = stretches_of(rules(SQUARE, area).level(y), size)
    for x in np.arange(0.013, 30, 0.37):
        ends = found - x
        if len(found) and np.abs(ends).min() < 1e-6:
            continue
        told = bool(((ends[:, 0] < 0) & (ends[:, 1] > 0)).any())
        assert area.contains(shapely.box(x, y, x + size, y + size)) == told, x


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
    hull = shapely.MultiPoint(points).convex_hull
    if not isinstance(hull, Polygon) or hull.area < 0.05:
        return
    dice = np.random.default_rng(seed)
    angle = np.arange(corners) * 2 * np.pi / corners
    radius = dice.uniform(4, 10, corners)
    area = Polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    trail = grown(np.zeros(3), rules(piece_of(hull), area), 1e3)
    assert len(trail) > 1
    for size, x, y in trail[1:]:
        ink = affinity.affine_transform(hull, (size, 0, 0, size, x, y))
        assert area.buffer(1e-5).contains(ink)
    assert all(a[0] < b[0] for a, b in pairwise(trail))

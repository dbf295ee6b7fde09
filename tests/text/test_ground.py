"""An area as its hull less obstacles, and the inequalities that follow from it."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity

from namebatch.text.convex import piece_of
from namebatch.text.ground import EASED_MM, ground_of, plain_within, rules_of
from tests.text.areas import AREAS


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
def test_the_plain_area_lies_within(area: Polygon) -> None:
    """It is never outside of the area, and no more than twice the easing is lost along its edge."""
    plain = plain_within(area)
    assert area.contains(plain)
    assert plain.buffer(1e-6).contains(area.buffer(-2.1 * EASED_MM))


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
def test_hull_less_obstacles_is_the_area(area: Polygon) -> None:
    """Taken apart and put together again nothing is lost."""
    ground = ground_of(plain_within(area))
    hull = Polygon(ground.hull.corners)
    rest = hull.difference(shapely.union_all([Polygon(o.corners) for o in ground.obstacles]))
    assert rest.symmetric_difference(ground.area).area < 1e-6


def test_nothing_is_left_of_a_sliver() -> None:
    """An area narrower than the easing is empty."""
    assert plain_within(shapely.box(0, 0, 10, EASED_MM)).is_empty


BOX = (
    shapely.box(0, 0, 30, 20)
    .difference(Point(8, 10).buffer(3, 16))
    .difference(Polygon([(20, 20), (26, 20), (23, 12)]))
)


@settings(max_examples=150, deadline=None)
@given(st.floats(0.5, 6), st.floats(0, 30), st.floats(0, 20))
def test_rules_say_what_containment_says(size: float, x: float, y: float) -> None:
    """All inequalities of the hull and one for each obstacle hold if and only if it is inside."""
    shape = Polygon([(-1, -0.5), (1, -0.5), (0.8, 0.5), (-1, 0.5)])
    ground = ground_of(BOX)
    rules = rules_of(ground, piece_of(shape), (piece_of(shape),))
    point = np.array([size, x, y])
    hull = rules.always[:, 3] - rules.always[:, :3] @ point
    gaps = (rules.either[..., 3] - rules.either[..., :3] @ point).max(axis=1)
    least = min(hull.min(), gaps.min())
    placed = affinity.affine_transform(shape, (size, 0, 0, size, x, y))
    if abs(least) > 1e-6:  # else it touches
        assert BOX.contains(placed) == (least > 0)
    level = rules.level(y)
    assert (level.always[:-2, 2] - level.always[:-2, :2] @ point[:2]) == pytest.approx(hull)

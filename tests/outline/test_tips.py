"""Thin parts that hang by one end: known shapes, and erosion as a second method."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box

from namebatch.outline.boundary import boundary_of
from namebatch.outline.chords import necks_below
from namebatch.outline.tails import thin_tips
from namebatch.outline.tips import distances, survey
from tests.outline.real_names import real_names
from tests.outline.rough import comb, spiral

PLATE = box(0, 0, 20, 20)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.2, 1.0), st.floats(0.2, 6), st.floats(0, 90))
def test_a_bar_on_a_plate(width: float, length: float, turn: float) -> None:
    """A bar thinner than 1.2 mm is told if and only if it is longer than the reach.

    Its far corners lie hypot(length, width / 2) from where the bar begins; what is wide enough
    ends 0.6 mm before that.
    """
    shape = PLATE | box(19, 10 - width / 2, 20 + length, 10 + width / 2)
    tips = thin_tips(affinity.rotate(shape, turn, origin=(0, 0)), 1.2, 1.5)
    over = np.hypot(length + 0.6, width / 2) - 0.6 - 1.5
    if abs(over) > 0.2:
        assert bool(tips) == (over > 0)
    if tips:
        end = affinity.rotate(Point(20 + length, 10), turn, origin=(0, 0))
        assert len(tips) == 1
        assert Point(tips[0]).distance(end) < 0.6


@pytest.mark.parametrize(("half_angle", "told"), [(5, True), (10, True), (30, False), (45, False)])
def test_wedges(half_angle: float, told: bool) -> None:
    """A corner stands out by w/2 (1/sin a − 1): told below 14.5° for a reach of 1.5 widths."""
    side = 20 * np.tan(np.radians(half_angle))
    assert bool(thin_tips(Polygon([(0, 0), (20, -side), (20, side)]), 1.2, 1.8)) == told


def test_necks_are_not_tips() -> None:
    """A thin bar held at both ends is a neck."""
    assert thin_tips(PLATE | box(19, 9.8, 31, 10.2) | box(30, 0, 50, 20), 1.2, 1.2) == []


def test_each_tail_is_told_once() -> None:
    """Three tails, three places, in the order of the boundary."""
    shape = PLATE | box(19, 4, 30, 4.5) | box(19, 10, 30, 10.5) | box(-9, 10, 1, 10.5)
    tips = thin_tips(shape, 1.2, 1.2)
    assert len(tips) == 3
    assert {round(x) for x, _ in tips} == {-9, 30}


def test_a_shape_that_is_thin_all_over() -> None:
    """Where nothing is wide enough every end is too far from it."""
    assert thin_tips(box(0, 0, 20, 0.5), 1.2, 1.2)


def test_real_names_against_erosion() -> None:
    """Told if and only if a vertex lies farther from the eroded shape than w/2 and the reach.

    Names with a neck are left out: their necks are far from what an erosion leaves, too.
    """
    seen = 0
    for label, shape in real_names():
        for width in (1.0, 1.5):
            if necks_below(boundary_of(shape), width).shape[0]:
                continue
            eroded = shapely.buffer(shape, -width / 2, quad_segs=32)
            far = shapely.distance(shapely.points(shapely.get_coordinates(shape)), eroded).max()
            if abs(far - 1.5 * width) > 0.05:
                seen += 1
                assert bool(thin_tips(shape, width, width)) == (far > 1.5 * width), label
    assert seen > 10


def test_circles_of_a_survey_lie_inside() -> None:
    """No circle of a survey reaches over the outline by more than its slack."""
    _, shape = next(real_names((20,)))
    s = survey(boundary_of(shape), 0.6)
    middles = shapely.points(s.x + s.radius * s.nx, s.y + s.radius * s.ny)
    assert shapely.contains(shape, middles).all()
    assert (shapely.distance(middles, shape.boundary) > s.radius - 0.0015).all()


@pytest.mark.parametrize("shape", [comb(200), spiral(500)])
def test_the_tree_says_what_looking_says(shape: Polygon) -> None:
    """Whether places are looked at one by one or a tree is asked, the same ones are too far."""
    b = boundary_of(shape)
    s = survey(b, 0.6)
    more = np.array([[3.0, 4.0], [100.0, 15.0]])
    looked, asked = (distances(b, s, 0.6, 1.2, more, (looks, 0)) for looks in (10**12, -1))
    assert np.array_equal(np.where(asked > 1.8, asked, 0.0), np.where(looked > 1.8, looked, 0.0))
    assert (looked > 1.8).any()

"""The line that names of an area share."""

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, affinity

from namebatch.text.ground import ground_of
from namebatch.text.levels import level_at, levels_of
from namebatch.text.search import Level
from tests.text.areas import AREAS, ELL


def first(area: Polygon, most_mm: float = 12.0) -> Level:
    """The line of an area, with names in its middle."""
    return levels_of(ground_of(area), 3.0, most_mm)[0]


@pytest.mark.parametrize("area", [shapely.box(0, 0, 60, 20), Point(30, 10).buffer(20, 32)])
def test_in_the_middle_of_what_is_alike(area: Polygon) -> None:
    """In a rectangle or a disc capitals stand in its middle."""
    found = first(area)
    assert (found.x, found.y) == pytest.approx((30, 10), abs=1e-6)


def test_beside_a_hole_not_above_it() -> None:
    """On a luggage tag names stay at middle height, between its hole and its other end."""
    found = first(AREAS["tag"])
    assert found.y == pytest.approx(14, abs=0.3)
    assert found.x == pytest.approx((12 + 58) / 2, abs=0.3)


def test_where_a_kite_is_wide() -> None:
    """Near the height of its side corners, at 36, and on its axis."""
    found = first(AREAS["kite"])
    assert 32 < found.y < 37
    assert found.x == pytest.approx(18, abs=0.01)


def test_in_the_long_arm_of_an_angle() -> None:
    """Names stand in the arm that is as long as they are."""
    assert 8 < first(ELL).y < 16


@pytest.mark.parametrize("scale", [0.5, 3.0])
def test_it_grows_with_its_area(scale: float) -> None:
    """The same area at another scale, with capitals alike, has its line at the same place."""
    kite = AREAS["kite"]
    larger = affinity.scale(kite, scale, scale, origin=(0, 0))
    found = levels_of(ground_of(larger), 3.0 * scale, 12.0 * scale)[0]
    assert found.y / scale == pytest.approx(first(kite).y, abs=0.01)


def test_names_may_sway_a_little() -> None:
    """The middle has some width, a line by itself has all of it."""
    centred, whole = level_at(ground_of(shapely.box(0, 0, 100, 20)), 10.0, 3.0)
    assert (centred.low, centred.high) == pytest.approx((47, 53), abs=0.1)
    assert whole.low < 0
    assert whole.high > 100


def test_other_lines_for_other_lengths() -> None:
    """Where the shared line does not suit long names there is another for them."""
    cross = shapely.union(shapely.box(25, 0, 75, 60), shapely.box(0, 0, 100, 7))
    heights = [level.y for level in levels_of(ground_of(cross), 2.0, 20.0)]
    assert heights[0] == heights[1]
    assert min(heights) < 6
    assert max(heights) > 15
    assert np.diff(sorted(set(heights))).min() >= 1.0

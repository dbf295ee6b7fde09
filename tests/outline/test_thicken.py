"""Local thickening: known shapes, and its promises on real names in eleven faces."""

from math import dist

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.outline.tails import thin_tips
from namebatch.outline.thicken import apart, thicken
from namebatch.outline.thickness import narrowest
from tests.outline.real_names import outline, real_names

NOTHING = MultiPolygon()
WHOLE_MM = 0.005
"""The erosion that proves a width is smaller by this radius, as chords may be."""


def _proven(shape: Polygon, width: float) -> bool:
    """Erosion by shapely, independent of how the thickening looks for necks."""
    eroded = shapely.buffer(shape, -(width / 2 - WHOLE_MM), quad_segs=16)
    parts = [part for part in shapely.get_parts(eroded) if part.area > 1e-4]
    return len(parts) == 1 and len(parts[0].interiors) == len(shape.interiors)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.2, 1.15), st.floats(1.3, 8), st.floats(0, 180))
def test_a_bar_gets_its_width_and_no_more(width: float, length: float, turn: float) -> None:
    """A bar between two plates gets 1.2 mm.

    The area is what was lacking along its length, and fillets where it meets the plates.
    """
    bar = box(9, 5 - width / 2, 11 + length, 5 + width / 2)
    shape = box(0, 0, 10, 10) | bar | box(10 + length, 0, 20 + length, 10)
    shape = affinity.rotate(shape, turn, origin=(0, 0))
    result = thicken(shape, 1.2, NOTHING)
    assert 1.2 <= narrowest(result.shape, 1.2, 4.8).width_mm <= 1.23
    assert _proven(result.shape, 1.2)
    assert result.added_mm2 == pytest.approx((1.224 - width) * length, rel=0.05, abs=0.5)


def test_what_is_wide_enough_stays_the_same_object() -> None:
    """Nothing is copied or touched where nothing is thin."""
    plate = box(0, 0, 30, 20) - Point(10, 10).buffer(3)
    result = thicken(plate, 1.2, NOTHING)
    assert result.shape is plate
    assert result.added_mm2 == 0
    assert result.places == ()


def test_a_tail_is_thickened_to_its_end_and_not_beyond() -> None:
    """A bar that hangs by one end becomes as wide as it must be and hardly longer."""
    shape = box(0, 0, 20, 20) | box(19, 9.8, 30, 10.2)
    result = thicken(shape, 1.2, NOTHING)
    assert thin_tips(result.shape, 1.2, 1.2) == []
    assert result.shape.bounds[2] == pytest.approx(30, abs=0.05)
    assert result.added_mm2 == pytest.approx(10 * (1.224 - 0.4), rel=0.1)


@pytest.mark.parametrize("length", [6.0, 6.1, 6.2, 6.3])
@pytest.mark.parametrize("slant", [0.0, 0.5])
def test_a_tail_ends_round(length: float, slant: float) -> None:
    """The corners at the end of a tail do not stand out of it, wherever it ends."""
    tail = Polygon([(9, 9.7), (20 + length, 9.7), (20 + length - slant, 10.3), (9, 10.3)])
    shape = box(0, 0, 20, 20) | tail
    result = thicken(shape, 1.2, NOTHING)
    core = shapely.buffer(result.shape, -0.59, quad_segs=64)
    wide = shapely.buffer(core, 0.592, quad_segs=64)
    assert shapely.difference(tail, wide).area < 0.01
    assert result.shape.bounds[2] < 20 + length + 0.1


def test_bays_whose_mouths_close_stay_open() -> None:
    """Thin walls have no room beside them: mouths close, the bays behind them do not."""
    wall = box(9.3, 8.6, 9.7, 12) | box(6, 8.6, 9.7, 9) | box(6, 3, 6.4, 9)
    half = wall | box(2, 10, 9, 12) | box(2, 3, 4, 12)
    other = affinity.scale(half, -1, 1, origin=(9.85, 0))
    result = thicken(half | other | box(0, 0, 20, 4), 1.2, NOTHING)
    assert len(result.shape.interiors) == 3
    assert all(Polygon(bay).area > 10 for bay in result.shape.interiors)
    assert result.is_firm
    assert _proven(result.shape, 1.2)


def test_a_pinpoint_neck() -> None:
    """Two plates that meet corner to corner over 0.3 mm are joined by one circle."""
    shape = Polygon([(0, 0), (10, 9.85), (20, 0), (20, 20), (10, 10.15), (0, 20)])
    result = thicken(shape, 1.2, NOTHING)
    assert _proven(result.shape, 1.2)
    assert result.added_mm2 < 1.2


@pytest.mark.parametrize("size", [0.6, 1.0, 3.0])
def test_counters_stay_open(size: float) -> None:
    """Thin walls round a small counter grow outwards: it keeps at least 0.25 mm of width."""
    wall = 0.4
    ring = box(0, 0, size + 2 * wall, size + 2 * wall) - box(wall, wall, size + wall, size + wall)
    shape = ring | box(size + wall, -5, size + 12, 8) - box(wall, wall, size + wall, size + wall)
    result = thicken(shape, 1.2, NOTHING)
    assert len(result.shape.interiors) == 1
    counter = Polygon(result.shape.interiors[0])
    assert 2 * shapely.maximum_inscribed_circle(counter).length >= 0.25
    assert _proven(result.shape, 1.2)


def test_nothing_grows_into_a_hole_that_must_stay() -> None:
    """The wall of a carrying hole gets thicker on the other side only."""
    hole = Point(10, 18).buffer(1.5, quad_segs=64)
    shape = box(0, 0, 20, 20) - hole
    result = thicken(shape, 1.2, MultiPolygon([hole]))
    assert result.shape.intersection(hole).area < 1e-9
    assert _proven(result.shape, 1.2)
    assert result.shape.bounds[3] > 20.5


def test_no_beads_along_a_wall() -> None:
    """A thin ring becomes a ring with an even edge: 0.02 mm in and out at most."""
    ring = Point(0, 0).buffer(8.25, quad_segs=64) - Point(0, 0).buffer(7.75, quad_segs=64)
    result = thicken(ring | box(-3, -20, 3, -8), 1.2, NOTHING).shape
    x, y = shapely.get_coordinates(result.exterior).T
    radius = np.hypot(x, y)[y > 0]
    assert np.ptp(radius) < 0.02
    assert radius.mean() == pytest.approx(8.612, abs=0.02)


@pytest.mark.parametrize("width", [1.0, 1.2, 1.5, 2.0])
def test_real_names(width: float) -> None:
    """Every promise, in eleven faces at 15 and 20 mm.

    One part, valid, no hole lost, nothing removed, no neck and no thin tail left, proven by an
    erosion, and a second pass adds nothing to speak of.
    """
    for label, shape in real_names():
        result = thicken(shape, width, NOTHING)
        made = result.shape
        assert made.is_valid, label
        assert len(made.interiors) >= len(shape.interiors), label
        assert shapely.difference(shape, made).area < 1e-6, label
        assert made.area - shape.area == pytest.approx(result.added_mm2), label
        again = thicken(made, width, NOTHING)
        assert again.added_mm2 <= 0.01 * result.added_mm2 + 1e-6, label
        if width < 2:  # two millimetres are more than a script of 15 mm has room for
            assert narrowest(made, width, 4 * width).width_mm >= width, label
            assert thin_tips(made, width - 0.01, width + 0.01) == [], label
            assert _proven(made, width), label


def test_the_same_shape_gives_the_same_outline() -> None:
    """No order of a set, no chance."""
    shape = outline("Dancing Script Bold", "Zuzana", 15)
    one, two = thicken(shape, 1.2, NOTHING), thicken(shapely.from_wkb(shape.wkb), 1.2, NOTHING)
    assert one.shape.wkb == two.shape.wkb
    assert one.places == two.places


@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), max_size=60), st.floats(0.1, 5))
@example([(2.0, 2.0), (2.0, -2.220446049250313e-16)], 2.0)
def test_places_told_lie_apart(places: list[tuple[float, float]], distance: float) -> None:
    """Of places near to each other the first is told, as comparing all of them would say."""
    expected: list[tuple[float, float]] = []
    for place in places:
        if all(dist(place, other) > distance for other in expected):
            expected.append(place)
    assert apart(places, distance) == tuple(expected)

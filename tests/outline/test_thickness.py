"""The narrowest neck from the boundary: known shapes, a medial axis, and erosions."""

from math import hypot

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Voronoi
from shapely import Point, Polygon, affinity, box

from namebatch.outline.boundary import boundary_of
from namebatch.outline.chords import necks_below
from namebatch.outline.necks import narrowest_neck
from namebatch.outline.thickness import holds_together, narrowest
from tests.outline.real_names import real_names


def _dumbbell(width: float, slant_deg: float = 0.0) -> Polygon:
    """Two squares of 10 mm joined by a bar of the given width, 6 mm long."""
    shape = box(0, 0, 10, 10) | box(9, 5 - width / 2, 17, 5 + width / 2) | box(16, 0, 26, 10)
    return affinity.rotate(shape, slant_deg, origin=(13, 5))


def _whole(shape: Polygon, width: float) -> bool:
    """Erosion by shapely: one part and as many holes; crumbs of a µm are chords, not parts."""
    eroded = shapely.buffer(shape, -width / 2, quad_segs=32)
    parts = [part for part in shapely.get_parts(eroded) if part.area > 1e-4]
    return len(parts) == 1 and len(parts[0].interiors) == len(shape.interiors)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.2, 6), st.floats(0, 180))
def test_bar_between_two_squares(width: float, slant: float) -> None:
    """A bar's width is found to a µm at any slant, and the place lies in the bar."""
    neck = narrowest(_dumbbell(width, slant), 1.2, 8.0)
    assert neck.width_mm == pytest.approx(width, abs=0.001)
    assert neck.at is not None
    assert hypot(neck.at[0] - 13, neck.at[1] - 5) <= 3.01


@settings(max_examples=30, deadline=None)
@given(st.floats(0, 2.5), st.floats(0, 360))
def test_ring_off_centre(offset: float, angle: float) -> None:
    """The wall of a ring of radii 10 and 7 is 3 mm less the offset of its hole."""
    hole = affinity.rotate(Point(offset, 0).buffer(7, quad_segs=90), angle, origin=(0, 0))
    ring = Point(0, 0).buffer(10, quad_segs=90) - hole
    assert narrowest(ring, 1.2, 8.0).width_mm == pytest.approx(3 - offset, abs=0.01)


def test_wall_between_two_holes() -> None:
    """Two holes that nearly meet are a neck, in the middle of their wall."""
    plate = box(0, 0, 40, 40) - box(10, 10, 20, 20) - box(21.5, 10, 30, 20)
    neck = narrowest(plate, 1.2, 8.0)
    assert neck.width_mm == pytest.approx(1.5, abs=1e-6)
    assert neck.at is not None
    assert neck.at[0] == pytest.approx(20.75)


def test_hole_that_touches_the_edge() -> None:
    """A wall of no width at all is found."""
    plate = Polygon(box(0, 0, 20, 20).exterior, [[(5, 0), (8, 5), (2, 5)]])
    assert plate.is_valid
    assert narrowest(plate, 1.2, 8.0).width_mm == pytest.approx(0, abs=1e-6)


def test_tails_and_corners_are_no_necks() -> None:
    """A thin bar that hangs by one end, a wedge and a star's points part nothing."""
    tail = box(0, 0, 20, 20) | box(19, 9.8, 30, 10.2)
    wedge = Polygon([(0, 0), (30, 8), (30, -8)])
    turns = np.linspace(0, 2 * np.pi, 17)[:-1]
    radii = np.where(np.arange(16) % 2, 6.0, 14.0)
    star = Polygon(np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))
    for shape in (tail, wedge, star):
        neck = narrowest(shape, 1.2, 6.0)
        assert neck.width_mm == 6.0
        assert neck.at is None


def test_a_blob_at_the_end_of_a_tail_makes_it_a_neck() -> None:
    """What hangs at a thin place and is wider could break off."""
    shape = box(0, 0, 20, 20) | box(19, 9.8, 26, 10.2) | Point(26, 10).buffer(1)
    assert narrowest(shape, 1.2, 6.0).width_mm == pytest.approx(0.4, abs=0.001)


@pytest.mark.parametrize("end", [0.0, 0.1, 0.2])
def test_a_small_bulge_counts_wherever_it_is(end: float) -> None:
    """A tail wider than its root by 0.1 mm is found, though few places of its edge tell.

    It is the lower end of the 5 in a welded "5%".
    """
    tail = [(12.26, 52.36), (12.26, 53.11), (10 - end, 53.11), (10 - end, 52.35 - end)]
    root = [(10.9, 51.46), (10.78, 51.1), (10.76, 50.84), (10.76, 40)]
    shape = Polygon([(20, 40), (20, 52.36), *tail, *root])
    width = hypot(12.26 - 10.9, 52.36 - 51.46)
    assert not holds_together(shape, width + 0.02)
    assert narrowest(shape, 3.0, 12.0).width_mm == pytest.approx(width, abs=1e-6)


def test_chords_of_a_curve_make_no_neck() -> None:
    """A stroke's end with sides that waver by some µm, as fitted arcs do, has nothing to lose."""
    x = np.linspace(19, 25, 60)
    upper = 10.7 + 0.003 * np.sin(5 * x)
    sides = [*zip(x, upper, strict=True), *zip(x[::-1], 20 - upper[::-1], strict=True)]
    shape = box(0, 0, 20, 20) | Polygon(sides)
    assert len(necks_below(boundary_of(shape), 3.0, bulge_mm=0.001))
    assert narrowest(shape, 3.0, 12.0).at is None


def test_holding_together_is_what_an_erosion_says() -> None:
    """Walls and necks open at their width; a lump that is nowhere so wide does not count."""
    plate = box(0, 0, 40, 40) - box(10, 10, 20, 20) - box(21.5, 10, 30, 20)
    lump = box(0, 0, 20, 20) | box(19, 9.8, 26, 10.2) | Point(26, 10).buffer(1)
    assert [holds_together(plate, width) for width in (1.49, 1.51)] == [True, False]
    assert [holds_together(lump, width) for width in (0.39, 0.41, 2.01)] == [True, False, True]


def test_a_disc_is_as_wide_as_itself() -> None:
    """Without a neck the widest circle inside counts, and there is no place."""
    neck = narrowest(Point(0, 0).buffer(1.5, quad_segs=90), 1.2, 6.0)
    assert neck.width_mm == pytest.approx(3, abs=0.01)
    assert neck.at is None


def test_all_necks_in_order() -> None:
    """Every neck below the width is listed, the narrowest first."""
    shape = box(0, 0, 60, 10)
    for x, width in ((10, 2.0), (25, 1.0), (40, 3.0)):
        shape -= box(x, width / 2 + 5, x + 5, 11) | box(x, -1, x + 5, 5 - width / 2)
    widths = necks_below(boundary_of(shape), 2.5)[:, 0]
    assert set(np.round(widths, 6)) == {1.0, 2.0}
    assert (np.diff(widths) >= 0).all()


def test_agrees_with_a_medial_axis() -> None:
    """The chord is what a Voronoi medial axis gives (scipy.spatial) in a slanted, tapered bar."""
    bar = Polygon([(8, 4), (8, 6.2), (18, 9.1), (18, 6.9)])
    shape = box(0, 0, 10, 10) | bar | box(16, 2, 26, 12)
    nodes = Voronoi(shapely.get_coordinates(shapely.segmentize(shape.exterior, 0.02))[:-1]).vertices
    inside = nodes[(nodes[:, 0] > 11) & (nodes[:, 0] < 15) & shapely.contains_xy(shape, nodes)]
    radius = shapely.distance(shape.exterior, shapely.points(inside))
    middle = radius[radius > 0.5]  # branches into the sampled edge have next to no radius
    assert narrowest(shape, 1.2, 8.0).width_mm == pytest.approx(2 * middle.min(), abs=0.01)


@pytest.mark.parametrize("height", [15, 20])
def test_real_names_against_erosion(height: int) -> None:
    """In eleven faces the outline is whole 0.01 mm below the width found, not just above it."""
    for label, shape in real_names((height,)):
        neck = narrowest(shape, 1.2, 4.8)
        assert _whole(shape, neck.width_mm - 0.01), label
        if neck.at is not None:
            # what parts may be a small bulge that is soon gone: look at several widths
            steps = (0.002, 0.004, 0.008, 0.012, 0.016, 0.02)
            assert not all(_whole(shape, neck.width_mm + step) for step in steps), label


def test_real_names_against_bisection() -> None:
    """Never wider than the bisection finds; narrower only where a bisection jumps over a neck."""
    jumped = 0
    for label, shape in real_names((20,)):
        neck, slow = narrowest(shape, 1.2, 4.8), narrowest_neck(shape, 4.8)
        assert neck.width_mm <= slow.width_mm + 0.02, label
        if neck.width_mm < slow.width_mm - 0.02:
            jumped += 1
            assert not _whole(shape, neck.width_mm + 0.02), label
    assert jumped <= 2


def test_turned_and_mirrored_shapes_agree() -> None:
    """Where a ring begins, which way it runs and how the shape lies change nothing."""
    _, shape = next(real_names((20,)))
    width = narrowest(shape, 1.2, 4.8).width_mm
    for other in (
        affinity.rotate(shape, 33),
        affinity.scale(shape, -1, 1),
        shapely.normalize(shape),
        shapely.reverse(shape),
    ):
        assert narrowest(other, 1.2, 4.8).width_mm == pytest.approx(width, abs=1e-6)

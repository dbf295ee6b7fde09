"""The line round name and base: its distance, its corners, and what it closes."""

from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import ndimage
from shapely import MultiPoint, MultiPolygon, Point, Polygon, affinity, box

from namebatch.errors import OutlineError
from namebatch.outline import Limits, Order, finish
from namebatch.outline.contour import FLOW, MITRE_LIMIT, MOST_POINTS, TooIntricateError, contour
from namebatch.template.model import ContourRule, Corners
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line
from tests.outline.rough import jagged

EVERY: tuple[Corners, ...] = ("round", "mitred", "smooth")
coordinates = st.floats(0, 40, allow_subnormal=False).map(lambda value: round(value, 3))
hulls = st.lists(st.tuples(coordinates, coordinates), min_size=3, max_size=12).map(
    lambda points: MultiPoint(points).convex_hull
)
lumps = st.lists(
    st.tuples(coordinates, coordinates, st.floats(0.2, 8), st.booleans()), min_size=1, max_size=8
).map(
    lambda many: shapely.union_all(
        [
            Point(x, y).buffer(r) if round_ else box(x - r, y - r, x + r, y + r)
            for x, y, r, round_ in many
        ]
    )
)


def _name(font: str, text: str, cap_mm: float) -> MultiPolygon:
    face = load_catalogue().open(font)
    return ink_of(set_line(face, text, cap_mm), cap_mm / face.cap_height, 0, 0)


@settings(deadline=None)
@given(hulls, st.floats(0.3, 6), st.floats(0, 3))
def test_area_and_length_round_a_convex_shape(hull: Polygon, d: float, r: float) -> None:
    """Steiner's formulas (Gruber, Convex and Discrete Geometry, 2007, theorem 6.6).

    Area A + P·d + π·d², length P + 2π·d, whatever the inside radius.
    """
    assume(hull.geom_type == "Polygon" and hull.area > 1)
    found = contour(hull, d, "round", r)
    length = hull.length + 2 * pi * d
    assert found.length == pytest.approx(length, abs=0.004 * (1 + len(hull.exterior.coords)))
    area = hull.area + hull.length * d + pi * d * d
    assert found.area == pytest.approx(area, abs=0.003 * length)


@settings(deadline=None)
@given(st.floats(0.1, 6), st.floats(0, 3))
def test_mitred_corners_of_a_rectangle(d: float, r: float) -> None:
    """A rectangle stays one, larger by twice the distance."""
    found = contour(box(0, 0, 30, 20), d, "mitred", r)
    assert found.area == pytest.approx((30 + 2 * d) * (20 + 2 * d), rel=1e-6)
    assert len(found.exterior.coords) == 5


def test_mitres_are_limited() -> None:
    """A needle's point reaches no farther than the limit."""
    needle = Polygon([(0, 0), (40, -1), (40, 1)])
    found = contour(needle, 2, "mitred")
    assert -2 * MITRE_LIMIT - 0.01 <= found.bounds[0] < -2


@pytest.mark.parametrize("d", [0.5, 2.0])
@pytest.mark.parametrize("r", [0.5, 1.5])
def test_inside_corner_in_closed_form(d: float, r: float) -> None:
    """An L with five corners out and one in, which is filled by r²·(1 − π/4)."""
    ell = box(0, 0, 40, 12) | box(0, 0, 12, 30)
    found = contour(ell, d, "round", r, gap_mm=0)
    area = ell.area + ell.length * d + 5 * pi * d * d / 4 - d * d + r * r * (1 - pi / 4)
    assert found.area == pytest.approx(area, abs=0.003 * ell.length)


@settings(max_examples=60, deadline=None)
@given(lumps, st.floats(0.3, 5), st.floats(0, 3), st.sampled_from(EVERY))
def test_never_nearer_than_the_distance(
    shapes: shapely.Geometry, d: float, r: float, corners: Corners
) -> None:
    """The line keeps the distance everywhere, is valid and has no holes."""
    found = contour(shapes, d, corners, r)
    assert found.is_valid
    assert all(len(part.interiors) == 0 for part in shapely.get_parts(found))
    line = shapely.points(shapely.get_coordinates(shapely.segmentize(found.boundary, 0.5)))
    assert shapely.distance(line, shapes).min() >= d - 0.006


@settings(max_examples=40, deadline=None)
@given(lumps, st.floats(0.3, 5), st.floats(0, 3), st.floats(0, 4))
def test_closing_again_changes_nothing(
    shapes: shapely.Geometry, d: float, r: float, gap: float
) -> None:
    """What is closed by a disc is closed: once more adds nothing but chords' errors."""
    found = contour(shapes, d, "round", r, gap)
    again = contour(found, 0, "round", r, gap)
    assert again.symmetric_difference(found).area <= 0.006 * found.length


@pytest.mark.parametrize(
    ("font", "text"), [("Caveat", "Ångström"), ("Noto Sans Devanagari", "क्षितिज")]
)
@pytest.mark.parametrize("corners", EVERY)
def test_least_inside_radius_on_a_grid(font: str, text: str, corners: Corners) -> None:
    """Second method: on a grid, every outside point lies in a disc of the radius outside.

    The Euclidean distance transform of scipy knows nothing of buffers.
    """
    step, radius = 0.05, 1.0
    found = contour(_name(font, text, 10), 1.5, corners, radius)
    x0, y0, x1, y1 = found.buffer(3).bounds
    y, x = np.mgrid[y0:y1:step, x0:x1:step]
    outside = ~shapely.contains_xy(found, x, y)
    room = ndimage.distance_transform_edt(outside) * step
    middles = room >= radius - 1.5 * step
    reached = ndimage.distance_transform_edt(~middles) * step <= radius + 1.5 * step
    inner = outside[40:-40, 40:-40]  # the edge of the grid counts as no wall
    assert inner.any()
    assert reached[40:-40, 40:-40][inner].all()


@pytest.mark.parametrize("corners", ["round", "mitred"])
def test_gaps_are_closed_up_to_the_width_asked(corners: Corners) -> None:
    """Two plates whose lines would be 1.2 mm apart become one from a gap of 1.2 mm on."""
    plates = box(0, 0, 10, 10) | box(15.2, 0, 25, 10)
    assert len(shapely.get_parts(contour(plates, 2, corners, 0.1, gap_mm=1.1))) == 2
    assert len(shapely.get_parts(contour(plates, 2, corners, 0.1, gap_mm=1.3))) == 1


def test_parts_come_from_left_to_right() -> None:
    """The order does not depend on the order of what is given."""
    plates = [box(40, 0, 45, 5), box(0, 0, 5, 5), box(20, 9, 25, 14)]
    found = contour(MultiPolygon(plates), 1)
    assert [round(part.bounds[0]) for part in shapely.get_parts(found)] == [-1, 19, 39]
    assert found.equals_exact(contour(MultiPolygon(plates[::-1]), 1))


def test_holes_are_filled_but_those_of_a_stated_area() -> None:
    """A ring's middle is filled; with a least area it stays, smaller by the distance."""
    ring = Point(0, 0).buffer(20, 64) - Point(0, 0).buffer(10, 64)
    assert contour(ring, 2).area == pytest.approx(pi * 22**2, rel=0.002)
    kept = contour(ring, 2, least_hole_mm2=pi * 7**2)
    assert kept.area == pytest.approx(pi * (22**2 - 8**2), rel=0.002)
    assert len(contour(ring, 2, least_hole_mm2=pi * 9**2).interiors) == 0


def test_an_island_in_a_filled_hole_is_no_part() -> None:
    """A dot inside a ring vanishes in the filling."""
    ring = Point(0, 0).buffer(20) - Point(0, 0).buffer(15)
    assert contour(ring | Point(0, 0).buffer(3), 1).geom_type == "Polygon"


def test_smooth_flows() -> None:
    """Smoothed, inside corners are as round as twice the distance, outside ones as the round."""
    ell = box(0, 0, 40, 12) | box(0, 0, 12, 30)
    found = contour(ell, 2, "smooth")
    radius = FLOW * 2
    more = found.area - contour(ell, 2, "round", 0, 0).area
    assert more == pytest.approx(radius**2 * (1 - pi / 4), rel=0.02)


def test_turning_and_moving_make_no_difference() -> None:
    """The line turns and moves with what it goes round."""
    name = _name("Pacifico", "Jiří", 10)
    turned = affinity.rotate(affinity.translate(name, 7, -3), 30, origin=(0, 0))
    found = affinity.rotate(affinity.translate(contour(name, 2), 7, -3), 30, origin=(0, 0))
    assert contour(turned, 2).symmetric_difference(found).area < 0.005 * found.length


def test_nothing_gives_nothing() -> None:
    """Round no shapes there is no line."""
    assert contour(Polygon(), 2).is_empty


@pytest.mark.parametrize("sizes", [(-1, 0.5, 1), (1, -0.5, 1), (1, 0.5, -1)])
def test_lengths_below_zero(sizes: tuple[float, float, float]) -> None:
    """A distance, radius or gap below zero is refused."""
    with pytest.raises(OutlineError, match="0 mm or more"):
        contour(box(0, 0, 1, 1), sizes[0], "round", sizes[1], sizes[2])


def test_a_line_that_would_take_all_memory_is_not_begun() -> None:
    """Where buffers are needed, rough shapes of very many corners are refused with the figure."""
    with pytest.raises(TooIntricateError, match=r"have 12,001 corners together"):
        contour(jagged(12_000), 2.0, "mitred")
    assert isinstance(contour(jagged(12_000), 2.0), Polygon)
    assert MOST_POINTS < 12_000


def test_a_row_of_very_many_corners_is_held() -> None:
    """A typeface with edges like sandpaper costs its row, not the job."""
    rule = ContourRule(2.0, "mitred", 0.5, 1.0, None)
    text = MultiPolygon([jagged(12_000)])
    outline = finish(Order("contour", box(0, 0, 60, 20), Limits(1.2), text, contour=rule))
    [finding] = outline.findings
    assert (finding.code, finding.severity) == ("outline-too-intricate", "hold")
    assert "Choose a typeface with smooth edges" in finding.message

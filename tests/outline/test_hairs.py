"""Lines that run out and back along themselves."""

import numpy as np
import pytest
import shapely
from shapely import LineString, Polygon, box

from namebatch.outline import offset_for_kerf
from namebatch.outline.hairs import HAIR_MM, STEP_MM, without_hairs

PLATE = box(0, 0, 40, 20)


@pytest.mark.parametrize("width", [1e-9, 0.001, 0.003])
@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0])
def test_a_hair_goes_and_the_rest_stays(width: float, angle: float) -> None:
    """One of material that leans out of an edge, however thin, and one of air beside it."""
    way = np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
    out = (20 + 0.5 * way[0], 20 + 0.5 * way[1] + width)
    into = (10 + 0.5 * way[0], 20 - 0.5 * way[1] - width)
    corners = [(0, 0), (40, 0), (40, 20), (20 + width, 20), out, (20, 20), (10 + width, 20), into]
    shape = Polygon([*corners, (10, 20), (0, 20)])
    plain = without_hairs(shape)
    assert plain.is_valid
    assert shapely.hausdorff_distance(plain.exterior, PLATE.exterior) <= HAIR_MM
    assert plain.area == pytest.approx(PLATE.area, abs=40 * HAIR_MM)


def test_a_step_goes() -> None:
    """An edge that goes on beside itself by less than anyone could cut."""
    shape = Polygon([(0, 0), (40, 0), (40, 20.0018), (20.0005, 20.0018), (20, 20), (0, 20)])
    plain = without_hairs(shape)
    assert len(plain.exterior.coords) == len(shape.exterior.coords) - 1
    assert shapely.hausdorff_distance(plain.exterior, shape.exterior) <= STEP_MM


def test_what_is_wider_stays() -> None:
    """A slit or a needle that the cutter would show is for others to mend, round holes too."""
    slit = LineString([(20, 20), (20, 15)]).buffer(0.01, cap_style="flat")
    needle = Polygon([(5, 19.9), (5.02, 19.9), (5.01, 24)])
    shape = PLATE.difference(slit).union(needle).difference(shapely.Point(30, 10).buffer(2))
    assert without_hairs(shape) is shape


def test_holes_of_three_corners_stay() -> None:
    """Where a hair goes elsewhere, even the least of rings is kept."""
    corners = [(30.0, 5.0), (33.0, 5.0), (30.0, 9.0)]
    hair = Polygon([(5, 19.9), (5.001, 19.9), (5, 24)])
    plain = without_hairs(PLATE.union(hair).difference(Polygon(corners)))
    assert [Polygon(ring).area for ring in plain.interiors] == [pytest.approx(6.0)]
    assert plain.bounds[3] == pytest.approx(20.0)


def test_a_hair_across_a_hole_does_not_spoil_the_shape() -> None:
    """Where its removal would leave rings that touch, the shape is still one and valid."""
    hole = Polygon([(10, 5), (30, 5), (30, 15), (10, 15)])
    shape = Polygon(PLATE.exterior.coords, [hole.exterior.coords])
    hair = Polygon([(20, 4.9), (20.002, 4.9), (20.001, 14.9)])
    plain = without_hairs(shape.union(hair))
    assert plain.is_valid
    assert shapely.hausdorff_distance(plain, shape) <= STEP_MM


def test_a_line_moved_for_the_kerf_does_not_cross_itself() -> None:
    """The edge of a tab along a contour, as it was in a list of ten thousand names."""
    corners = [(33.49984, 25.20139), (33.6657, 25.15965), (33.78803, 25.126), (33.80525, 25.12127)]
    corners += [(33.83601, 25.1128), (33.88215, 25.10011), (33.88263, 25.10187)]
    corners += [(34.03355, 25.06156), (34.27901, 25.01242), (34.52708, 24.97892)]
    shape = Polygon([*corners, (34.5, 20.0), (33.5, 20.0)])
    moved = offset_for_kerf(without_hairs(shape), (0.18, 0.18))
    assert without_hairs(moved) is moved

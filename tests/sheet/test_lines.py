"""Cut lines of faces: arcs once fitted, then turned, mirrored and moved."""

from math import pi

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, affinity, box

from namebatch.outline import offset_for_kerf
from namebatch.outline.arc_shape import along_ring, ring_area
from namebatch.sheet.lines import cut_bounds, cut_lines, cut_outline
from namebatch.sheet.model import Placement

TAG = (
    box(2, 3, 42, 23).buffer(-3).buffer(3, quad_segs=16).difference(Point(9, 15).buffer(2.5))
).union(affinity.scale(Point(42, 13).buffer(1, quad_segs=24), 9, 5))


@pytest.mark.parametrize("kerf", [(0.0, 0.0), (0.2, 0.2), (0.3, 0.1)])
@pytest.mark.parametrize("turn", [0.0, 90.0, 270.0, 17.0])
@pytest.mark.parametrize("mirrored", [False, True])
def test_every_turn_is_the_offset_outline(
    kerf: tuple[float, float], turn: float, mirrored: bool
) -> None:
    """Lines are within 0.01 mm of the turned outline moved for the kerf, both ways."""
    a, b, c, d, e, f = Placement("", "front", 0, 0, turn, mirrored).outline_affine
    expected = offset_for_kerf(affinity.affine_transform(TAG, (a, c, b, d, e, f)), kerf)
    found = cut_outline(TAG, mirrored, turn, kerf)
    assert len(found.interiors) == 1
    assert shapely.hausdorff_distance(found, expected, densify=0.05) <= 0.0105
    assert found.is_valid
    assert cut_bounds(TAG, mirrored, turn, kerf) == pytest.approx(found.bounds, abs=1e-12)


def test_the_hole_is_two_half_circles() -> None:
    """A ring hole of 5 mm becomes two arcs whose inside is the hole less the kerf."""
    _, hole = cut_lines(TAG, False, 0.0, (0.2, 0.2))
    assert np.abs(hole.bulges).tolist() == [1.0, 1.0]
    assert abs(ring_area(hole.points, hole.bulges)) == pytest.approx(pi * 2.4**2, rel=4e-3)


def test_moved_points_lie_on_the_grid() -> None:
    """Four decimals, no minus zero; what rounding moves is less than the grid."""
    line, _ = cut_lines(TAG, False, 17.0, (0.2, 0.2))
    points, bulges = line.moved(10.00005, -3.1)
    assert all(round(value, 4) == value for point in points for value in point)
    assert "-0.0" not in repr(points)
    there = Polygon(along_ring(points, bulges))
    here = affinity.translate(Polygon(along_ring(line.points, line.bulges)), 10.00005, -3.1)
    assert there.hausdorff_distance(here) < 5e-4


def test_straight_lines_need_no_bulges() -> None:
    """A square's line has none at all."""
    (line,) = cut_lines(box(0, 0, 10, 10), False, 0.0, (0.0, 0.0))
    points, bulges = line.moved(0.0, 0.0)
    assert bulges == ()
    assert set(points) == {(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)}


def test_distance_from_the_true_curve_is_told() -> None:
    """An ellipse flattened within 0.005 mm, its kerf nil: the figure bounds the true distance.

    The distance of a point from the curve is |F|/|grad F| for F = x²/a² + y²/b² − 1, to first
    order.
    """
    a, b, count = 9.0, 5.0, 150
    t = np.arange(count) * 2 * pi / count
    ring = Polygon(np.column_stack([a * np.cos(t), b * np.sin(t)]))
    (line,) = cut_lines(ring, False, 33.0, (0.0, 0.0))
    x, y = along_ring(line.points, line.bulges, 1e-5).T
    c, s = np.cos(np.radians(33.0)), np.sin(np.radians(33.0))
    u, v = c * x + s * y, c * y - s * x
    f = u * u / a**2 + v * v / b**2 - 1
    true = np.abs(f) / (2 * np.hypot(u / a**2, v / b**2))
    assert 0.001 < true.max() <= line.deviation_mm <= 0.0152

"""How a piece hangs."""

import pytest
from shapely import Point, Polygon, box

from namebatch.outline.hang import hang_tilt_deg, tilt_by_holes


def _plate(*holes: tuple[float, float]) -> tuple[Polygon, list[Polygon]]:
    rings = [Point(at).buffer(2) for at in holes]
    plate = box(0, 0, 180, 45)
    for ring in rings:
        plate = plate.difference(ring)
    assert isinstance(plate, Polygon)
    return plate, rings


def test_a_sign_with_two_holes_hangs_level() -> None:
    """By both ends of its upper edge a sign hangs straight, whatever one alone would do."""
    plate, holes = _plate((7, 41), (173, 41))
    assert tilt_by_holes(plate, holes) == pytest.approx(0, abs=1e-9)
    assert hang_tilt_deg(plate, holes[0]) > 5


def test_one_hole_lower_than_the_other_leans() -> None:
    """A rise of 10 mm over 100 mm is 5.71 degrees (arctangent of 0.1)."""
    plate, holes = _plate((40, 41), (140, 31))
    assert tilt_by_holes(plate, holes) == pytest.approx(5.7106, abs=0.001)


def test_two_holes_on_one_side_carry_as_one() -> None:
    """Where the weight does not hang between them the first hole counts."""
    plate, holes = _plate((7, 41), (27, 41))
    assert tilt_by_holes(plate, holes) == hang_tilt_deg(plate, holes[0])

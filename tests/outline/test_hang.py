"""How a piece hangs."""

import pytest
from shapely import Point, Polygon, box

from namebatch.outline.hang import hang_by_hole, hang_by_holes


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
    assert hang_by_holes(plate, holes).tilt_deg == pytest.approx(0, abs=1e-9)
    assert hang_by_hole(plate, holes[0]).tilt_deg > 5


def test_one_hole_lower_than_the_other_leans() -> None:
    """A rise of 10 mm over 100 mm is 5.71 degrees (arctangent of 0.1)."""
    plate, holes = _plate((40, 41), (140, 31))
    assert hang_by_holes(plate, holes).tilt_deg == pytest.approx(5.7106, abs=0.001)


def test_two_holes_on_one_side_carry_as_one() -> None:
    """Where the weight does not hang between them the first hole counts."""
    plate, holes = _plate((7, 41), (27, 41))
    assert hang_by_holes(plate, holes) == hang_by_hole(plate, holes[0])


def test_the_side_to_which_a_piece_leans() -> None:
    """Hung right of its middle a plate turns anticlockwise, its top to the left; and the reverse.

    By hand: the hole is 30 mm beside the centroid and 18.5 above it, less what the hole takes.
    """
    for x, sign in ((120, 1), (60, -1)):
        plate, holes = _plate((x, 41))
        hang = hang_by_hole(plate, holes[0], "top")
        assert hang.turn_deg == pytest.approx(sign * 58.3, abs=0.4)
        assert hang.support == pytest.approx((x, 41))
        assert hang.mass == pytest.approx((plate.centroid.x, plate.centroid.y))


def test_the_higher_of_two_holes_goes_down() -> None:
    """Hung level by two holes a plate turns clockwise if the right one is the higher in it.

    It hangs from the line between them, straight above its centre of mass: at a right angle.
    """
    for places, sign in ((((40, 31), (140, 41)), -1), (((140, 31), (40, 41)), 1)):
        plate, holes = _plate(*places)
        hang = hang_by_holes(plate, holes)
        assert hang.turn_deg == pytest.approx(sign * 5.7106, abs=0.001)
        (ax, ay), (bx, by) = places
        (x, y), mass = hang.support, hang.mass
        assert (x - ax) * (by - ay) == pytest.approx((y - ay) * (bx - ax))
        assert (x - mass[0]) * (bx - ax) + (y - mass[1]) * (by - ay) == pytest.approx(0, abs=1e-6)

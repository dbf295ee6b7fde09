"""Simple bases and holes against closed formulas.

Steiner's formula (Gruber, Convex and Discrete Geometry): a convex shape of area A and
perimeter P grown by r has area A + P·r + π·r² and perimeter P + 2·π·r.
"""

from math import cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
from scipy.special import ellipe
from shapely import Polygon

from namebatch.template.problems import FileProblem
from namebatch.template.schema import (
    Circle,
    Ellipse,
    LuggageTag,
    RegularPolygon,
    RoundedRectangle,
    RoundHole,
    Slot,
)
from namebatch.template.shapes import CHORD_MM, base_polygon, hole_polygon


def near(polygon: Polygon, area: float, perimeter: float) -> None:
    """Area and perimeter agree within what chords 0.005 mm inside the arcs may lose."""
    assert polygon.is_valid
    assert area - perimeter * CHORD_MM <= polygon.area <= area + 1e-3
    # A chord is shorter than its arc by about 8/3·s²/arc, far below s·2π in a whole turn.
    assert perimeter - 2 * pi * CHORD_MM <= polygon.length <= perimeter + 1e-4


def test_rounded_rectangle_is_the_card_of_the_standard() -> None:
    """ISO/IEC 7810 ID-1 with r = 3.18: 4612.007 mm² and 273.7005 mm, and the outer size holds."""
    found = base_polygon(
        RoundedRectangle(shape="rounded-rectangle", width_mm=85.6, height_mm=53.98, corner_mm=3.18)
    )
    near(found, 4612.007, 273.7005)
    assert found.bounds == (0.0, 0.0, 85.6, 53.98)


@pytest.mark.parametrize("corner", [0.0, 0.1, 10.0, 25.0])
def test_rounded_rectangle_follows_steiner(corner: float) -> None:
    """From sharp corners to a stadium, area and perimeter are those of the grown core."""
    found = base_polygon(
        RoundedRectangle(shape="rounded-rectangle", width_mm=100, height_mm=50, corner_mm=corner)
    )
    w, h = 100 - 2 * corner, 50 - 2 * corner
    near(found, w * h + 2 * (w + h) * corner + pi * corner**2, 2 * (w + h) + 2 * pi * corner)
    assert found.bounds == (0.0, 0.0, 100.0, 50.0)


def test_circle_and_ellipse() -> None:
    """π·d²/4 and π·d; π·a·b and 4·a·E(e²) (complete elliptic integral, SciPy)."""
    circle = base_polygon(Circle(shape="circle", diameter_mm=40))
    near(circle, pi * 400, pi * 40)
    assert circle.bounds == (0.0, 0.0, 40.0, 40.0)
    ellipse = base_polygon(Ellipse(shape="ellipse", width_mm=60, height_mm=40))
    near(ellipse, pi * 30 * 20, 4 * 30 * ellipe(1 - (20 / 30) ** 2))
    assert ellipse.bounds == (0.0, 0.0, 60.0, 40.0)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
@pytest.mark.parametrize("corner", [0.0, 2.0])
def test_regular_polygon_keeps_its_circle(sides: int, corner: float) -> None:
    """Rounded or not, the shape touches the stated circle, lies flat, and follows Steiner."""
    found = base_polygon(
        RegularPolygon(shape="regular-polygon", sides=sides, diameter_mm=50, corner_mm=corner)
    )
    core = 25 - corner
    area, perimeter = sides / 2 * core**2 * sin(2 * pi / sides), 2 * sides * core * sin(pi / sides)
    near(found, area + perimeter * corner + pi * corner**2, perimeter + 2 * pi * corner)
    # From the flat bottom, the middle lies the core's inradius and the corner up.
    middle = np.array([found.bounds[2] / 2, core * cos(pi / sides) + corner])
    reach = np.hypot(*(np.array(found.exterior.coords) - middle).T)
    assert reach.max() == pytest.approx(25, abs=2e-6)
    bottom = sorted(x for x, y in found.exterior.coords if abs(y) < 1e-5)
    assert bottom[-1] - bottom[0] == pytest.approx(
        2 * core * sin(pi / sides), abs=0.5 * corner + 1e-5
    )


def test_regular_polygon_turns_counter_clockwise() -> None:
    """A square turned by 45° stands on a corner."""
    found = base_polygon(
        RegularPolygon(shape="regular-polygon", sides=4, diameter_mm=50, angle_deg=45)
    )
    assert found.bounds == pytest.approx((0, 0, 50, 50), abs=1e-6)


@pytest.mark.parametrize("corner", [0.0, 3.0])
def test_luggage_tag_has_two_cut_corners_on_the_left(corner: float) -> None:
    """Six sides; each rounded corner takes r²·(tan(φ/2) − φ/2) away, and the size holds."""
    found = base_polygon(
        LuggageTag(shape="luggage-tag", width_mm=90, height_mm=45, corner_mm=corner, chamfer_mm=12)
    )
    turns = [pi / 2] * 2 + [pi / 4] * 4
    tangents = [sin(t / 2) / cos(t / 2) for t in turns]
    area = (
        90 * 45
        - 12 * 12
        - sum(corner**2 * (tan - t / 2) for tan, t in zip(tangents, turns, strict=True))
    )
    perimeter = 2 * (90 - 12) + 45 + (45 - 24) + 2 * 12 * sqrt(2)
    perimeter -= sum(corner * (2 * tan - t) for tan, t in zip(tangents, turns, strict=True))
    near(found, area, perimeter)
    assert found.bounds == pytest.approx((0, 0, 90, 45), abs=1e-6)
    left = [y for x, y in found.exterior.coords if x < 1e-6]
    assert min(left) == pytest.approx(12 + corner * tangents[2], abs=1e-5)


def test_holes_are_where_they_are_asked_for() -> None:
    """A round hole and a turned slot have their closed areas about their own place."""
    hole = hole_polygon(RoundHole(shape="round", at_mm=[8, 27], diameter_mm=5))
    near(hole, pi * 6.25, pi * 5)
    assert hole.bounds == pytest.approx((5.5, 24.5, 10.5, 29.5), abs=1e-6)
    slot = hole_polygon(Slot(shape="slot", at_mm=[20, 10], length_mm=14, width_mm=4, angle_deg=30))
    near(slot, 10 * 4 + pi * 4, 20 + pi * 4)
    assert (slot.centroid.x, slot.centroid.y) == pytest.approx((20, 10), abs=1e-6)
    farthest = max(slot.exterior.coords, key=lambda p: p[0])
    assert hypot(farthest[0] - 20, farthest[1] - 10) <= 7 + 1e-6
    assert slot.bounds[2] - 20 == pytest.approx(5 * cos(pi / 6) + 2, abs=0.005)


@pytest.mark.parametrize(
    ("shape", "message"),
    [
        (
            RoundedRectangle(shape="rounded-rectangle", width_mm=50, height_mm=20, corner_mm=10.1),
            r"corner_mm: corners of 10.1 mm do not fit on a side of 20 mm; take at most 10 mm",
        ),
        (
            RegularPolygon(shape="regular-polygon", sides=5, diameter_mm=20, corner_mm=10),
            "corner_mm: must be below half the diameter, 10 mm",
        ),
        (
            LuggageTag(shape="luggage-tag", width_mm=90, height_mm=45, chamfer_mm=22.5),
            "chamfer_mm: 22.5 mm .* leaves no left edge",
        ),
        (
            LuggageTag(shape="luggage-tag", width_mm=90, height_mm=45, chamfer_mm=22, corner_mm=5),
            "corner_mm: corners of 5 mm do not fit on a side of 1 mm; take at most 1.207 mm",
        ),
    ],
)
def test_sizes_that_contradict_each_other_are_told(
    shape: RoundedRectangle | RegularPolygon | LuggageTag, message: str
) -> None:
    """Corners rounder than the sides allow are refused with the largest that fits."""
    with pytest.raises(FileProblem, match=message):
        base_polygon(shape)


def test_a_slot_longer_than_wide_only() -> None:
    """A slot's length is the overall one and cannot be less than its width."""
    with pytest.raises(FileProblem, match="overall length"):
        hole_polygon(Slot(shape="slot", at_mm=[0, 0], length_mm=3, width_mm=4))

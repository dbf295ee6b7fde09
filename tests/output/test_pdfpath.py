"""Curves as PDF operators."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, box

from namebatch.curves import Path, Segment
from namebatch.output.pdfpath import path_operators, shape_operators

COORDINATE = st.floats(-300, 300)


@given(st.lists(st.tuples(COORDINATE, COORDINATE), min_size=3, max_size=3), st.floats(0, 1))
def test_a_raised_quadratic_is_the_same_curve(points: list[tuple[float, float]], t: float) -> None:
    """The cubic passes where the quadratic does (Bernstein form of both, worked out here)."""
    start, control, end = points
    path: Path = (Segment("M", (start,)), Segment("Q", (control, end)))
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path_operators(path))]
    u = 1 - t
    for axis in (0, 1):
        quad = u * u * start[axis] + 2 * u * t * control[axis] + t * t * end[axis]
        c = numbers[axis::2]
        cubic = u**3 * c[0] + 3 * u * u * t * c[1] + 3 * u * t * t * c[2] + t**3 * c[3]
        assert cubic == pytest.approx(quad, abs=0.0002)


def test_a_quadratic_after_a_close_begins_at_the_contours_start() -> None:
    """After `close` the pen stands at the contour's first point, as PDF has it."""
    path: Path = (
        Segment("M", ((0.0, 0.0),)),
        Segment("L", ((9.0, 0.0),)),
        Segment("Z"),
        Segment("Q", ((3.0, 3.0), (6.0, 0.0))),
    )
    assert path_operators(path).split("\n")[-1] == "2 2 4 2 6 0 c"


def test_a_shape_keeps_every_point_to_four_decimals() -> None:
    """What is printed is exactly what was given: all rings, all points, holes too."""
    ring = Point(10.00005, 20).buffer(5).difference(Point(10, 20).buffer(2))
    shape = MultiPolygon([ring, box(30, 0, 31.23456, 1)])
    lines = shape_operators(shape).split("\n")
    assert [line for line in lines if line == "h"] == ["h"] * 3
    written = [tuple(map(float, line.split()[:2])) for line in lines if line != "h"]
    given_points = [
        (x, y)
        for part in shape.geoms
        for contour in (part.exterior, *part.interiors)
        for x, y in contour.coords[:-1]
    ]
    assert np.array(written) == pytest.approx(np.array(given_points), abs=0.00005001)

"""Curves as PDF operators."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LinearRing, MultiPolygon, Point, Polygon, box, segmentize

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


def _written(operators: str) -> list[LinearRing]:
    """The contours that the operators draw."""
    return [
        LinearRing([tuple(map(float, line.split()[:2])) for line in part.split("\n") if line])
        for part in operators.split("h")
        if part.strip()
    ]


def test_a_shape_is_printed_as_it_is() -> None:
    """All rings, holes too, within half a dot at 1,200 dpi; no figure finer than 0.001 mm."""
    ring = Point(10.00005, 20).buffer(5, 64).difference(Point(10, 20).buffer(2, 64))
    shape = MultiPolygon([ring, box(30, 0, 31.23456, 1)])
    operators = shape_operators(shape)
    contours = [r for part in shape.geoms for r in (part.exterior, *part.interiors)]
    found = _written(operators)
    assert len(found) == 3
    for given_ring, drawn in zip(contours, found, strict=True):
        assert given_ring.hausdorff_distance(drawn) < 0.0106
    assert max(len(n.partition(".")[2]) for n in re.findall(r"[\d.]+", operators)) == 3


def test_points_that_say_nothing_are_left_out() -> None:
    """A line in tiny steps is drawn in one, a curve in no more chords than are seen."""
    square = segmentize(box(0, 0, 10, 10), 0.01)
    assert shape_operators(square).count("\n") == 4
    assert shape_operators(Point(0, 0).buffer(5, 200)).count("\n") < 90


def test_the_smallest_contour_is_kept() -> None:
    """A full stop of 0.02 mm is not lost, and a point written twice is written once."""
    assert shape_operators(box(0, 0, 0.02, 0.02)).split("\n")[-1] == "h"
    twice = Polygon([(0, 0), (5, 0), (5.0001, 0.0001), (5, 5)])
    assert shape_operators(twice).count("5 0 l") == 1

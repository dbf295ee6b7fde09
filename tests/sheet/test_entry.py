"""Entry points: flat and stout places, and lines that begin there without any change."""

from math import pi

import numpy as np
import pytest
from shapely import Point, Polygon, box

from namebatch.outline.arc_shape import along_ring, ring_area, ring_length
from namebatch.sheet.entry import Entry, entered, entries_of, entry_points
from namebatch.sheet.lines import Line, cut_lines


def lines_of(shape: Polygon) -> tuple[Line, ...]:
    """Cut lines without a kerf."""
    return cut_lines(shape, False, 0.0, (0.0, 0.0))


def points_of(line: Line, entries: tuple[Entry, ...]) -> list[tuple[float, float]]:
    """Where the entries lie."""
    return [(x, y) for x, y in entry_points(line, entries).tolist()]


def test_corners_are_left_alone() -> None:
    """A rectangle is entered on its sides, well away from its corners."""
    (line,) = lines_of(box(0, 0, 60, 30))
    (entries,) = entries_of([line])
    found = points_of(line, entries)
    assert len(found) >= 4
    for x, y in found:
        assert min(x, 60 - x, y, 30 - y) == pytest.approx(0.0, abs=1e-9)
        assert min(np.hypot(x - a, y - b) for a in (0, 60) for b in (0, 30)) >= 2.25


def test_thin_places_are_left_alone() -> None:
    """A plate with a hole near one edge and a thin tail: entered on neither."""
    plate = box(0, 0, 40, 30).union(box(40, 14, 60, 15.5)).difference(Point(20, 27).buffer(2))
    outer, hole = lines_of(plate)
    entries, inside = entries_of([outer, hole])
    for x, y in points_of(outer, entries):
        assert x <= 40.0
        assert not (y > 29.9 and abs(x - 20) < 2.5), (x, y)
    assert inside


def test_a_circle_keeps_its_two_arcs() -> None:
    """A round hole is entered where its arcs meet."""
    hole = lines_of(box(0, 0, 40, 40).difference(Point(20, 20).buffer(5, quad_segs=64)))[1]
    assert np.abs(hole.bulges).tolist() == [1.0, 1.0]
    (entries,) = entries_of([hole])
    assert [entry.share for entry in entries] == [0.0, 0.0]
    assert len(entered(hole, entries[1]).points) == 2


@pytest.mark.parametrize("bulge", [0.0, 0.3, -0.3, 1.0, -1.0, 1.8])
@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 0.9])
def test_a_line_entered_midway_is_the_same_line(bulge: float, share: float) -> None:
    """Length, area and every point along it stay; only the beginning moves."""
    line = Line(np.array([[0.0, 0.0], [10.0, 0.0], [12.0, 9.0]]), np.array([0.1, bulge, 0.0]), 0.01)
    entry = Entry(1, share)
    again = entered(line, entry)
    assert tuple(again.points[0]) == pytest.approx(tuple(entry_points(line, [entry])[0]))
    assert len(again.points) == (3 if share == 0.0 else 4)
    assert again.deviation_mm == line.deviation_mm
    assert ring_length(again.points, again.bulges) == pytest.approx(
        ring_length(line.points, line.bulges), rel=1e-12
    )
    assert ring_area(again.points, again.bulges) == pytest.approx(
        ring_area(line.points, line.bulges), rel=1e-12
    )
    there = Polygon(along_ring(again.points, again.bulges, 1e-5))
    here = Polygon(along_ring(line.points, line.bulges, 1e-5))
    assert there.exterior.hausdorff_distance(here.exterior) < 2e-5


def test_the_middle_of_an_arc_is_its_middle() -> None:
    """Half a circle of radius 5 about the origin, entered at a share, is entered at that angle."""
    line = Line(np.array([[5.0, 0.0], [-5.0, 0.0]]), np.array([1.0, 0.0]))
    for share in (0.25, 0.5, 0.8):
        expected = 5 * np.cos(pi * share), 5 * np.sin(pi * share)
        assert tuple(entry_points(line, [Entry(0, share)])[0]) == pytest.approx(expected)

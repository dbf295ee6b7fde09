"""Cores of one part that hang together by thin strokes."""

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, box

from namebatch.outline.cores import cores_of
from namebatch.outline.links import links, thickened
from tests.outline.lettering import cores_at


def _strengthened(part: Polygon, width: float) -> tuple[list[LineString], shapely.Geometry]:
    lines = links(part, cores_of(part, width).cores, width)
    return lines, shapely.union_all([part, *thickened(lines, width)])


def test_straight_neck_is_followed() -> None:
    """Two squares on a thin bar: the line lies in the bar, and the width holds afterwards."""
    part = box(0, 0, 6, 6) | box(5, 2.7, 15, 3.3) | box(14, 0, 20, 6)
    lines, shape = _strengthened(part, 1.5)
    assert len(lines) == 1
    assert part.covers(lines[0])
    assert len(cores_at(shape, 1.49)) == 1


def test_bent_stroke_is_followed_and_not_cut_short() -> None:
    """A thin half ring between two discs is followed round; its inside stays open."""
    ring = Point(0, 0).buffer(10, 64) - Point(0, 0).buffer(9.3, 64)
    half = ring & box(-20, 0, 20, 20)
    part = half | Point(-9.6, -1).buffer(2) | Point(9.6, -1).buffer(2)
    lines, shape = _strengthened(part, 1.5)
    assert len(lines) == 1
    assert lines[0].length > 25
    assert len(cores_at(shape, 1.49)) == 1
    assert shape.disjoint(Point(0, 0).buffer(7))
    assert np.abs(shapely.get_coordinates(lines[0])[:, 1]).max() > 9


def test_as_few_lines_as_do() -> None:
    """Five cores in a row need four lines."""
    squares = [box(8 * i, 0, 8 * i + 4, 4) for i in range(5)]
    part = shapely.union_all([*squares, box(1, 1.8, 35, 2.2)])
    lines, shape = _strengthened(part, 1.2)
    assert len(lines) == 4
    assert len(cores_at(shape, 1.19)) == 1

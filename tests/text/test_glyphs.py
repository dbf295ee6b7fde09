"""Non-zero filling, contour by contour."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, box

from namebatch.curves import Point
from namebatch.text.glyphs import as_multipolygon, polygons_of, without_specks


def _square(x: float, y: float, side: float, clockwise: bool = False) -> list[Point]:
    ring = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
    return ring[::-1] if clockwise else ring


def test_counter_is_open_and_same_turn_is_filled() -> None:
    """A contour inside another opens it only when it runs the other way round."""
    assert polygons_of([_square(0, 0, 10), _square(3, 3, 4, clockwise=True)]).area == 84
    assert polygons_of([_square(0, 0, 10), _square(3, 3, 4)]).area == 100


def test_overlap_is_not_knocked_out() -> None:
    """Two strokes that cross stay solid where even-odd would leave a hole."""
    cross = polygons_of([_square(0, 0, 10), _square(5, 5, 10)])
    assert cross.area == pytest.approx(175)
    assert len(cross.geoms) == 1


def test_self_crossing_contour_keeps_both_loops() -> None:
    """A figure of eight has two loops of opposite turn; both are ink by the non-zero rule."""
    eight = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]
    assert polygons_of([eight]).area == pytest.approx(50)


def test_nothing_gives_nothing() -> None:
    """Contours without area are no ink, and no error."""
    assert polygons_of([]).is_empty
    assert polygons_of([[(0.0, 0.0), (1.0, 1.0)]]).is_empty
    assert polygons_of([[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]]).is_empty


@given(
    st.lists(
        st.tuples(st.integers(0, 12), st.integers(0, 12), st.integers(1, 6), st.booleans()),
        min_size=1,
        max_size=6,
    )
)
def test_agrees_with_counting_windings_cell_by_cell(
    squares: list[tuple[int, int, int, bool]],
) -> None:
    """On squares of whole numbers the area is the count of unit cells wound round.

    The second method counts turns for each unit cell directly.
    """
    rings = [_square(x, y, side, clockwise) for x, y, side, clockwise in squares]
    cells = 0
    for cx in range(20):
        for cy in range(20):
            turns = sum(
                (-1 if clockwise else 1)
                for x, y, side, clockwise in squares
                if x <= cx < x + side and y <= cy < y + side
            )
            cells += turns != 0
    shape = polygons_of(rings)
    assert shape.is_valid
    assert shape.area == pytest.approx(cells)


def test_pinholes_and_specks_go() -> None:
    """What no designer drew is filled or dropped, counters stay."""
    part = box(0, 0, 100, 100) - box(10, 10, 40, 40) - box(80, 80, 81, 81)
    shape = without_specks(as_multipolygon(part | box(200, 0, 201, 1)), 25)
    assert [len(p.interiors) for p in shape.geoms] == [1]
    assert shape.area == 100 * 100 - 30 * 30


def test_lines_are_no_area() -> None:
    """Only polygons are kept of a mixed geometry."""
    touching = box(0, 0, 1, 1) & box(1, 0, 2, 1)
    assert as_multipolygon(touching) == MultiPolygon()
    assert as_multipolygon(Polygon()) == MultiPolygon()

"""A polygon's edges on a grid, whose cells become smaller where an outline is rough."""

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, box

from namebatch.outline.boundary import CELL_MM, CROWDED, boundary_of, nearest_edge
from tests.outline.rough import comb, jagged, rough, spiral

ROUGH = [jagged(20_000, 10.0), rough(box(0, 0, 20, 10), 20_000, 0.002)]
DENSE = [*ROUGH, comb(3_000, 20.0, 3.0), spiral(20_000)]


def test_ordinary_outlines_have_ordinary_cells() -> None:
    """Few edges leave the grid as it is."""
    shape = Point(0, 0).buffer(20, quad_segs=90) - box(-5, -5, 5, 5)
    assert boundary_of(shape).cell == CELL_MM


@pytest.mark.parametrize("shape", ROUGH)
def test_cells_of_rough_outlines_hold_few_edges(shape: Polygon) -> None:
    """A cell has no more edges on the mean than were meant, in memory that grows with them."""
    b = boundary_of(shape)
    held = np.diff(b.start)
    assert b.cell < CELL_MM
    assert held[held > 0].mean() <= CROWDED


@pytest.mark.parametrize("shape", DENSE)
def test_a_grid_is_no_larger_than_its_edges_ask(shape: Polygon) -> None:
    """Long edges side by side, which smaller cells would not part, do not fill the memory."""
    b = boundary_of(shape)
    assert b.start.size <= 40_001 + 4 * b.x.size
    assert b.edges.size <= 40_000 + 12 * b.x.size


@pytest.mark.parametrize("shape", DENSE)
def test_distances_are_those_of_shapely(shape: Polygon) -> None:
    """The nearest edge is as far as shapely says (GEOS), whatever the cells, near or far."""
    b = boundary_of(shape)
    random = np.random.default_rng(3)
    left, bottom, right, top = shape.bounds
    for x, y in random.uniform((left, bottom), (right, top), (60, 2)):
        away = float(shapely.distance(shape.boundary, Point(x, y)))
        assert nearest_edge(b, x, y, away + 1.0, False, -1)[2] == pytest.approx(away, abs=1e-9)
        assert nearest_edge(b, x, y, away + 1e-9, True, -1)[0] >= 0
        assert nearest_edge(b, x, y, away - 1e-9, True, -1)[0] < 0

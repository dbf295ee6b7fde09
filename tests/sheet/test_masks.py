"""Masks: every cell that a block needs, and hardly any other."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon, box

from namebatch.sheet.masks import masks_of, reach_mm
from tests.sheet.shapes import block_of

CORNERS = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=3, max_size=9)


@settings(max_examples=60, deadline=None)
@given(CORNERS, st.sampled_from([0.0, 2.0]), st.sampled_from([0.5, 1.0, 1.7]))
def test_all_cells_that_are_touched(
    corners: list[tuple[int, int]], gap: float, cell: float
) -> None:
    """A cell is in the mask if the grown shape reaches into it, at every turn."""
    shape = MultiPoint(corners).convex_hull
    if not isinstance(shape, Polygon):
        return
    reach = reach_mm(gap)
    for mask in masks_of(block_of(0, shape, (0.0, 90.0, 180.0, 270.0)), gap, cell):
        rows, columns = np.indices(mask.cells.shape)
        squares = shapely.box(
            columns * cell - reach,
            rows * cell - reach,
            (columns + 1) * cell - reach,
            (rows + 1) * cell - reach,
        )
        distance = shapely.distance(squares, mask.turned.shape)
        assert mask.cells[distance < gap / 2].all()
        assert not mask.cells[distance > reach + 0.01].any()
        assert mask.cells.shape == (
            np.ceil((mask.turned.height_mm + 2 * reach) / cell),
            np.ceil((mask.turned.width_mm + 2 * reach) / cell),
        )


def test_bays_stay_free() -> None:
    """The inside of a U is not in its mask."""
    shape = box(0, 0, 40, 40).difference(box(10, 10, 30, 40))
    [mask] = masks_of(block_of(0, shape, (0.0,)), 2.0, 1.0)
    middle = mask.cells[20:, 18:24]
    assert not middle.any()


@pytest.mark.parametrize("gap", [0.2, 2.0, 3.5])
def test_reach_is_more_than_half_the_gap(gap: float) -> None:
    """Chords of the grown shape stay outside the true distance, by less than a fiftieth of it."""
    assert gap / 2 + 0.02 <= reach_mm(gap) <= 1.01 * (gap / 2 + 0.02)

"""Cores against an erosion by shapely."""

import pytest
import shapely
from shapely import MultiPolygon, box

from namebatch.outline.cores import ERODE_MARGIN_MM, areas_of, cores_of, side_by_side
from tests.outline.real_names import real_names


@pytest.mark.parametrize("width", [0.8, 1.2])
def test_cores_are_what_an_erosion_leaves(width: float) -> None:
    """As many parts, all within the erosion but for the height of an arc."""
    for label, shape in real_names():
        eroded = areas_of(shapely.buffer(shape, -width / 2 - ERODE_MARGIN_MM, quad_segs=64))
        found = cores_of(shape, width)
        real = found.cores[~found.seeded]
        wide = [part for part in eroded if part.area > 1e-3]
        assert len([core for core in real if core.area > 1e-3]) == len(wide), label
        beyond = shapely.buffer(shapely.union_all(eroded), 0.03 * width)
        assert shapely.covers(beyond, real).all(), label


def test_a_part_without_a_core_has_a_mark() -> None:
    """A dot that is too small is marked in its middle."""
    found = cores_of(MultiPolygon([box(0, 0, 10, 10), box(20, 0, 21, 1)]), 1.2)
    assert found.seeded.tolist() == [False, True]
    assert found.cores[1].centroid.distance(shapely.Point(20.5, 0.5)) < 0.02


def test_parts_side_by_side_stay_the_same_objects() -> None:
    """Parts put together come out again as they went in; those that meet are not put together."""
    large, small = box(0, 0, 10, 10), box(20, 0, 21, 1)
    shape = side_by_side(areas_of(MultiPolygon([small, large])))
    assert shape is not None
    one, other = areas_of(shape)
    assert (one.area, other.area) == (100, 1)
    again = areas_of(shape)
    assert again[0] is one
    assert side_by_side(areas_of(shapely.GeometryCollection([large, box(9, 9, 12, 12)]))) is None

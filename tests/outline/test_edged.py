"""Edges and necks of a shape, kept for all who ask."""

import numpy as np
import pytest
import shapely
from shapely import box

from namebatch.outline.boundary import boundary_of
from namebatch.outline.chords import necks_below
from namebatch.outline.edged import edged
from tests.outline.real_names import outline


def test_asked_again_it_is_the_same_object() -> None:
    """The very same polygon is laid on its grids once, an equal one anew."""
    shape = box(0, 0, 10, 5) - box(2, 2, 3, 3)
    assert edged(shape) is edged(shape)
    assert edged(shape).inside is edged(shape).inside
    assert edged(shape) is not edged(shapely.from_wkb(shape.wkb))


@pytest.mark.parametrize("outside", [False, True])
def test_both_sides_are_those_of_the_boundary(outside: bool) -> None:
    """Inside and outside are what `boundary_of` gives for either side."""
    shape = outline("Pacifico", "Jiří", 15)
    kept = edged(shape).outside if outside else edged(shape).inside
    for mine, fresh in zip(kept, boundary_of(shape, outside), strict=True):
        np.testing.assert_array_equal(mine, fresh)


def test_narrower_necks_come_from_wider_ones() -> None:
    """Asked for less than before, it gives what a look at that width alone finds."""
    shape = outline("Dancing Script Bold", "Zuzana", 15)
    sides = edged(shape)
    assert len(sides.necks(1.5)) > len(sides.necks(0.9)) > 0
    fresh = necks_below(boundary_of(shape), 0.9)
    np.testing.assert_allclose(sides.necks(0.9)[:, :3], fresh[:, :3])

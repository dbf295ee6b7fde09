"""Mending: what it says it has shown is true by measures of the whole."""

import pytest
import shapely
from shapely import Point, Polygon, box

from namebatch.outline import Limits, Order
from namebatch.outline.gaps import survives_kerf
from namebatch.outline.mend import mended
from namebatch.outline.tails import thin_tips
from namebatch.outline.thickness import narrowest
from tests.outline.real_names import NAMES, outline

WIDTH, KERF = 1.2, 0.18
ORDER = Order("weld", box(0, 0, 1, 1), Limits(WIDTH, KERF))


@pytest.mark.parametrize("face", NAMES)
def test_what_is_said_holds(face: str) -> None:
    """Open and firm by its own account, a name has no narrow gap, no neck and no thin tail."""
    made = mended(ORDER, outline(face, NAMES[face][-1], 15))
    assert made.is_open
    assert made.is_firm
    fresh = shapely.from_wkb(made.shape.wkb)
    assert survives_kerf(fresh, KERF)
    assert narrowest(fresh, WIDTH, 4 * WIDTH).width_mm >= WIDTH
    assert thin_tips(fresh, WIDTH - 0.02, 4 * WIDTH) == []


@pytest.mark.parametrize("face", NAMES)
def test_mended_again_it_stays(face: str) -> None:
    """A mended outline needs no mending; it comes normalised."""
    made = mended(ORDER, outline(face, NAMES[face][0], 20))
    again = mended(ORDER, made.shape)
    assert again.shape.equals_exact(shapely.normalize(made.shape), 0.0)
    assert again.shape.equals_exact(made.shape, 0.0)


def test_pinholes_are_filled_before_walls_are_thickened() -> None:
    """A hole that the kerf would swallow gets no walls: nothing is added beyond its own area."""
    pinhole = Point(10, 9.8).buffer(0.085)
    made = mended(ORDER, box(0, 0, 20, 10) - pinhole)
    assert shapely.symmetric_difference(made.shape, box(0, 0, 20, 10)).area < 1e-9


def test_a_mouth_is_closed_before_its_sides_are_thickened() -> None:
    """A round bay with a mouth narrower than the kerf becomes a hole, its rim not a neck."""
    bay = shapely.union(Point(10, 8).buffer(1.5), box(9.95, 8, 10.05, 12))
    made = mended(ORDER, box(0, 0, 20, 11) - bay)
    assert isinstance(made.shape, Polygon)
    assert len(made.shape.interiors) == 1
    assert made.shape.area == pytest.approx(220 - Point(10, 8).buffer(1.5).area, abs=0.3)

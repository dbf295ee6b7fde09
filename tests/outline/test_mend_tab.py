"""Slits and thin places beside a new tab are mended, and nothing else."""

import shapely
from shapely import MultiPolygon, Point, box

from namebatch.outline.gaps import survives_kerf
from namebatch.outline.mend_tab import mend_at_tab
from namebatch.outline.model import Limits
from namebatch.outline.thickness import narrowest

LIMITS = Limits(1.2, 0.18)
NONE = MultiPolygon()


def test_a_slit_beside_the_tab_is_filled_and_no_other() -> None:
    """The gap between tab and post closes; the drawing's own slit farther off stays."""
    tab, post = box(20, 4, 26, 14), box(26.1, 4, 30, 14)
    pair = [box(45, 4, 49, 9), box(49.1, 4, 53, 9)]
    shape = shapely.union_all([box(0, 0, 60, 5), tab, post, *pair])
    made, done = mend_at_tab(shape, tab, LIMITS, NONE)
    mended = made.shape
    assert done
    assert mended.contains(Point(26.05, 10))
    assert not mended.contains(Point(49.05, 7))
    assert mended.difference(shape).area < 1.2
    assert survives_kerf(shapely.intersection(mended, box(0, 0, 40, 20)), LIMITS.kerf_mm)


def test_a_thin_root_is_thickened() -> None:
    """A tab that hangs by 0.7 mm is made to hang by the least width."""
    tab = box(28, 8, 34, 14)
    shape = shapely.union_all([box(0, 0, 60, 5), box(30.6, 4, 31.3, 9), tab])
    made, done = mend_at_tab(shape, tab, LIMITS, NONE)
    mended = made.shape
    assert done
    assert narrowest(mended, LIMITS.required_mm, 4.8).width_mm >= LIMITS.required_mm - 0.02
    assert mended.contains(shape.buffer(-1e-6))


def test_a_sound_piece_is_given_back() -> None:
    """Where nothing is thin or slit, the piece stays what it was."""
    tab = box(28, 4, 34, 12)
    shape = shapely.union(box(0, 0, 60, 5), tab)
    made, done = mend_at_tab(shape, tab, LIMITS, NONE)
    mended = made.shape
    assert done
    assert mended is shape
    assert made.is_open
    assert made.is_firm


def test_a_hole_beside_the_tab_stays_open() -> None:
    """Thickening gives way to the template's own holes."""
    hole = Point(24, 8).buffer(1.5)
    tab = box(25.0, 4, 34, 14)
    shape = shapely.union_all([box(0, 0, 60, 5), box(18, 4, 24.5, 14), tab]).difference(hole)
    made, done = mend_at_tab(shape, tab, LIMITS, MultiPolygon([hole]))
    mended = made.shape
    assert done
    assert mended.intersection(hole).area < 1e-6

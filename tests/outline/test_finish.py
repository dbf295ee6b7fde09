"""Joining base and text by a rule, and the proof of it."""

import pytest
from shapely import MultiPolygon, Point, box

from namebatch.finding import Severity
from namebatch.outline import Limits, finish

NO_TEXT = MultiPolygon()
BAR = box(0, 0, 60, 8)


def _codes(outline: object) -> list[str]:
    return [finding.code for finding in outline.findings]  # type: ignore[attr-defined]


def test_base_is_the_cut_line() -> None:
    """The rule `base` leaves the base as it is, its hole measured."""
    hole = Point(5, 15).buffer(2.5, quad_segs=64)
    base = box(0, 0, 50, 30) - hole
    outline = finish("base", base, NO_TEXT, [hole], Limits(1.5))
    assert outline.shape.equals(base)
    assert outline.parts == 1
    assert outline.neck.width_mm == pytest.approx(2.5, abs=0.02)
    assert outline.findings == ()


def test_weld_makes_one_silhouette_and_keeps_the_hole() -> None:
    """Letters that overlap the bar become one part; the hole stays open under a letter."""
    hole = Point(10, 4).buffer(1.5, quad_segs=64)
    letters = MultiPolygon([box(7, 2, 14, 20), box(30, 6, 36, 18)])
    outline = finish("weld", BAR - hole, letters, [hole], Limits(1.0))
    assert outline.parts == 1
    assert outline.findings == ()
    assert not outline.shape.intersects(hole.buffer(-0.01))


def test_loose_dot_is_held_with_its_place() -> None:
    """A dot that stands alone is not lost in silence: the row is held."""
    letters = MultiPolygon([box(10, 6, 13, 18), box(10, 20, 13, 23)])
    outline = finish("weld", BAR, letters, [], Limits(1.0))
    assert _codes(outline) == ["parts-not-joined"]
    assert "x 11.5, y 21.5" in outline.findings[0].message
    assert outline.findings[0].severity is Severity.HOLD


def test_touching_at_a_point_is_not_joined() -> None:
    """Two parts that meet in one point would fall apart."""
    letters = MultiPolygon([box(60, 8, 70, 18)])
    outline = finish("weld", BAR, letters, [], Limits(1.0))
    assert outline.parts == 2


def test_narrow_neck_is_held_with_the_figure() -> None:
    """A letter that hangs by 0.6 mm is held when 1.0 mm is needed."""
    letters = MultiPolygon([box(10, 7.5, 10.6, 14) | box(5, 13, 20, 20)])
    outline = finish("weld", BAR, letters, [], Limits(1.0))
    assert _codes(outline) == ["too-narrow"]
    assert "0.60 mm" in outline.findings[0].message or "0.59 mm" in outline.findings[0].message


def test_open_letters_that_leave_an_island_are_held() -> None:
    """The inside of an O would fall out."""
    ring = Point(30, 15).buffer(8) - Point(30, 15).buffer(4)
    outline = finish("open", box(0, 0, 60, 30), MultiPolygon([ring]), [], Limits(1.0))
    assert _codes(outline) == ["islands-fall-out"]


def test_open_letters_must_stay_inside() -> None:
    """A letter over the edge would open the plate."""
    outline = finish(
        "open", box(0, 0, 60, 30), MultiPolygon([box(50, 10, 70, 20)]), [], Limits(1.0)
    )
    assert "text-leaves-base" in _codes(outline)


def test_open_letters_become_holes() -> None:
    """What is cut out is the area of the letters."""
    letters = MultiPolygon([box(10, 10, 14, 20), box(20, 10, 24, 20)])
    outline = finish("open", box(0, 0, 60, 30), letters, [], Limits(1.0))
    assert outline.findings == ()
    assert outline.shape.area == pytest.approx(1800 - 80)
    assert len(outline.shape.interiors) == 2


def test_hang_tilt_from_areas() -> None:
    """A hole above the middle hangs straight; one to the side leans by a known angle.

    A 60 × 20 plate hung from a tiny hole 15 mm left of and 7 mm above its centre leans by
    atan(15/7) = 64.98°; one hung by its left end, 1 mm above the middle, by atan(1/28) = 2.05°.
    """
    straight = Point(30, 17).buffer(0.05)
    side = Point(15, 17).buffer(0.05)
    plate = box(0, 0, 60, 20)
    assert finish("base", plate - straight, NO_TEXT, [straight], Limits(1.0)).hang_tilt_deg == (
        pytest.approx(0, abs=0.01)
    )
    assert finish("base", plate - side, NO_TEXT, [side], Limits(1.0)).hang_tilt_deg == (
        pytest.approx(64.98, abs=0.05)
    )
    assert finish("base", plate, NO_TEXT, [], Limits(1.0)).hang_tilt_deg is None
    end = Point(2, 11).buffer(0.05)
    assert finish("base", plate - end, NO_TEXT, [end], Limits(1.0)).hang_tilt_deg == (
        pytest.approx(2.05, abs=0.02)
    )


def test_slits_narrower_than_the_kerf_are_filled() -> None:
    """A letter 0.1 mm off the bar's other letter leaves no line that the kerf would swallow."""
    letters = MultiPolygon([box(10, 6, 14, 18), box(14.1, 6, 18, 18)])
    pinhole = MultiPolygon([box(30, 6, 40, 18) - box(33, 8, 33.1, 12)])
    for shape in (letters, pinhole):
        outline = finish("weld", BAR, shape, [], Limits(1.0, 0.2))
        assert outline.findings == ()
        assert outline.shape.area > (BAR | shape).area
        assert outline.shape.area < (BAR | shape).area + 2
    wide = finish("weld", BAR, letters, [], Limits(1.0, 0.05))
    assert wide.shape.area == pytest.approx((BAR | letters).area)


def test_hole_narrower_than_the_kerf_holds() -> None:
    """What the template itself draws is not filled, but said."""
    base = box(0, 0, 50, 30) - box(10, 10, 10.1, 20)
    outline = finish("base", base, NO_TEXT, [], Limits(1.0, 0.2))
    assert "gap-narrower-than-kerf" in _codes(outline)

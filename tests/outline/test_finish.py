"""Joining base and text by a rule, mending, and the proof of it."""

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline import Letter, Limits, Order, Outline, finish
from namebatch.template.model import ContourRule, FoundHole

BAR = box(0, 0, 60, 8)


def _codes(outline: Outline) -> list[str]:
    return [finding.code for finding in outline.findings]


def _letters(*shapes: Polygon) -> tuple[MultiPolygon, tuple[Letter, ...]]:
    text = shapely.union_all(shapes)
    parts = MultiPolygon([p for p in shapely.get_parts(text) if isinstance(p, Polygon)])
    letters = tuple(Letter(i, "x", MultiPolygon([s])) for i, s in enumerate(shapes))
    return parts, letters


def _whole_at(outline: Outline, width: float) -> bool:
    """One erosion, finer than the product's own: one part, as many holes."""
    core = outline.shape.buffer(-width / 2 + 0.005, quad_segs=16)
    return isinstance(core, Polygon) and len(core.interiors) == len(outline.shape.interiors)


def test_base_is_the_cut_line() -> None:
    """The rule `base` leaves the base as it is, its hole measured."""
    hole = Point(5, 15).buffer(2.5, quad_segs=64)
    base = box(0, 0, 50, 30) - hole
    outline = finish(Order("base", base, Limits(1.5), holes=(hole,)))
    assert outline.shape.equals(base)
    assert outline.parts == 1
    assert outline.neck.width_mm == pytest.approx(2.5, abs=0.02)
    assert outline.findings == ()


def test_plain_shape_is_measured_to_the_end() -> None:
    """Without any neck the figure is the widest circle's, not a limit of the search."""
    outline = finish(Order("base", box(0, 0, 90, 30), Limits(0.8)))
    assert outline.neck.width_mm == pytest.approx(30, abs=0.02)
    assert outline.neck.at is None


def test_spike_is_told() -> None:
    """A long thin spike of a base hangs by one end: no neck, but a warning."""
    spike = shapely.union(box(0, 0, 90, 30), box(89, 14.9, 120, 15.1))
    outline = finish(Order("base", spike, Limits(0.8)))
    assert _codes(outline) == ["thin-tail"]


def test_weld_makes_one_silhouette_and_keeps_the_hole() -> None:
    """Letters that overlap the bar become one part; the hole stays open under a letter."""
    hole = Point(10, 4).buffer(1.5, quad_segs=64)
    text, letters = _letters(box(7, 2, 14, 20), box(30, 6, 36, 18))
    order = Order("weld", BAR - hole, Limits(1.0), text, letters, (hole,))
    outline = finish(order)
    assert outline.parts == 1
    assert outline.bridges == ()
    assert "hangs-askew" in _codes(outline)
    assert not outline.shape.intersects(hole.buffer(-0.01))


def test_loose_dot_gets_a_bridge() -> None:
    """A dot that stands alone is tied to its stem by a bar of full width."""
    stem, dot = box(10, 6, 13, 18), box(10, 20, 13, 23)
    text = MultiPolygon([stem, dot])
    letters = (Letter(0, "i", text),)
    outline = finish(Order("weld", BAR, Limits(1.2), text, letters))
    assert outline.parts == 1
    assert len(outline.bridges) == 1
    assert outline.bridges[0].width_mm >= 1.2
    assert _codes(outline) == ["bridges"]
    assert _whole_at(outline, 1.2)


def test_dot_behind_a_hole_stays_loose_and_is_held() -> None:
    """No bridge goes through a hole; what cannot be tied is held with its place."""
    hole = Point(30, 12).buffer(5, quad_segs=64)
    ring = Point(30, 12).buffer(6) - hole
    dot = Point(30, 12).buffer(2)
    text = MultiPolygon([dot])
    order = Order("weld", shapely.union(BAR, ring), Limits(1.0), text, (), (hole,))
    outline = finish(order)
    # the dot stands in the hole that must stay open, so it is cut away with it
    assert outline.parts == 1
    assert not outline.shape.intersects(hole.buffer(-0.01))


def test_touching_at_a_point_is_joined_at_full_width() -> None:
    """Two parts that meet in one point are tied over it."""
    text, letters = _letters(box(60, 8, 70, 18))
    outline = finish(Order("weld", BAR, Limits(1.0), text, letters))
    assert outline.parts == 1
    assert _whole_at(outline, 1.0)


def test_narrow_neck_is_thickened() -> None:
    """A letter that hangs by 0.6 mm is made to hang by 1.0 mm, and that is noted."""
    text, letters = _letters(box(10, 7.5, 10.6, 14) | box(5, 13, 20, 20))
    outline = finish(Order("weld", BAR, Limits(1.0), text, letters))
    assert outline.neck.width_mm >= 0.98
    assert 0 < outline.added_mm2 < 6
    assert set(_codes(outline)) <= {"thickened", "bridges"}
    assert _whole_at(outline, 1.0)


def test_island_of_an_open_letter_is_tied_back() -> None:
    """The inside of an O keeps two bridges to the plate."""
    ring = Point(30, 15).buffer(8) - Point(30, 15).buffer(4)
    text, letters = MultiPolygon([ring]), (Letter(0, "O", MultiPolygon([ring])),)
    outline = finish(Order("open", box(0, 0, 60, 30), Limits(1.0), text, letters))
    assert outline.parts == 1
    assert len(outline.bridges) == 2
    assert _whole_at(outline, 1.0)


def test_open_letters_must_stay_inside() -> None:
    """A letter over the edge would open the plate."""
    text, letters = _letters(box(50, 10, 70, 20))
    outline = finish(Order("open", box(0, 0, 60, 30), Limits(1.0), text, letters))
    assert "text-leaves-base" in _codes(outline)


def test_open_letters_become_holes() -> None:
    """What is cut out is the area of the letters."""
    text, letters = _letters(box(10, 10, 14, 20), box(20, 10, 24, 20))
    outline = finish(Order("open", box(0, 0, 60, 30), Limits(1.0), text, letters))
    assert outline.findings == ()
    assert outline.shape.area == pytest.approx(1800 - 80)
    assert len(outline.shape.interiors) == 2


def test_contour_runs_round_text_and_base() -> None:
    """The line keeps its distance and closes the gap between bar and letter."""
    text, letters = _letters(box(10, 9, 20, 20))
    rule = ContourRule(2.0, "round", 0.5, 1.0, None)
    outline = finish(Order("contour", BAR, Limits(1.0), text, letters, contour=rule))
    assert outline.parts == 1
    assert outline.shape.contains(shapely.union(BAR, text).buffer(1.98))
    assert outline.shape.bounds == pytest.approx((-2, -2, 62, 22), abs=0.01)


def test_a_hole_is_found_above_the_weight() -> None:
    """A found hole hangs the piece straight, with its wall."""
    wanted = FoundHole("round", 4.0, 4.0, "top", 2.0, tab=False)
    plate = Polygon([(0, 0), (60, 0), (60, 20), (0, 30)])
    outline = finish(Order("base", plate, Limits(1.0), found_holes=(wanted,)))
    assert outline.hang_tilt_deg == pytest.approx(0, abs=0.5)
    assert len(outline.shape.interiors) == 1
    assert outline.neck.width_mm == pytest.approx(2, abs=0.05)


def test_hang_tilt_from_areas() -> None:
    """A hole above the middle hangs straight; one to the side leans by a known angle.

    A 60 × 20 plate hung from a tiny hole 15 mm left of and 7 mm above its centre leans by
    atan(15/7) = 64.98°; one hung by its left end, 1 mm above the middle, by atan(1/28) = 2.05°.
    """
    plate = box(0, 0, 60, 20)
    for at, tilt in (((30, 17), 0.0), ((15, 17), 64.98), ((2, 11), 2.05)):
        hole = Point(at).buffer(0.05)
        outline = finish(Order("base", plate - hole, Limits(1.0), holes=(hole,)))
        assert outline.hang_tilt_deg == pytest.approx(tilt, abs=0.05)
        assert ("hangs-askew" in _codes(outline)) == (tilt > 5)
    assert finish(Order("base", plate, Limits(1.0))).hang_tilt_deg is None


def test_slits_narrower_than_the_kerf_are_filled() -> None:
    """A letter 0.1 mm off the bar's other letter leaves no line that the kerf would swallow."""
    slit = MultiPolygon([box(10, 6, 14, 18), box(14.1, 6, 18, 18)])
    pinhole = MultiPolygon([box(30, 6, 40, 18) - box(33, 8, 33.1, 12)])
    for text in (slit, pinhole):
        outline = finish(Order("weld", BAR, Limits(1.0, 0.2), text))
        assert _codes(outline) == ["thickened"]
        assert outline.shape.area > (BAR | text).area
        assert outline.shape.area < (BAR | text).area + 2
    wide = finish(Order("weld", BAR, Limits(1.0, 0.05), slit))
    assert wide.shape.area == pytest.approx((BAR | slit).area)


def test_hole_narrower_than_the_kerf_holds() -> None:
    """What the template itself draws is not filled, but said."""
    base = box(0, 0, 50, 30) - box(10, 10, 10.1, 20)
    assert "gap-narrower-than-kerf" in _codes(finish(Order("base", base, Limits(1.0, 0.2))))


def test_nothing_to_cut_is_held() -> None:
    """A contour of nothing is said, not crashed on."""
    rule = ContourRule(2.0, "round", 0.5, 1.0, None)
    outline = finish(Order("contour", Polygon(), Limits(1.0), contour=rule))
    assert _codes(outline) == ["no-outline"]


def test_a_name_inside_the_base_is_held() -> None:
    """A welded name that lies in the base would come out as a blank."""
    text, letters = _letters(box(10, 2, 14, 6), box(20, 2, 24, 6))
    assert _codes(finish(Order("weld", BAR, Limits(1.0), text, letters))) == ["text-in-base"]


def test_one_letter_inside_the_base_is_told() -> None:
    """A full stop that sinks into the bar is named."""
    tall, dot = box(10, 2, 14, 20), box(20, 2, 22, 4)
    letters = (Letter(0, "I", MultiPolygon([tall])), Letter(1, ".", MultiPolygon([dot])))
    outline = finish(Order("weld", BAR, Limits(1.0), MultiPolygon([tall, dot]), letters))
    assert _codes(outline) == ["letters-in-base"]
    assert outline.findings[0].message.startswith('"."')


def test_a_name_in_a_window_is_tied_across_it() -> None:
    """A window of the base may be crossed where nothing else can hold the name."""
    frame = box(0, 0, 60, 40) - box(5, 5, 55, 35)
    text, letters = _letters(box(20, 10, 26, 30), box(34, 10, 40, 30))
    outline = finish(Order("weld", frame, Limits(1.5), text, letters))
    assert outline.parts == 1
    assert len(outline.bridges) >= 2
    assert _whole_at(outline, 1.5)

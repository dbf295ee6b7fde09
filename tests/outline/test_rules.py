"""The outline rules on letters that are thin, stand in a window or carry marks."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.finding import is_held
from namebatch.outline import Bridge, Letter, Limits, Order, finish
from namebatch.template.model import ContourRule, Rule
from tests.outline.lettering import cores_at, ink, letters_of, plate_of

THIN = ("Göran", "Łukasz", "Jiří", "8888", "Ångström")


def _off_square_deg(bridge: Bridge) -> float:
    """How far a bar is from level or upright, whichever is nearer."""
    (x0, y0), (x1, y1) = bridge.start, bridge.end
    turn = np.degrees(np.arctan2(abs(x1 - x0), abs(y1 - y0)))
    return float(min(turn, 90 - turn))


def _counters(text: MultiPolygon) -> MultiPolygon:
    return MultiPolygon([Polygon(ring) for part in text.geoms for ring in part.interiors])


@pytest.mark.parametrize("distance", [None, 0.0, 0.2])
@pytest.mark.parametrize("name", THIN)
def test_thin_letters_are_widened_before_they_are_joined(name: str, distance: float | None) -> None:
    """Letters thinner than the least width get short square bars, none of them over a counter."""
    letters = letters_of(name, "Varela Round", 8.0)
    text = ink(letters)
    rule = None if distance is None else ContourRule(distance, "round", 0.3, 0.5, 0.8)
    how: Rule = "weld" if rule is None else "contour"
    outline = finish(Order(how, Polygon(), Limits(1.5, 0.15), text, letters, contour=rule))
    assert not is_held(outline.findings)
    assert len(cores_at(outline.shape, 1.48)) == 1
    assert len(outline.bridges) >= len(text.geoms) // 2
    for bridge in outline.bridges:
        assert _off_square_deg(bridge) < 8
        assert bridge.shape.intersection(_counters(text)).area < 0.3


def test_a_thin_stroke_is_met_where_it_is_nearest() -> None:
    """Two hairlines 2 mm apart, wide only far off, are tied across the 2 mm."""
    thin = box(0, 0, 0.6, 20) | box(-6, 18, 0.6, 21)
    other = box(2.6, 0, 3.2, 20) | box(2.6, 18, 9, 21)
    letters = tuple(Letter(i, "l", MultiPolygon([s])) for i, s in enumerate((thin, other)))
    outline = finish(Order("weld", Polygon(), Limits(1.5), ink(letters), letters))
    (bridge,) = outline.bridges
    assert Point(bridge.start).distance(Point(bridge.end)) < 3
    assert outline.parts == 1


@pytest.mark.parametrize(
    ("name", "face"),
    [
        ("Jiří", "Noto Sans SemiBold"),
        ("iiijjj", "Caveat Bold"),
        ("أحمد", "Noto Sans Arabic SemiBold"),
    ],
)
def test_two_bars_hold_a_name_in_a_window(name: str, face: str) -> None:
    """Marks of a name in a window stay with their letters; two square bars reach the frame."""
    letters = letters_of(name, face, 15.0)
    text = ink(letters)
    x0, y0, x1, y1 = text.bounds
    window = box(x0 - 3, y0 - 3, x1 + 3, y1 + 3)
    frame = window.buffer(4, join_style="mitre") - window
    assert isinstance(frame, Polygon)
    outline = finish(Order("weld", frame, Limits(1.5, 0.15), text, letters))
    assert not is_held(outline.findings)
    across = [bridge for bridge in outline.bridges if bridge.shape.intersects(frame)]
    assert len(across) == 2
    level = [bridge for bridge in outline.bridges if abs(bridge.start[1] - bridge.end[1]) < 0.01]
    assert len(level) >= len([1 for letter in letters if len(letter.text) == 1]) // 2 - 1
    assert all(_off_square_deg(bridge) < 2 for bridge in across)


@pytest.mark.parametrize(
    ("name", "face", "cap_mm"),
    [
        ("Ọ", "Noto Sans SemiBold", 8.0),
        ("Đặng", "Nunito ExtraBold", 7.0),
        ("Ř", "Noto Sans SemiBold", 9.0),
    ],
)
def test_bars_of_open_letters_leave_marks_whole(name: str, face: str, cap_mm: float) -> None:
    """A bar to the inside of a letter ends in the web between the letter and its mark."""
    letters = letters_of(name, face, cap_mm)
    base, plate = plate_of(letters)
    outline = finish(Order("open", base, Limits(1.2, 0.15), ink(letters), letters))
    assert not is_held(outline.findings)
    bars = shapely.union_all([bridge.shape for bridge in outline.bridges])
    marked = [letter for letter in letters if len(letter.shape.geoms) > 1]
    assert marked
    for letter in marked:
        parts = sorted(letter.shape.geoms, key=lambda part: part.area)
        for mark in parts[:-1]:
            seen = shapely.difference(mark, outline.shape)
            assert isinstance(seen, Polygon), "a mark stays in one piece"
            assert bars.intersection(mark).area < 0.15 * mark.area
    assert plate.area < outline.shape.area

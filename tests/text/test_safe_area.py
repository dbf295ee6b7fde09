"""The safe area: the largest text anywhere in it, and never a hair outside."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, affinity

from namebatch.finding import Finding
from namebatch.template.textbox import SafeArea, TextBox
from namebatch.text.batch import common_size
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from tests.text.conftest import text_box

KITE = Polygon([(18, 56), (36, 36), (18, 0), (0, 36)]).difference(Point(18, 45).buffer(2.5, 32))
TAG = shapely.box(0, 0, 60, 28).difference(Point(7, 14).buffer(3, 32))
MOON = Point(30, 30).buffer(30, 64).difference(Point(42, 36).buffer(24, 64))
AREAS = {
    "kite": KITE.buffer(-2, quad_segs=32),
    "tag": TAG.buffer(-2, quad_segs=32),
    "disc": Point(20, 20).buffer(18, 64),
    "moon": MOON.buffer(-1),
}
TEXTS = {
    "Al": "Noto Sans SemiBold",
    "Saltmarsh": "Noto Sans SemiBold",
    "Pacifico": "Pacifico",
    "محمد": "Noto Sans Arabic SemiBold",
}


def box_in(area: Polygon, largest: float = 200.0, least: float = 0.5) -> TextBox:
    """A box whose place is an area."""
    box = text_box(largest=largest, least=least)
    return replace(box, place=SafeArea(2.0, area), made="outline")


def set_in(text: str, area: Polygon, largest: float = 200.0) -> SetText:
    """A text that fits."""
    font = TEXTS.get(text, "Noto Sans SemiBold")
    result = fit(text, [load_catalogue().open(font)], box_in(area, largest))
    assert isinstance(result, SetText), result
    return result


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
@pytest.mark.parametrize("text", TEXTS)
def test_cannot_be_grown_by_one_per_cent(text: str, area: Polygon) -> None:
    """No place of a fine grid takes the same ink one per cent larger; as it is, it is inside.

    By brute force, with the exact test of containment and no part of the search.
    """
    found = set_in(text, area)
    assert shapely.buffer(area, 1e-5).contains(found.shape)
    x0, y0, x1, y1 = area.bounds
    a0, b0, a1, b1 = found.shape.bounds
    larger = affinity.scale(found.shape, 1.01, 1.01, origin=(a0, b0))
    width, height = 1.01 * (a1 - a0), 1.01 * (b1 - b0)
    hull = larger.convex_hull if area.equals(area.convex_hull) else larger
    shapely.prepare(area)
    xs = np.arange(x0, max(x1 - width, x0) + 1e-9, 0.05 if x1 - width < x0 + 3 else 0.15)
    ys = np.arange(y0, max(y1 - height, y0) + 1e-9, 0.05 if y1 - height < y0 + 3 else 0.15)
    points = shapely.get_coordinates(hull)
    sample = points[:: max(1, len(points) // 24)]
    for x in xs:
        for y in ys:
            # a few corners first: most places fail by them
            if not shapely.contains_xy(area, sample + (x - a0, y - b0)).all():
                continue
            assert not area.contains(affinity.translate(hull, x - a0, y - b0)), (x, y)


def test_in_a_rectangle_it_is_the_closed_form() -> None:
    """In a rectangle the largest size is the lesser of width / width and height / height."""
    area = shapely.box(0, 0, 50, 12)
    one = set_in("Saltmarsh", shapely.box(0, 0, 1000, 1000), 1.0).shape.bounds
    found = set_in("Saltmarsh", area)
    size = min(50 / (one[2] - one[0]), 12 / (one[3] - one[1]))
    assert found.height_mm == pytest.approx(size, rel=4e-3)
    assert found.height_mm <= size


def test_among_equal_places_the_middle_is_taken() -> None:
    """A short text in a long area stands in the middle of it, as high as wide."""
    found = set_in("HOH", shapely.box(0, 0, 200, 12), 6.0)
    x0, y0, x1, y1 = found.shape.bounds
    assert (x0 + x1) / 2 == pytest.approx(100, abs=0.2)
    assert (y0 + y1) / 2 == pytest.approx(6, abs=0.2)


def test_with_room_to_spare_it_keeps_off_the_edge() -> None:
    """Where the very middle is not free, a short text does not stand right at the margin."""
    found = set_in("Al", AREAS["moon"], 7.0)
    assert found.height_mm == 7.0
    assert found.shape.distance(AREAS["moon"].exterior) > 0.5


def test_names_of_a_batch_sit_alike() -> None:
    """Where there is room, names of the largest height have the same baseline."""
    found = [set_in(text, AREAS["disc"], 5.0) for text in ("Ann", "Jyg", "Åsa")]
    assert {round(f.height_mm, 6) for f in found} == {5.0}
    assert len({round(f.baseline_mm, 9) for f in found}) == 1


def test_two_lines_where_one_would_be_too_small() -> None:
    """In a narrow area a long name is broken, and both lines are inside."""
    face = [load_catalogue().open("Noto Sans SemiBold")]
    area = AREAS["kite"]
    result = fit("Bartholomew Glasswort", face, box_in(area, 9.0, 3.0))
    assert isinstance(result, SetText)
    assert [note.code for note in result.notes] == ["two-lines"]
    assert shapely.buffer(area, 1e-5).contains(result.shape)


def test_what_fits_nowhere_is_held_with_its_figure() -> None:
    """A text that could only be tiny is held, with the height at which it would fit."""
    face = [load_catalogue().open("Noto Sans")]
    result = fit("Bartholomew-Maximilian", face, box_in(AREAS["kite"], 9.0, 6.0))
    assert isinstance(result, Finding)
    assert "fits only at" in result.message


def test_one_size_for_a_batch_in_a_safe_area() -> None:
    """The height that the longest name reaches is set for all, and all of them fit."""
    box = box_in(AREAS["kite"], 12.0)
    box = replace(box, sizing=replace(box.sizing, steps=(), alike=True))
    faces = [load_catalogue().open("Noto Sans SemiBold")]
    names = ["Bo", "Saltmarsh", "Tove Lymegrass"]
    common = common_size(names, faces, box)
    assert common is not None
    for name in names:
        result = fit(name, faces, box, common=common)
        assert isinstance(result, SetText)
        assert result.height_mm == pytest.approx(common.height_mm, abs=1e-6)
        assert result.notes == ()


def test_same_input_same_place() -> None:
    """The search has no luck in it."""
    one, other = (set_in("Pacifico", AREAS["moon"]) for _ in range(2))
    assert one.shape.wkb == other.shape.wkb

"""Regions of arcs and lines: what ink may take of a piece."""

from dataclasses import replace
from math import pi, radians

import numpy as np
import pytest
import shapely
from shapely import LineString

from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.regions import fold_at, region_of, sector, with_room
from namebatch.template.textbox import AlongPath, Arc, SafeArea, Side, TextBox
from tests.text.conftest import text_box

RIGHT = LineString([(10, 5), (50, 5)])


def on(place: Arc | AlongPath | SafeArea | None) -> TextBox:
    """A text box in a place."""
    return replace(text_box(20, 6), place=place)


def arc(sweep: float, side: Side = "outside") -> Arc:
    """An arc about (30, 30)."""
    return Arc((30.0, 30.0), 20.0, 90.0, sweep, side, "turned", (1.0, 5.0))


@pytest.mark.parametrize("sweep", [10.0, 150.0, 359.0, 360.0])
@pytest.mark.parametrize("side", ["outside", "inside"])
def test_sector_of_a_ring(sweep: float, side: Side) -> None:
    """Closed form: its area is half the angle times the difference of the squared radii."""
    found = sector(arc(sweep, side), (1.0, 5.0))
    low, high = (19.0, 25.0) if side == "outside" else (15.0, 21.0)
    assert found.is_valid
    assert found.area == pytest.approx(radians(sweep) / 2 * (high**2 - low**2), rel=1e-4)
    assert not found.contains(shapely.Point(30, 30))


def test_region_of_each_place() -> None:
    """A rectangle is its box, a line its strip, a safe area itself."""
    assert region_of(on(None)).equals(shapely.box(10, 20, 30, 26))
    strip = region_of(on(AlongPath("hem", RIGHT, "turned", (1.0, 4.0))))
    assert strip.equals(shapely.box(10, 4, 50, 9))
    area = shapely.Point(0, 0).buffer(3)
    assert region_of(on(SafeArea(2.0, area))).equals(area)
    assert region_of(on(arc(150))).area == pytest.approx(
        radians(150) / 2 * (25**2 - 19**2), rel=1e-4
    )


def test_strip_along_a_closed_line_goes_round() -> None:
    """Of a circle it is the ring beside it, and valid."""
    angle = np.linspace(0, -2 * pi, 800)
    ring = LineString(20 * np.column_stack([np.cos(angle), np.sin(angle)]))
    region = region_of(on(AlongPath("rim", ring, "turned", (1.0, 4.0))))
    assert region.is_valid
    assert region.area == pytest.approx(pi * (24**2 - 19**2), rel=0.01)


def test_less_room_than_there_is_changes_nothing() -> None:
    """Room only grows."""
    box = on(arc(150))
    found = with_room(box, (0.5, 7.0))
    assert found.place == replace(arc(150), room_mm=(1.0, 7.0))


def test_fold_is_found_on_its_side() -> None:
    """Letters above a line that bends to the left fold there; below it they do not."""
    angle = np.linspace(0, pi, 400)
    left = LineString(5 * np.column_stack([np.cos(angle), np.sin(angle)]))
    found = fold_at(left, (1.0, 6.0))
    assert found is not None
    assert found[0] == 1
    assert fold_at(left, (6.0, 1.0)) is None


def test_letters_of_bundled_templates_cannot_leave_the_piece() -> None:
    """Where ink on an arc or a line may be, there is base beneath it."""
    seen = 0
    for name in bundled_templates():
        template = load_template(find_template(name))
        for box in template.boxes:
            free = template.rule in ("weld", "contour") or box.made == "outline"
            if isinstance(box.place, Arc | AlongPath) and box.face == "front" and not free:
                off = shapely.difference(region_of(box), template.base)
                assert off.area < 0.01, f"{name}: {box.name}"
                seen += 1
    assert seen > 3

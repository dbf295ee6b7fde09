"""Holes that are found: the place, the wall, the tilt, and the tab where there is no room."""

from math import atan2, degrees, hypot, pi, sqrt
from typing import Literal

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, affinity, box

from namebatch.errors import OutlineError
from namebatch.finding import Finding, Severity
from namebatch.outline.contour import contour
from namebatch.outline.hang import hang_by_hole
from namebatch.outline.place_hole import EDGES, PlacedHole, hang_about, place_hole
from namebatch.template.model import Near

Kind = Literal["round", "slot"]
WALL = 2.0

coordinates = st.floats(0, 50).map(lambda value: round(value, 2))
plates = st.lists(
    st.tuples(coordinates, coordinates, st.floats(2, 12), st.floats(2, 12)), min_size=1, max_size=6
).map(
    lambda many: max(
        shapely.get_parts(
            contour(shapely.union_all([box(x, y, x + w, y + h) for x, y, w, h in many]), 1)
        ),
        key=lambda part: part.area,
    )
)


def _placed(found: PlacedHole | Finding) -> PlacedHole:
    assert isinstance(found, PlacedHole), found
    return found


def _walls(found: PlacedHole) -> float:
    """The least distance from the hole to every other ring of the piece."""
    rings = [found.shape.exterior, *found.shape.interiors]
    others = [ring for ring in rings if not Polygon(ring).buffer(0.01).contains(found.hole)]
    around = [ring for ring in rings if Polygon(ring).area > found.hole.area * 1.01]
    return float(min(ring.distance(found.hole) for ring in {*others, *around}))


def _centroid(shape: Polygon) -> tuple[float, float]:
    """Second method: moments of a triangle fan over all rings, in numpy."""
    area = x = y = 0.0
    for ring, sign in [(shape.exterior, 1.0)] + [(hole, -1.0) for hole in shape.interiors]:
        p = shapely.get_coordinates(ring)
        cross = p[:-1, 0] * p[1:, 1] - p[1:, 0] * p[:-1, 1]
        own = abs(cross.sum()) / 2
        turn = np.sign(cross.sum())
        area += sign * own
        x += sign * turn * ((p[:-1, 0] + p[1:, 0]) * cross).sum() / 6
        y += sign * turn * ((p[:-1, 1] + p[1:, 1]) * cross).sum() / 6
    return x / area, y / area


def test_plate() -> None:
    """On a plate the hole is in the middle, as near to the edge as its wall allows."""
    found = _placed(place_hole(box(0, 0, 80, 40), "round", 4, "top", WALL))
    at = found.hole.centroid
    assert (at.x, at.y) == pytest.approx((40, 36), abs=0.006)
    assert (found.tab, found.over_ink) == (None, False)
    assert found.tilt_deg == pytest.approx(0, abs=1e-6)
    assert found.shape.area == pytest.approx(3200 - pi * 4, abs=0.02)


@pytest.mark.parametrize(
    ("near", "at"), [("bottom", (40, 4)), ("left", (4, 20)), ("right", (76, 20))]
)
def test_every_edge(near: Near, at: tuple[float, float]) -> None:
    """The other edges are the top, turned."""
    found = _placed(place_hole(box(0, 0, 80, 40), "round", 4, near, WALL))
    assert found.hole.centroid.coords[0] == pytest.approx(at, abs=0.006)
    assert found.tilt_deg == pytest.approx(0, abs=1e-6)


def test_triangle_in_closed_form() -> None:
    """In a right triangle the hole is above its third points, at the wall from the slope."""
    found = _placed(
        place_hole(Polygon([(0, 0), (60, 0), (0, 30)]), "round", 3, "top", WALL, tab=False)
    )
    at = found.hole.centroid
    assert at.x == pytest.approx(20, abs=1e-6)
    # The slope is y = 30 − x/2; a line at distance r from it is higher by r·√(1 + 1/4).
    assert at.y == pytest.approx(30 - 10 - 3.5 * sqrt(1.25), abs=0.01)


def test_ell_in_closed_form() -> None:
    """By its left edge, an L hangs from the height of its centre of mass."""
    ell = box(0, 0, 50, 8) | box(0, 8, 8, 40)
    height = (400 * 4 + 256 * 24) / 656
    found = _placed(place_hole(ell, "round", 3, "left", 1.5))
    assert found.hole.centroid.coords[0] == pytest.approx((3.0, height), abs=0.006)
    assert found.tilt_deg < 1e-6
    assert found.tab is None


def test_corner_of_a_square() -> None:
    """By its corner a square hangs from the diagonal."""
    found = _placed(place_hole(box(0, 0, 40, 40), "round", 4, "top-left", WALL))
    at = found.hole.centroid
    assert (at.x, at.y) == pytest.approx((4, 36), abs=0.01)
    assert found.tilt_deg < 1e-6


def test_at_a_point() -> None:
    """Near a point is at it, where there is room; the tilt is that of the drawing."""
    plate = box(0, 0, 80, 40)
    found = _placed(place_hole(plate, "round", 4, (10, 30), WALL))
    assert found.hole.centroid.coords[0] == pytest.approx((10, 30))
    assert found.tilt_deg == pytest.approx(hang_by_hole(found.shape, found.hole, "top").tilt_deg)
    pushed = _placed(place_hole(plate, "round", 4, (1, 30), WALL))
    assert pushed.hole.centroid.coords[0] == pytest.approx((4, 30), abs=0.006)


def test_slot_lies_along_the_edge() -> None:
    """A slot lies across the way it hangs, its wall as wide at its ends."""
    upright = _placed(place_hole(box(0, 0, 40, 80), "slot", 3, "top", WALL, length_mm=12))
    x0, y0, x1, y1 = upright.hole.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((12, 3))
    assert y1 == pytest.approx(78, abs=0.01)
    turned = _placed(place_hole(box(0, 0, 40, 80), "slot", 3, "left", WALL, length_mm=12))
    x0, y0, x1, y1 = turned.hole.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((3, 12))


def test_slot_in_a_roof() -> None:
    """Under a roof of 45° the slot's ends, not its middle, keep it down."""
    roof = Polygon([(0, 0), (60, 0), (30, 30)])
    found = _placed(place_hole(roof, "slot", 3, "top", WALL, length_mm=9, tab=False))
    assert found.hole.centroid.y == pytest.approx(30 - 3 - 3.5 * sqrt(2), abs=0.02)


def test_tab_on_a_bar() -> None:
    """A bar lower than hole and walls grows an ear, the hole's centre on the bar's edge."""
    bar = box(0, 0, 60, 6)
    found = _placed(place_hole(bar, "round", 4, "top", WALL))
    assert found.tab is not None
    assert found.hole.centroid.coords[0] == pytest.approx((30, 6), abs=0.05)
    assert _walls(found) >= WALL
    assert found.tilt_deg < 0.5
    # half a disc of 4 mm outside of the bar, and two flanks in arcs of the same radius: each is
    # between the edge, the ear and an arc that touches both
    ear = found.shape.area - (bar.area - found.hole.area)
    flank = 4 * 4 * sqrt(3) / 2 - pi * 16 / 12 - pi * 16 / 6
    assert ear == pytest.approx(pi * 16 / 2 + 2 * flank, rel=0.01)


def test_tab_joins_in_tangents() -> None:
    """Where ear and piece meet there is no inside corner: closing it adds nothing."""
    found = _placed(place_hole(box(0, 0, 60, 6), "round", 4, "top", WALL))
    closed = found.shape.buffer(1.5, 64).buffer(-1.5, 64)
    filled = Polygon(closed.exterior).area - Polygon(found.shape.exterior).area
    assert abs(filled) < 0.02


def test_tab_off_the_middle_keeps_it_straight() -> None:
    """On a slope the tab moves the centre of mass, and is itself moved until both agree."""
    wedge = Polygon([(0, 0), (60, 0), (60, 3), (0, 9)])
    found = _placed(place_hole(wedge, "round", 5, "top", 2.5))
    assert found.tab is not None
    assert found.tilt_deg < 0.05 + 1e-9
    x, _ = _centroid(found.shape)
    assert abs(x - found.hole.centroid.x) < 0.01
    assert abs(x - wedge.centroid.x) > 0.02


@settings(max_examples=60, deadline=None)
@given(plates, st.sampled_from(EDGES), st.sampled_from(["round", "slot"]), st.booleans())
def test_walls_tilt_and_wholeness(plate: Polygon, near: Near, kind: Kind, tab: bool) -> None:
    """Any piece: the wall holds, it stays one part, and the tilt is right by a second method."""
    found = place_hole(plate, kind, 3, near, WALL, length_mm=6, tab=tab)
    if isinstance(found, Finding):
        assert (found.code, found.severity) == ("no-room-for-hole", Severity.HOLD)
        return
    shape, hole = found.shape, found.hole
    assert shape.is_valid
    assert len(shape.interiors) == len(plate.interiors) + 1
    assert _walls(found) >= WALL - 0.004
    # nothing but the hole is taken away, nothing but the tab is added, hairs beside it left out
    seen = 1e-6 if found.tab is None else 1e-3
    assert plate.difference(shape.union(hole)).area < seen
    added = shape.difference(plate)
    assert (added if found.tab is None else added.difference(found.tab)).area < seen
    x, y = _centroid(shape)
    assert (shape.centroid.x, shape.centroid.y) == pytest.approx((x, y), abs=1e-6)
    ways: dict[str, tuple[float, float]] = {
        "top": (0, 1), "bottom": (0, -1), "left": (-1, 0), "right": (1, 0),
    }  # fmt: skip
    if near in ways:
        pin, up = hole.centroid, ways[near]
        length = hypot(pin.x - x, pin.y - y)
        upright = ((pin.x - x) * up[0] + (pin.y - y) * up[1]) / length
        assert np.cos(np.radians(found.tilt_deg)) == pytest.approx(upright, abs=1e-6)
        assert upright > 0
    assert found.tilt_deg == pytest.approx(hang_about(shape, hole, near, plate).tilt_deg, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(plates, st.sampled_from(EDGES[:4]))
def test_straight_where_the_middle_line_has_room(plate: Polygon, near: Near) -> None:
    """If hole and walls fit above the centre of mass, the piece hangs straight."""
    found = place_hole(plate, "round", 2, near, 1)
    ups = {"top": 0, "right": 90, "bottom": 180, "left": 270}
    frame = affinity.rotate(plate, ups[near], origin=(0, 0))
    mass = frame.centroid
    line = shapely.LineString([(mass.x, mass.y + 1.1), (mass.x, frame.bounds[3])])
    if line.length > 0 and frame.bounds[3] > mass.y + 1.1 and line.intersects(frame.buffer(-2.1)):
        assert _placed(found).tilt_deg < 2.5


def test_lettering_is_kept_clear() -> None:
    """A hole gives way to lettering: onto a tab, or below it where none may be grown."""
    plate, ink = box(0, 0, 80, 40), box(20, 30, 60, 39)
    above = _placed(place_hole(plate, "round", 4, "top", WALL, avoid=ink))
    assert above.tab is not None
    assert above.hole.distance(ink) >= 0.99
    below = _placed(place_hole(plate, "round", 4, "top", WALL, avoid=ink, tab=False))
    assert below.hole.centroid.y == pytest.approx(27, abs=0.01)
    assert not above.over_ink
    assert not below.over_ink


def test_lettering_everywhere_is_said() -> None:
    """Where there is no other place the lettering is cut, and it is said."""
    plate = box(0, 0, 80, 40)
    found = _placed(place_hole(plate, "round", 4, "top", WALL, avoid=plate, tab=False))
    assert found.over_ink


def test_an_opening_is_no_place_for_a_tab() -> None:
    """A ring's tab grows outwards and leaves the opening whole."""
    ring = Point(0, 0).buffer(25, 64) - Point(0, 0).buffer(22, 64)
    found = _placed(place_hole(ring, "round", 4, "top", WALL))
    assert found.tab is not None
    assert _walls(found) >= WALL
    assert max(Polygon(r).area for r in found.shape.interiors) == pytest.approx(
        Polygon(ring.interiors[0]).area, abs=1e-6
    )


def test_a_tab_is_raised_until_its_hole_is_high_enough() -> None:
    """Where the edge lies hardly above the centre of mass the tab is a little taller."""
    shape = box(0, 0, 60, 30) - box(10, 13, 50, 31)
    found = _placed(place_hole(shape, "round", 3.5, "top", 2.2))
    assert found.tab is not None
    assert found.hole.centroid.x == pytest.approx(30, abs=0.05)
    assert found.tilt_deg < 0.5


def test_where_nothing_hangs_straight_the_tilt_is_told() -> None:
    """A U has nothing above its centre of mass: it hangs from an arm, and leans."""
    shape = box(0, 0, 40, 40) - box(6, 6, 34, 41)
    found = _placed(place_hole(shape, "round", 4, "top", WALL))
    x, y = _centroid(found.shape)
    pin = found.hole.centroid
    assert found.tilt_deg == pytest.approx(abs(degrees(atan2(pin.x - x, pin.y - y))), abs=1e-6)
    assert found.tilt_deg > 20


def test_no_room_is_a_hold() -> None:
    """A bar without room and without a tab is held, with the sizes in the reason."""
    found = place_hole(box(0, 0, 60, 4), "round", 4, "top", WALL, tab=False)
    assert isinstance(found, Finding)
    assert found.severity is Severity.HOLD
    assert "4 × 4 mm with a wall of 2 mm" in found.message


@pytest.mark.parametrize(("width", "length", "wall"), [(0, 5, 2), (4, 3, 2), (4, 5, -1)])
def test_sizes_that_make_no_hole(width: float, length: float, wall: float) -> None:
    """Sizes below zero, or a slot shorter than wide, are refused."""
    with pytest.raises(OutlineError, match="cannot be made"):
        place_hole(box(0, 0, 80, 40), "slot", width, "top", wall, length_mm=length)


def test_an_unknown_edge() -> None:
    """A wrong edge is named, with the right ones."""
    with pytest.raises(OutlineError, match='near "upper"; say one of top, bottom'):
        place_hole(box(0, 0, 80, 40), "round", 4, "upper", WALL)  # type: ignore[arg-type]


def test_the_same_twice() -> None:
    """The same shape gives the same place, to the last bit."""
    shape = contour(Point(0, 0).buffer(9) | box(5, 3, 30, 6), 1)
    first, again = (_placed(place_hole(shape, "round", 4, "right", WALL)) for _ in range(2))
    assert first.shape.equals_exact(again.shape)
    assert first.hole.equals_exact(again.hole)


def test_a_plain_place_goes_before_a_tab() -> None:
    """A shape that hangs straight to two degrees by a hole in it grows no tab for the rest."""
    # the knob lifts the centre of mass above the room in the bar
    sign = shapely.union(box(0, 0, 150, 12), box(30, 12, 80, 22))
    found = _placed(place_hole(sign, "round", 4, "left", WALL))
    assert found.tab is None
    assert 0 < found.tilt_deg < 2
    assert found.hole.centroid.x == pytest.approx(4, abs=0.01)


def test_pieces_of_a_batch_have_their_hole_in_one_place() -> None:
    """What stands out of the base moves the hole only if the piece would be seen to lean."""
    bare = box(0, 0, 150, 12)
    names = [box(10, 12, x, y) for x, y in ((40, 16), (90, 15), (20, 22), (50, 18))]
    signs = [shapely.union(bare, name) for name in names]
    holes = [_placed(place_hole(x, "round", 4, "left", WALL, bare=bare)) for x in signs]
    assert {tuple(np.round(found.hole.centroid.coords[0], 6)) for found in holes} == {(4.004, 6.0)}
    assert max(found.tilt_deg for found in holes) < 1
    high = shapely.union(bare, box(10, 12, 110, 22))
    moved = _placed(place_hole(high, "round", 4, "left", WALL, bare=bare))
    assert moved.hole.centroid.y > 7


def test_the_usual_place_is_left_where_lettering_lies() -> None:
    """The place of the other pieces is no place if a letter is there."""
    bare, ink = box(0, 0, 150, 12), box(2, 5, 9, 7)
    found = _placed(place_hole(bare, "round", 4, "left", WALL, bare=bare, avoid=ink, tab=False))
    assert found.hole.distance(ink) >= 0.79


@pytest.mark.parametrize(("free", "least"), [(9.0, 0.99), (5.2, 0.49), (4.6, 0.24)])
def test_clearance_is_less_where_there_is_less_room(free: float, least: float) -> None:
    """A hole keeps a quarter of its width off lettering, half of that, or half of that again."""
    plate = box(0, 0, 80, 20)
    ink = shapely.union(box(2, 2, 40 - free / 2, 18), box(40 + free / 2, 2, 78, 18))
    found = _placed(place_hole(plate, "round", 4, "top", WALL, avoid=ink, tab=False))
    assert not found.over_ink
    assert found.hole.distance(ink) >= least


def test_a_hole_is_not_read_as_part_of_a_letter() -> None:
    """It leaves the counter of a letter on the shape for a place that leans a little."""
    plate = box(0, 0, 80, 200)
    letter = box(36, 180, 45, 199) - box(36.8, 182, 44.2, 197)
    options = {"avoid": letter, "tab": False}
    inside = _placed(place_hole(plate, "round", 4, "top", WALL, **options))
    assert letter.convex_hull.contains(inside.hole)
    beside = _placed(
        place_hole(plate, "round", 4, "top", WALL, letters=letter.convex_hull, **options)
    )
    assert not letter.convex_hull.intersects(beside.hole)

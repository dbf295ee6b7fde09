"""Contours by rolling a disc, told by distances of GEOS from the shapes."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline.contour import CHORD_MM, SIMPLER_MM
from namebatch.outline.rolled import rolled_round
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line
from tests.outline.rough import comb

NAMES = [
    ("Lobster", "Bartholomew"),
    ("Caveat", "Ångström"),
    ("Noto Sans Devanagari", "क्षितिज"),
    ("Noto Sans Arabic SemiBold", "نورة"),
]
LENGTHS = [(2.6, 5.2), (2.0, 0.5), (0.3, 1.5), (1.5, 0.3)]
places = st.floats(0, 30)
lumps = st.lists(st.tuples(places, places, st.floats(0.2, 8), st.booleans()), max_size=8)


def _rolled(shapes: shapely.Geometry, distance: float, closing: float) -> Polygon | None:
    return rolled_round(shapes, distance, closing, CHORD_MM, SIMPLER_MM)


def _parts_by_buffers(shapes: shapely.Geometry, distance: float, closing: float) -> int:
    """How many parts the line has where GEOS grows the shapes and takes them back."""
    grown = shapely.buffer(shapes, distance + closing, quad_segs=60)
    filled = shapely.union_all([Polygon(part.exterior) for part in shapely.get_parts(grown)])
    return len(shapely.get_parts(shapely.buffer(filled, -closing, quad_segs=60)))


def _wrong_mm(line: Polygon, shapes: shapely.Geometry, distance: float, closing: float) -> float:
    """How far a line is from being the right one, by distances from the shapes alone.

    No place of it may be nearer to them than asked, and each must be touched by a disc that lies
    outside: one whose middle is no nearer to the shapes than distance and radius together.
    """
    line_at = shapely.get_coordinates(shapely.segmentize(line.exterior, 0.2))
    shapely.prepare(shapes)
    near = shapely.distance(shapely.points(line_at), shapes)
    far = line_at[near > distance + 0.002]  # all others lie where they should
    at, room = np.zeros(len(far)), np.zeros(len(far))
    for around in (np.linspace(0, 2 * np.pi, 361), np.linspace(-0.02, 0.02, 41)):
        angles = at[:, None] + around
        ways = closing * np.stack([np.cos(angles), np.sin(angles)], axis=2)
        rooms = shapely.distance(shapely.points(far[:, None, :] + ways), shapes)
        at, room = angles[np.arange(len(far)), rooms.argmax(axis=1)], rooms.max(axis=1)
    return float(max(distance - near.min(), np.max(distance + closing - room, initial=0.0)))


@pytest.mark.parametrize(("font", "text"), NAMES)
@pytest.mark.parametrize(("distance", "closing"), LENGTHS)
def test_a_name_has_the_right_line(font: str, text: str, distance: float, closing: float) -> None:
    """A name has the one right line, or none where it falls into parts."""
    face = load_catalogue().open(font)
    ink = ink_of(set_line(face, text, 12), 12 / face.cap_height, 0, 0)
    found = _rolled(ink, distance, closing)
    if _parts_by_buffers(ink, distance, closing) > 1:
        assert found is None
    else:
        assert found is not None
        assert _wrong_mm(found, ink, distance, closing) < 0.006


@settings(max_examples=40, deadline=None)
@given(lumps, st.floats(0.05, 5), st.floats(0.05, 8))
def test_lumps_have_the_right_line(
    heap: list[tuple[float, float, float, bool]], distance: float, closing: float
) -> None:
    """Whatever shapes overlap or lie apart have the right line, or none."""
    shapes = shapely.union_all(
        [
            Point(x, y).buffer(r) if round_ else box(x - r, y - r, x + r, y + r)
            for x, y, r, round_ in heap
        ]
    )
    found = _rolled(shapes, distance, closing)
    if found is not None:
        assert found.is_valid
        assert shapely.covers(found, shapes)
        # between two shapes the disc's best place may lie between two that were tried
        assert _wrong_mm(found, shapes, distance, closing) < 0.03


@pytest.mark.parametrize("rough_mm", [0.05, 1.0, 8.0])
def test_a_rough_edge_has_the_right_line(rough_mm: float) -> None:
    """A circle whose every point is a little or far off, as a bad trace or a saw blade."""
    random = np.random.default_rng(4)
    angles = np.linspace(0, 2 * np.pi, 1000, endpoint=False)
    radii = 20 + rough_mm * random.uniform(-1, 1, len(angles))
    rough = Polygon(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1))
    assert rough.is_valid
    found = _rolled(rough, 2.6, 5.2)
    assert found is not None
    assert shapely.covers(found, rough)
    assert _wrong_mm(found, rough, 2.6, 5.2) < 0.006


def test_most_heaps_are_rolled_round() -> None:
    """The quick way is taken where it can be: of 200 heaps of discs in one part, all but few."""
    random = np.random.default_rng(11)
    taken = 0
    for _ in range(200):
        steps = np.cumsum(random.uniform(-4, 6, (7, 2)), axis=0)
        discs = shapely.buffer(shapely.points(steps), random.uniform(0.5, 4, 7))
        heap = shapely.union_all([shapely.LineString(steps).buffer(1), *discs])
        taken += _rolled(heap, 1.5, 2.0) is not None
    assert taken >= 180


def test_two_far_apart_are_for_buffers() -> None:
    """Two shapes that the line does not join have no line in one ring."""
    assert _rolled(MultiPolygon([box(0, 0, 5, 5), box(30, 0, 35, 5)]), 2, 3) is None


def test_a_neck_that_the_disc_cuts_is_for_buffers() -> None:
    """Grown together by a thin neck only, two shapes fall apart again when they are taken back."""
    two = MultiPolygon([Point(0, 0).buffer(3), Point(15.8, 0).buffer(3)])
    assert _parts_by_buffers(two, 1, 4) == 2
    assert _rolled(two, 1, 4) is None


@pytest.mark.parametrize(
    "shapes",
    [
        Polygon(),
        MultiPolygon(),
        shapely.LineString([(0, 0), (5, 5)]),
        shapely.GeometryCollection([box(0, 0, 5, 5), Point(2, 2)]),
    ],
)
def test_other_things_than_polygons_are_for_buffers(shapes: shapely.Geometry) -> None:
    """Lines, points and nothing at all have no such line."""
    assert _rolled(shapes, 2, 3) is None


@pytest.mark.parametrize(("distance", "closing"), [(0.0, 2.0), (2.0, 0.0), (8.0, 0.5)])
def test_a_small_disc_or_none_is_for_buffers(distance: float, closing: float) -> None:
    """Arcs of no radius, or of one too small for its place to be known, are not drawn."""
    assert _rolled(box(0, 0, 10, 5), distance, closing) is None


def test_a_line_of_kilometres_is_for_buffers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Points along it would fill the memory: none are made."""
    monkeypatch.delattr(shapely, "segmentize")
    assert _rolled(comb(2_000, width=900, deep=900), 0.2, 0.2) is None


def test_area_and_length_round_a_rectangle() -> None:
    """Steiner's formulas (Gruber, Convex and Discrete Geometry, 2007, theorem 6.6)."""
    found = _rolled(box(0, 0, 100, 50), 0.1, 2)
    assert found is not None
    assert found.area == pytest.approx(5030.0314, abs=0.3)
    assert found.length == pytest.approx(300.6283, abs=0.05)


def test_inside_corner_in_closed_form() -> None:
    """An L with five corners out and one in, which is filled by r²·(1 − π/4)."""
    ell = box(0, 0, 40, 12) | box(0, 0, 12, 30)
    d, r = 2.0, 1.5
    found = _rolled(ell, d, r)
    assert found is not None
    area = ell.area + ell.length * d + 5 * np.pi * d * d / 4 - d * d + r * r * (1 - np.pi / 4)
    assert found.area == pytest.approx(area, abs=0.003 * ell.length)


def test_the_same_whichever_way_rings_run() -> None:
    """Points of a ring may run either way round."""
    ring = shapely.union_all([Point(0, 0).buffer(5), Point(7, 1).buffer(3)]).exterior
    one, other = (_rolled(Polygon(points), 1, 2) for points in (ring.coords, ring.coords[::-1]))
    assert one is not None
    assert other is not None
    assert shapely.hausdorff_distance(one.exterior, other.exterior) < 1e-6

"""Bridges of welded outlines: everything joined at full width, and where a maker wants them."""

import time
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline.cores import cores_of
from namebatch.outline.join import Joined, join_parts
from namebatch.outline.model import Bridge, Letter
from tests.outline.lettering import cores_at, corpus, ink, letters_of, on_bar

NO_HOLES = MultiPolygon()
WIDTHS = (1.0, 1.5, 2.0)
CORPUS = corpus(5)


def _parts(shape: shapely.Geometry) -> int:
    return len(shapely.get_parts(shape))


def _lean(bridge: Bridge) -> float:
    """Degrees from upright, to the right."""
    (x0, y0), (x1, y1) = sorted([bridge.start, bridge.end], key=lambda p: p[1])
    return float(np.degrees(np.arctan2(x1 - x0, y1 - y0)))


def _check(before: shapely.Geometry, joined: Joined, width: float) -> None:
    assert isinstance(joined.shape, Polygon)
    assert joined.shape.is_valid
    assert len(cores_at(joined.shape, width - 0.01)) == 1
    assert len(joined.bridges) >= _parts(before) - 1
    assert all(bridge.width_mm >= width for bridge in joined.bridges)
    assert before.difference(joined.shape).area < 1e-6


@pytest.mark.parametrize("standing", [True, False], ids=["on a bar", "free-standing"])
def test_names_become_one_part_at_full_width(standing: bool) -> None:
    """Names of 14 locales in 11 faces: one part, one core at the least width, nothing lost."""
    for index, (name, face) in enumerate(CORPUS):
        letters = letters_of(name, face)
        before = on_bar(letters) if standing else ink(letters)
        width = WIDTHS[index % 3]
        _check(before, join_parts(before, width, letters, NO_HOLES), width)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(
    ("name", "face"),
    [
        ("Jiří", "Dancing Script Bold"), ("Łukasz", "Lobster"),
        ("Đặng Thị Ngọc", "Nunito ExtraBold"), ("Ångström-Öhm", "Caveat Bold"),
        ("O'Neill", "Pacifico"), ("J. P.", "Noto Sans SemiBold"), ("iiijjj", "Lobster"),
        ("%", "Fredoka SemiBold"), ("8888", "Caveat Bold"), ("محمد", "Noto Sans Arabic SemiBold"),
        ("อรุณี", "Noto Sans Thai SemiBold"), ("क्षितिज", "Noto Sans Devanagari SemiBold"),
    ],
)  # fmt: skip
def test_hard_names(name: str, face: str, width: float) -> None:
    """Stacked accents, loose strokes, full stops and joined scripts hold, on a bar and free."""
    letters = letters_of(name, face)
    for before in (on_bar(letters), ink(letters)):
        _check(before, join_parts(before, width, letters, NO_HOLES), width)


@pytest.mark.parametrize(
    ("name", "face", "width"),
    [
        ("Jiří", "Noto Sans SemiBold", 1.5), ("J. P.", "Caveat Bold", 1.5),
        ("Öhm", "Lobster", 1.5), ("%8", "Nunito ExtraBold", 2.0),
        ("ثابت", "Noto Sans Arabic SemiBold", 1.5), ("อรุณี", "Noto Sans Thai SemiBold", 1.0),
    ],
)  # fmt: skip
def test_raster_agrees_that_it_is_one(name: str, face: str, width: float) -> None:
    """Independent of GEOS: on a raster, all former parts lie in one region at the width.

    A pixel belongs to a core if its distance from the nearest outside pixel (exact distance
    transform of scipy.ndimage) is half the width, less 0.15 mm for the raster of 0.1 mm.
    Regions are counted by scipy.ndimage.label.
    """
    letters = letters_of(name, face)
    before = ink(letters)
    joined = join_parts(before, width, letters, NO_HOLES)
    at = _regions(joined.shape, width)
    inner = shapely.point_on_surface(cores_of(before, width).cores)
    found = {at(point) for point in inner}
    assert len(found) == 1
    assert found != {0}
    at = _regions(before, width)
    assert len({at(point) for point in inner}) > 1, "the check can fail"


def _regions(shape: shapely.Geometry, width: float) -> Callable[[Point], int]:
    """What numbers the region of a core that a point lies in, 0 outside."""
    cell = 0.1
    x0, y0, x1, y1 = shape.bounds
    x = np.arange(x0 - 1, x1 + 1, cell)
    y = np.arange(y0 - 1, y1 + 1, cell)
    shapely.prepare(shape)
    mask = shapely.contains_xy(shape, *np.meshgrid(x, y))
    deep = ndimage.distance_transform_edt(mask, sampling=cell) > width / 2 - 0.15
    label, _ = ndimage.label(deep, structure=np.ones((3, 3)))

    def at(point: Point) -> int:
        """The region at a point, or the nearest one within three cells."""
        i, j = round((point.y - y[0]) / cell), round((point.x - x[0]) / cell)
        window = label[i - 3 : i + 4, j - 3 : j + 4]
        return int(label[i, j] or window.max())

    return at


@pytest.mark.parametrize(
    "face", ["Noto Sans SemiBold", "Lobster", "Pacifico", "Dancing Script Bold", "Caveat Bold"]
)
@pytest.mark.parametrize("standing", [True, False], ids=["on a bar", "free-standing"])
@pytest.mark.parametrize("name", ["jiij", "iiijjj"])
def test_dots_do_not_lean_four_ways(name: str, face: str, standing: bool) -> None:
    """The bars of the dots of "jiij" and of "iiijjj" are parallel within 2°."""
    letters = letters_of(name, face)
    before = on_bar(letters) if standing else ink(letters)
    joined = join_parts(before, 1.5, letters, NO_HOLES)
    leans = [_lean(bridge) for bridge in joined.bridges if abs(_lean(bridge)) < 60]
    assert len(leans) == len(name)
    assert max(leans) - min(leans) < 2


def test_bars_between_letters_are_level() -> None:
    """Free-standing capitals are joined by level bars near the line that they stand on."""
    letters = letters_of("HILM", "Noto Sans SemiBold")
    joined = join_parts(ink(letters), 1.5, letters, NO_HOLES)
    assert len(joined.bridges) == 3
    for bridge in joined.bridges:
        assert abs(_lean(bridge)) == pytest.approx(90, abs=0.1)
        assert bridge.start[1] < 3


@pytest.mark.parametrize("face", ["Noto Sans SemiBold", "Nunito ExtraBold", "Lobster"])
def test_a_mark_joins_its_own_letter(face: str) -> None:
    """Each mark of a name is tied to ink of its own letter, not to its neighbour."""
    letters = letters_of("Jiříček", face)
    before = on_bar(letters)
    joined = join_parts(before, 1.5, letters, NO_HOLES)
    marks = [letter for letter in letters if len(letter.shape.geoms) > 1]
    assert len(marks) == len(joined.bridges) == 4
    for letter in marks:
        own = [
            bridge
            for bridge in joined.bridges
            if all(letter.shape.intersects(Point(end)) for end in (bridge.start, bridge.end))
        ]
        assert len(own) == 1, letter.text


def test_a_mark_takes_its_letter_though_another_is_nearer() -> None:
    """A dot 2 mm from a neighbour and 3 mm above its stem goes to its stem; not if 30 mm off."""
    for height, own in ((3, True), (30, False)):
        stem, dot = box(10, 0, 13, 12), box(10, 12 + height, 13, 15 + height)
        tall = box(15, 0, 18, 50)
        letters = (
            Letter(0, "i", MultiPolygon([stem, dot])),
            Letter(1, "l", MultiPolygon([tall])),
        )
        before = shapely.union_all([box(0, -5, 30, 1), stem, dot, tall])
        joined = join_parts(before, 1.5, letters, NO_HOLES)
        (bridge,) = joined.bridges
        assert bridge.shape.intersects(tall) is not own
        _check(before, joined, 1.5)


def test_counters_stay_open() -> None:
    """No hole of the welded letters is filled, and none loses two fifths of its area."""
    holes = 0
    for name, face in CORPUS:
        letters = letters_of(name, face)
        for before in (on_bar(letters), ink(letters)):
            after = join_parts(before, 1.5, letters, NO_HOLES).shape
            for part in shapely.get_parts(before):
                for ring in part.interiors:
                    hole = Polygon(ring)
                    if hole.area > 3.4:  # 1.5 bar widths square
                        holes += 1
                        assert hole.difference(after).area > 0.6 * hole.area, (name, face)
    assert holes > 150


def test_counter_on_the_way_is_gone_round() -> None:
    """An accent over a ring that is thin on top takes the way that leaves the counter open."""
    ring = box(0, 0, 20, 14) - box(3, 3, 17, 13.2)
    accent = box(2, 16, 18, 18.5)
    letters = (Letter(0, "ō", MultiPolygon([ring, accent])),)
    joined = join_parts(shapely.union(ring, accent), 1.5, letters, NO_HOLES)
    _check(MultiPolygon([ring, accent]), joined, 1.5)
    assert box(3.2, 3, 16.8, 13).difference(joined.shape).area > 0.95 * 13.6 * 10


def test_bars_keep_off_holes_of_the_template() -> None:
    """A dot right over a ring hole is joined past it; the hole stays open."""
    hole = Point(10, 4).buffer(2, 64)
    base, dot = box(0, 0, 20, 8) - hole, box(8, 11, 12, 14)
    before = MultiPolygon([base, dot])
    joined = join_parts(before, 1.5, (), MultiPolygon([hole]))
    _check(before, joined, 1.5)
    assert joined.shape.intersection(hole).area < 1e-9
    assert all(bridge.shape.distance(hole) > 0 for bridge in joined.bridges)


def test_a_hole_in_the_way_leaves_the_parts_apart() -> None:
    """Nothing is bridged through a slot that lies all round a part: the caller must hold it."""
    slot = Point(10, 10).buffer(6, 64) - Point(10, 10).buffer(3, 64)
    before = MultiPolygon(list(shapely.get_parts(box(0, 0, 20, 20) - slot)))
    joined = join_parts(before, 1.5, (), MultiPolygon([slot]))
    assert _parts(joined.shape) == 2
    assert joined.bridges == ()


def test_a_part_without_a_core_is_thickened_where_it_is_joined() -> None:
    """A dot smaller than the width ends in a disc of the width."""
    dot = Point(10, 12).buffer(0.4)
    before = MultiPolygon([box(0, 0, 20, 8), dot])
    joined = join_parts(before, 1.5, (), NO_HOLES)
    _check(before, joined, 1.5)
    assert joined.shape.covers(Point(10, 12).buffer(0.7))


def test_bar_ends_in_a_stroke_too_thin_for_a_core() -> None:
    """A dot over a hairline ring is tied to its top; the ring is widened, its inside stays open."""
    ring = Point(10, 10).buffer(9.5, 64) - Point(10, 10).buffer(8.5, 64)
    dot = Point(10, 25).buffer(1.5, 32)
    letters = (Letter(0, "ȯ", MultiPolygon([ring, dot])),)
    before = MultiPolygon(
        list(shapely.get_parts(shapely.union_all([box(-5, -4, 25, 2), ring, dot])))
    )
    joined = join_parts(before, 1.5, letters, NO_HOLES)
    _check(before, joined, 1.5)
    (bridge,) = joined.bridges
    assert min(bridge.start[1], bridge.end[1]) == pytest.approx(19, abs=0.2)
    assert joined.shape.disjoint(Point(10, 10).buffer(7.5) & box(0, 3, 20, 20))


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0, 60), st.floats(9, 30), st.floats(0.3, 4)), min_size=1, max_size=6
    ),
    st.sampled_from(WIDTHS),
)
def test_discs_anywhere_are_joined(discs: list[tuple[float, float, float]], width: float) -> None:
    """Any discs above a bar, thin or overlapping, become one part at full width."""
    shapes = [Point(x, y).buffer(radius) for x, y, radius in discs]
    before = shapely.union_all([box(0, 0, 60, 8), *shapes])
    _check(before, join_parts(before, width, (), NO_HOLES), width)


def test_given_slant_is_followed() -> None:
    """A slant that the caller knows decides the direction where it fits."""
    stem = Polygon([(10, 0), (16, 0), (19, 12), (13, 12)])
    dot = Polygon([(14, 15), (20, 15), (21, 19), (15, 19)])
    letters = (Letter(0, "i", MultiPolygon([stem, dot])),)
    before = shapely.union_all([box(0, -5, 30, 1), stem, dot])
    slant = float(np.degrees(np.arctan2(3, 12)))
    for lean in (slant, 0.0):
        (bridge,) = join_parts(before, 1.5, letters, NO_HOLES, lean).bridges
        assert _lean(bridge) == pytest.approx(lean, abs=0.1)


def test_what_is_one_already_stays_as_it_is() -> None:
    """A sound shape comes back unchanged and without bridges."""
    shape = box(0, 0, 40, 10) - box(5, 3, 10, 7)
    joined = join_parts(shape, 1.5, (), NO_HOLES)
    assert joined.shape.equals(shape)
    assert joined.bridges == ()


def test_same_input_same_bytes() -> None:
    """The result does not depend on what ran before."""
    letters = letters_of("Đặng Thị Ngọc", "Caveat Bold")
    first, again = (join_parts(ink(letters), 1.5, letters, NO_HOLES) for _ in range(2))
    assert shapely.to_wkb(first.shape) == shapely.to_wkb(again.shape)
    assert [b.start for b in first.bridges] == [b.start for b in again.bridges]


def test_quick_enough() -> None:
    """Joining a name on a bar costs less than 40 erosions of it (about 9 on an idle machine)."""
    letters = letters_of("Jiří", "Noto Sans SemiBold")
    before = on_bar(letters)
    costs = {}
    for label, call in (
        ("erosion", lambda: shapely.buffer(before, -0.754, quad_segs=16)),
        ("join", lambda: join_parts(before, 1.5, letters, NO_HOLES)),
    ):
        times = []
        for _ in range(7):
            start = time.process_time()
            call()
            times.append(time.process_time() - start)
        costs[label] = min(times)
    assert costs["join"] < 40 * costs["erosion"]

"""Arcs and lines in place of polygons: near, smooth, few, and never crossing."""

import math
import subprocess
import sys
from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import Polygon

from namebatch.outline.arc_edges import farthest_from, with_edges
from namebatch.outline.arc_frame import worst_distance
from namebatch.outline.arc_ring import fit_ring
from namebatch.outline.arc_shape import along_ring, ring_area, ring_length
from namebatch.outline.arcs import ArcRing, fit_arcs, fit_outline
from tests.outline.arc_names import cut_parts, names

Floats = NDArray[np.float64]


def ellipse(a: float, b: float, count: int) -> Floats:
    """Points on an ellipse, the first not repeated."""
    t = np.arange(count) * 2 * np.pi / count
    points: Floats = np.column_stack([a * np.cos(t), b * np.sin(t)])
    return points


def kinks_deg(fitted: ArcRing) -> Floats:
    """The turn at every node, from the arc before it to the arc after it."""
    way = np.roll(fitted.points, -1, axis=0) - fitted.points
    chord = np.arctan2(way[:, 1], way[:, 0])
    half = 2 * np.arctan(fitted.bulges)
    turn = (chord - half) - np.roll(chord + half, 1)
    kinks: Floats = np.degrees(np.abs((turn + np.pi) % (2 * np.pi) - np.pi))
    return kinks


def area_of(fitted: ArcRing) -> Polygon:
    """The fitted ring as a polygon with chords of 0.0001 mm."""
    return Polygon(along_ring(fitted.points, fitted.bulges, 1e-4))


def deviation_mm(ring: Floats, fitted: ArcRing) -> float:
    """The largest distance between a polygon and its arcs, either way, by GEOS.

    Asked at the vertices and at seven points between two of them, and at the vertices of fine
    chords of the arcs: no way that the program goes.
    """
    polygon = shapely.LinearRing(ring)
    fine = shapely.LinearRing(along_ring(fitted.points, fitted.bulges, 2e-5))
    ahead = np.roll(ring, -1, axis=0)
    asked = np.vstack([ring + (ahead - ring) * share for share in np.arange(8) / 8])
    away = shapely.distance(shapely.points(asked), fine).max()
    back = shapely.distance(shapely.points(shapely.get_coordinates(fine)), polygon).max()
    return float(max(away, back))


def has_point(fitted: ArcRing, x: float, y: float) -> bool:
    """Is there a node exactly here?"""
    return bool(np.any(np.all(fitted.points == (x, y), axis=1)))


@pytest.mark.parametrize("radius", [0.3, 1.0, 5.0, 40.0])
@pytest.mark.parametrize("way", [1, -1])
def test_a_circle_becomes_two_halves(radius: float, way: int) -> None:
    """Length 2·π·r and area π·r² come back within the tolerance; nodes lie opposite."""
    count = math.ceil(math.pi / math.acos(1 - 0.006 / radius))
    fitted = fit_arcs(ellipse(radius, radius, count)[::way])
    assert list(fitted.bulges) == [way, way]
    assert ring_length(fitted.points, fitted.bulges) == pytest.approx(
        2 * math.pi * radius, abs=2 * math.pi * 0.01
    )
    area = ring_area(fitted.points, fitted.bulges)
    assert area * way == pytest.approx(math.pi * radius**2, abs=2 * math.pi * radius * 0.01)
    assert np.hypot(*fitted.points.T) == pytest.approx(radius, abs=0.01)


@pytest.mark.parametrize("first", [0, 1, 7, 20])
def test_a_circle_begins_due_right_whichever_vertex_comes_first(first: int) -> None:
    """Libraries begin rings where they like: the nodes, and with them the way of the cutter, stay.

    The deviation is measured from the nodes' vertices on, so it stays as well.
    """
    ring = ellipse(3.0, 3.0, 40)
    fitted = fit_arcs(np.roll(ring, first, axis=0))
    assert fitted.points == pytest.approx(np.array([[3.0, 0.0], [-3.0, 0.0]]), abs=0.01)
    assert deviation_mm(ring, fitted) <= fitted.deviation_mm <= 0.01


def test_an_ellipse_is_smooth_and_short() -> None:
    """An ellipse of 12 × 8 mm: few arcs, none with a kink, its true area π·a·b."""
    ring = ellipse(6, 4, 120)
    fitted = fit_arcs(ring)
    assert len(fitted.bulges) <= 16
    assert kinks_deg(fitted).max() < 0.8
    assert deviation_mm(ring, fitted) <= 0.01
    assert ring_area(fitted.points, fitted.bulges) == pytest.approx(math.pi * 24, rel=1e-3)


@pytest.mark.parametrize("radius", [1.0, 3.0])
def test_a_rounded_rectangle_comes_back_as_drawn(radius: float) -> None:
    """Four lines and four quarter arcs (or pairs of arcs) of its size and radius.

    Area w·h − (4 − π)·r² and length 2·(w + h) − (8 − 2·π)·r in closed form.
    """
    plate = shapely.box(0, 0, 40, 25).buffer(-radius).buffer(radius, quad_segs=24)
    fitted = fit_arcs(shapely.get_coordinates(plate.exterior))
    lines = fitted.bulges == 0.0
    way = np.roll(fitted.points, -1, axis=0) - fitted.points
    assert sorted(np.hypot(*way[lines].T)) == pytest.approx(
        sorted([40 - 2 * radius, 25 - 2 * radius] * 2)
    )
    assert len(fitted.bulges) <= 12
    area = ring_area(fitted.points, fitted.bulges)
    assert abs(area) == pytest.approx(40 * 25 - (4 - math.pi) * radius**2, abs=0.04)
    assert ring_length(fitted.points, fitted.bulges) == pytest.approx(
        130 - (8 - 2 * math.pi) * radius, abs=0.03
    )
    assert kinks_deg(fitted).max() < 0.8


def test_no_arc_is_above_half_a_circle() -> None:
    """Not every reader of bulges knows more; a keyhole's round end comes in two arcs or more."""
    t = np.linspace(-1.2, 4.34, 100)
    ring = np.vstack([np.column_stack([4 * np.cos(t), 4 * np.sin(t)]), [[-1, -9], [1, -9]]])
    fitted = fit_arcs(ring)
    assert 0 < np.abs(fitted.bulges).max() <= 1.0
    assert deviation_mm(ring, fitted) <= 0.01


def test_squares_and_stars_stay_as_they_are() -> None:
    """Corners and straight edges are kept to the last digit, in their order."""
    turn = np.arange(10) * np.pi / 5
    size = np.where(np.arange(10) % 2, 4.0, 9.7)
    star = np.column_stack([size * np.cos(turn), size * np.sin(turn)])
    for ring in (np.array([[0.1, 0.2], [7.3, 0.2], [7.3, 5.9], [0.1, 5.9]]), star):
        fitted = fit_arcs(ring)
        assert np.array_equal(fitted.points, ring)
        assert not fitted.bulges.any()


def test_middles_of_edges_are_no_nodes() -> None:
    """A straight edge that came in parts is one line again."""
    ring = np.array([[0, 0], [3, 0], [5, 0], [9, 0], [9, 4], [9, 6], [0, 6.0]])
    fitted = fit_arcs(ring)
    assert fitted.points.tolist() == [[0, 0], [9, 0], [9, 6], [0, 6]]


def test_a_repeated_first_vertex_makes_no_difference() -> None:
    """Open and closed rings give the same."""
    ring = ellipse(6, 4, 90)
    a, b = fit_arcs(ring), fit_arcs(np.vstack([ring, ring[:1]]))
    assert np.array_equal(a.points, b.points)
    assert np.array_equal(a.bulges, b.bulges)


def test_a_triangle_is_a_triangle() -> None:
    """The smallest ring there is passes through."""
    fitted = fit_arcs(np.array([[0, 0], [5, 0], [0, 3.0]]))
    assert fitted.points.tolist() == [[0, 0], [5, 0], [0, 3]]


def test_a_spiral_keeps_its_distance_from_itself() -> None:
    """Turns of a band 0.03 mm apart do not touch after the fit, ends and corners stay."""
    t = np.linspace(0, 6 * np.pi, 1500)
    inner = np.column_stack([(2 + 0.2 * t) * np.cos(t), (2 + 0.2 * t) * np.sin(t)])
    width = 0.2 * 2 * np.pi - 0.03
    outer = np.column_stack([(2 + width + 0.2 * t) * np.cos(t), (2 + width + 0.2 * t) * np.sin(t)])
    ring = np.vstack([inner, outer[::-1]])
    fitted = fit_arcs(ring)
    assert shapely.is_valid(Polygon(ring))
    assert shapely.is_valid(area_of(fitted))
    assert deviation_mm(ring, fitted) <= 0.01
    assert len(fitted.bulges) < 0.25 * len(ring)
    assert all(has_point(fitted, *corner) for corner in (inner[0], inner[-1], outer[0], outer[-1]))


def test_narrow_slots_stay_open() -> None:
    """Two curved lips 0.008 mm apart, nearer than arcs may wander, do not cross."""
    t = np.linspace(0.3, 2.8, 60)
    low = np.column_stack([10 * np.cos(t), 10 * np.sin(t)])
    high = np.column_stack([10.008 * np.cos(t + 0.01), 10.008 * np.sin(t + 0.01)])
    far = np.column_stack([14 * np.cos(t[::-1]), 14 * np.sin(t[::-1])])
    near = np.column_stack([6 * np.cos(t[::-1]), 6 * np.sin(t[::-1])])
    shapes = [Polygon(np.vstack([low, near])), Polygon(np.vstack([high, far]))]
    assert not shapes[0].intersects(shapes[1])
    plate = shapely.box(-30, -30, 30, 30)
    holes = Polygon(plate.exterior, [shape.exterior for shape in shapes])
    assert holes.is_valid
    rings = [along_ring(ring.points, ring.bulges, 1e-4) for ring in fit_outline(holes)]
    assert Polygon(rings[0], rings[1:]).is_valid


waves = st.lists(
    st.tuples(st.integers(2, 7), st.floats(0, 0.5), st.floats(0, 6.3)), min_size=1, max_size=4
)


@settings(max_examples=60, deadline=None)
@given(st.floats(2, 40), waves)
def test_smooth_curves(radius: float, bumps: list[tuple[int, float, float]]) -> None:
    """Random closed curves: near both ways, valid, smooth, and at most a third of the points."""
    count = max(60, math.ceil(radius * 30))
    t = np.arange(count) * 2 * np.pi / count
    r = radius * (1 + sum(size / n**2 * np.cos(n * t + at) for n, size, at in bumps))
    ring = np.column_stack([r * np.cos(t), r * np.sin(t)])
    steps = np.roll(ring, -1, axis=0) - ring
    turns = np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))
    fitted = fit_arcs(ring)
    assert deviation_mm(ring, fitted) <= 0.01
    assert shapely.is_valid(area_of(fitted))
    assert len(fitted.bulges) <= count / 3
    if np.hypot(*steps.T).max() < 0.3 and np.degrees(np.abs(turns)).max() < 4:
        # of 400,000 such rings one in a thousand had a joint of 3.7° or more, none one of 6°,
        # from which on a vertex counts as a corner; half had none above 0.61°
        assert kinks_deg(fitted).max() < 6
        assert np.median(kinks_deg(fitted)) < 0.7


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(0.6, 1.4), st.floats(0.5, 1.5)), min_size=4, max_size=14))
def test_corners_of_polygons(legs: list[tuple[float, float]]) -> None:
    """Random stars of long edges: every vertex that turns by more than 6° is kept exactly."""
    steps = np.array([step for _, step in legs])
    angle = np.cumsum(steps) / steps.sum() * 2 * np.pi
    size = np.array([20 * leg for leg, _ in legs])
    ring = np.column_stack([size * np.cos(angle), size * np.sin(angle)])
    polygon = Polygon(ring)
    fitted = fit_arcs(ring)
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.degrees(np.abs(np.arctan2(cross, np.sum(before * after, axis=1))))
    assert all(has_point(fitted, x, y) for (x, y), t in zip(ring, turn, strict=True) if t > 6)
    assert deviation_mm(ring, fitted) <= 0.01
    assert area_of(fitted).is_valid or not polygon.is_valid


@dataclass(frozen=True, slots=True)
class Fitted:
    """A name's rings and what was fitted to them."""

    face: str
    text: str
    rings: tuple[Floats, ...]
    arcs: tuple[ArcRing, ...]


@pytest.fixture(scope="module")
def fitted_names() -> list[Fitted]:
    """400 names in eight faces, part by part."""
    return [
        Fitted(
            face,
            text,
            tuple(shapely.get_coordinates(r)[:-1] for r in (part.exterior, *part.interiors)),
            fit_outline(part),
        )
        for face, text, parts in names(50)
        for part in parts
    ]


def test_names_are_near(fitted_names: list[Fitted]) -> None:
    """No ring of any name is farther than 0.01 mm from its arcs, as the program measured."""
    for name in fitted_names:
        for arcs in name.arcs:
            assert 0 < arcs.deviation_mm <= 0.01, name.text


def test_distances_are_measured_right(fitted_names: list[Fitted]) -> None:
    """The measured distance is the true one by GEOS, and never less than it.

    It may be 0.0005 mm too large: vertices nearer than 0.0002 mm to each other are left out.
    """
    for name in fitted_names[::10]:
        for ring, arcs in zip(name.rings, name.arcs, strict=True):
            true = deviation_mm(ring, arcs)
            assert true - 5e-5 <= arcs.deviation_mm <= true + 5e-4, name.text


def test_names_need_a_quarter_of_their_points(fitted_names: list[Fitted]) -> None:
    """In total and for the name in the middle, at most a quarter of the vertices is left."""
    counts: dict[tuple[str, str], list[int]] = {}
    for name in fitted_names:
        count = counts.setdefault((name.face, name.text), [0, 0])
        count[0] += sum(len(arcs.bulges) for arcs in name.arcs)
        count[1] += sum(len(ring) for ring in name.rings)
    total = np.array(list(counts.values()))
    assert total[:, 0].sum() <= 0.25 * total[:, 1].sum()
    assert np.median(total[:, 0] / total[:, 1]) <= 0.25


def test_names_are_smooth(fitted_names: list[Fitted]) -> None:
    """Where the polygon is smooth arcs meet within 1 degree (95 of 100), half within 0.3.

    Smooth is a vertex that turns as the mean of its neighbours does, within 3.4 degrees, and
    stands off the chord between its neighbours as a chord of a curve may.
    """
    kinks: list[float] = []
    for name in fitted_names:
        for ring, arcs in zip(name.rings, name.arcs, strict=True):
            way = np.roll(ring, -1, axis=0) - ring
            length, angle = np.hypot(*way.T), np.arctan2(way[:, 1], way[:, 0])
            turn = (angle - np.roll(angle, 1) + np.pi) % (2 * np.pi) - np.pi
            odd = np.abs(turn - (np.roll(turn, 1) + np.roll(turn, -1)) / 2)
            off = np.abs(turn) * np.minimum(length, np.roll(length, 1)) / 8
            smooth = (odd < 0.06) & (off < 0.01) & (np.abs(turn) < 0.35)
            gap = arcs.points[:, None, :] - ring[None, :, :]
            nearest = np.hypot(gap[:, :, 0], gap[:, :, 1]).argmin(axis=1)
            kinks += list(kinks_deg(arcs)[smooth[nearest]])
    assert np.median(kinks) < 0.3
    assert np.percentile(kinks, 95) < 1.0


def test_names_do_not_cross_themselves(fitted_names: list[Fitted]) -> None:
    """Every part of 400 names is one valid polygon, its rings apart, by GEOS on fine chords."""
    for name in fitted_names:
        rings = [along_ring(arcs.points, arcs.bulges, 2e-4) for arcs in name.arcs]
        assert shapely.is_valid(Polygon(rings[0], rings[1:])), (name.face, name.text)


def test_a_crossing_is_mended_where_it_is() -> None:
    """Two strokes that almost touch keep their edges there, and the rest of the ring its arcs.

    In this name arcs of the outer line cross; its whole polygon must not come back for that.
    """
    outer = max(cut_parts("Dancing Script Bold", "Agnes"), key=lambda part: part.area)
    rings = fit_outline(outer)
    assert len(rings[0].bulges) < len(outer.exterior.coords) / 3
    fine = [along_ring(arcs.points, arcs.bulges, 2e-4) for arcs in rings]
    assert shapely.is_valid(Polygon(fine[0], fine[1:]))


@pytest.mark.parametrize("kept", [(), (0,), (1, 2), (5,)])
def test_edges_in_place_of_arcs(kept: tuple[int, ...]) -> None:
    """Where arcs give way the polygon's own vertices are back, each once; all of them if all do."""
    xy = ellipse(6, 4, 90)
    x, y = xy[:, 0].copy(), xy[:, 1].copy()
    nodes, bends, marks, plain = fit_ring(x, y, 0.0097)
    plain[:] = True
    plain[list(kept)] = False
    points, bulges, owner = with_edges(x, y, nodes, bends, marks, plain)
    assert np.flatnonzero(bulges).size == len(kept)
    assert sorted(set(owner[bulges != 0])) == list(kept)
    assert farthest_from(x, y, nodes, bends, marks, plain) == pytest.approx(
        deviation_mm(xy, ArcRing(points, bulges, 0.0)), abs=5e-5
    )
    if not kept:
        assert points.tolist() == np.roll(xy, -(marks[0] // 2), axis=0).tolist()


def test_the_same_in_another_process() -> None:
    """Compiled anew or from the cache, the same digits come out."""
    ring = ellipse(7.3, 4.1, 111)
    code = (
        "import numpy as np\n"
        "from tests.outline.test_arcs import ellipse\n"
        "from namebatch.outline.arcs import fit_arcs\n"
        "f = fit_arcs(ellipse(7.3, 4.1, 111))\n"
        "print((f.points.tobytes() + f.bulges.tobytes()).hex())\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    fitted = fit_arcs(ring)
    assert found.stdout.strip() == (fitted.points.tobytes() + fitted.bulges.tobytes()).hex()


def test_plain_python_gives_the_same() -> None:
    """Without the compiler the loops run as they stand, and agree to a millionth of a mm."""
    code = (
        "import sys\n"
        "sys.modules['numba'] = None\n"
        "from tests.outline.test_arcs import ellipse\n"
        "from namebatch.outline.arcs import fit_arcs\n"
        "f = fit_arcs(ellipse(6.0, 4.0, 60))\n"
        "print(f.points.round(6).tolist())\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    points = np.array(eval(found.stdout))
    assert points == pytest.approx(fit_arcs(ellipse(6.0, 4.0, 60)).points, abs=2e-6)


def test_help_does_not_load_the_compiler() -> None:
    """The command line alone, which is all that `--help` needs, leaves numba out."""
    code = "import sys\nimport namebatch.cli\nprint('numba' in sys.modules)\n"
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "False"


def test_the_far_side_of_a_circle_is_not_near() -> None:
    """A short arc the long way round has every vertex on its circle, and yet leaves the polygon.

    It was once cut as a round hole beside a letter.
    """
    angles = np.linspace(0.0, 0.2, 4)
    x, y, half = np.cos(angles), np.sin(angles), 0.1
    ends = np.array([[x[0], y[0]], [x[-1], y[-1]]])
    assert worst_distance(x, y, 0, 6, ends, 0, half) < 0.001
    assert worst_distance(x, y, 0, 6, ends, 0, half - np.pi) > 1.0

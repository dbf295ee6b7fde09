"""Joint lines that are found: few parts, short joints, clear of lettering."""

from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon

from namebatch.outline.found_joints import fewest, found_split
from namebatch.outline.joint import JointOrder
from namebatch.outline.split import Split

PLAIN = JointOrder("straight", 0.1, 1.5)


def _order(*ink: Polygon, kind: str = "straight") -> JointOrder:
    return JointOrder(kind, 0.1, 1.5, 0.18, ink=MultiPolygon(list(ink)))  # type: ignore[arg-type]


def _found(outline: Polygon, size: tuple[float, float], order: JointOrder) -> Split:
    found = found_split(outline, [size], order)
    assert found is not None
    for part in found.parts:
        x0, y0, x1, y1 = part.shape.bounds
        assert x1 - x0 <= size[0]
        assert y1 - y0 <= size[1]
        assert part.is_sound(order.required_mm)
    return found


def test_fewest_parts() -> None:
    """600 mm take three parts of 280, and the lines stand evenly where all are equally short."""
    found = _found(shapely.box(0, 0, 600, 120), (280.0, 190.0), PLAIN)
    places = [joint.centroid.x for joint in found.joints]
    assert places == pytest.approx([200.0, 400.0], abs=0.6)


def test_shortest_line_wins() -> None:
    """A waist off the middle is where the piece is split."""
    bow = Polygon([(0, 0), (220, 0), (240, 40), (260, 0), (500, 0), (500, 100), (0, 100)])
    found = _found(bow, (290.0, 190.0), PLAIN)
    assert [joint.length for joint in found.joints] == pytest.approx([60.0], abs=0.1)


def test_lines_keep_clear_of_lettering_and_holes() -> None:
    """The line goes between two letters, the least width and half of the fit off either."""
    letters = _order(shapely.box(100, 20, 197, 100), shapely.box(201, 20, 300, 100))
    board = shapely.box(0, 0, 400, 120).difference(Point(320, 60).buffer(4))
    found = _found(board, (250.0, 190.0), letters)
    line = shapely.union_all(list(found.joints))
    assert shapely.distance(line, letters.ink) >= 1.55
    assert 198.5 < line.centroid.x < 199.5


def test_lettering_is_given_a_wide_berth_where_it_costs_nothing() -> None:
    """Of equally short lines one between words is taken, not one beside a letter."""
    words = _order(shapely.box(20, 20, 195, 100), shapely.box(199, 20, 210, 100),
                   shapely.box(230, 20, 380, 100))  # fmt: skip
    found = _found(shapely.box(0, 0, 400, 120), (260.0, 190.0), words)
    assert found.joints[0].centroid.x == pytest.approx(220.0, abs=4.5)


def test_a_line_leans_where_only_that_is_clear() -> None:
    """Slanted letters leave no upright gap: the line leans with them."""
    lean = [Polygon([(x, 10), (x + 40, 10), (x + 90, 110), (x + 50, 110)]) for x in
            np.arange(20.0, 330.0, 48.0)]  # fmt: skip
    order = _order(*lean)
    found = _found(shapely.box(0, 0, 440, 120), (300.0, 190.0), order)
    (x0, _), (x1, _) = found.joints[0].coords[0], found.joints[0].coords[-1]
    assert abs(x1 - x0) > 30
    assert shapely.distance(found.joints[0], order.ink) >= 1.5


def test_one_part_more_where_the_fewest_will_not_do() -> None:
    """Lettering over the whole middle third: two parts cannot be, three can."""
    order = _order(shapely.box(140, 5, 260, 115))
    found = _found(shapely.box(0, 0, 400, 120), (210.0, 190.0), order)
    assert len(found.parts) == 3


def test_nothing_is_found_across_lettering() -> None:
    """Letters from edge to edge leave no line, and none is made up."""
    order = _order(shapely.box(5, 5, 395, 115))
    assert found_split(shapely.box(0, 0, 400, 120), [(210.0, 190.0)], order) is None


def test_a_high_piece_is_split_by_level_lines() -> None:
    """A piece that is too high is split across, keys and all."""
    found = _found(shapely.box(0, 0, 120, 400), (190.0, 280.0), _order(kind="keyed"))
    assert len(found.parts) == 2
    assert found.keys > 0
    upper, lower = (part.shape.bounds for part in found.parts)
    assert upper[1] > lower[1]


def test_columns_and_rows() -> None:
    """A piece too wide and too high is split both ways, its keys in nobody's way."""
    order = _order(shapely.box(60, 60, 440, 150), kind="keyed")
    found = found_split(shapely.box(0, 0, 500, 300), [(280.0, 190.0)], order)
    assert found is None
    order = _order(shapely.box(60, 60, 200, 120), shapely.box(260, 60, 440, 120), kind="keyed")
    found = _found(shapely.box(0, 0, 500, 300), (280.0, 190.0), order)
    assert len(found.parts) == 4
    shapes = [part.shape for part in found.parts]
    for k, shape in enumerate(shapes):
        rest = shapely.union_all(shapes[:k] + shapes[k + 1 :])
        assert shapely.distance(shape, rest) == pytest.approx(0.1, abs=0.003)


def test_the_better_way_of_lying_is_taken() -> None:
    """Of two sizes that a sheet takes the one that needs fewer parts decides."""
    board = shapely.box(0, 0, 400, 150)
    sizes = [(190.0, 280.0), (280.0, 190.0)]
    assert fewest(board, sizes, PLAIN) == 2
    found = found_split(board, sizes, PLAIN)
    assert found is not None
    assert len(found.parts) == 2


def test_parts_too_small_for_keys_are_no_answer() -> None:
    """Where a sheet takes less than a key reaches there is no way, and no endless search."""
    order = _order(kind="keyed")
    assert fewest(shapely.box(0, 0, 400, 120), [(9.0, 190.0)], order) == 0
    assert found_split(shapely.box(0, 0, 400, 120), [(9.0, 190.0)], order) is None


def test_a_frame_is_split_across_its_window() -> None:
    """A large window may be crossed; both halves of the frame stay one part each."""
    frame = shapely.box(0, 0, 400, 120).difference(shapely.box(30, 30, 370, 90))
    found = _found(frame, (280.0, 190.0), PLAIN)
    assert len(found.parts) == 2
    assert len(found.joints) == 2


def test_no_joint_across_a_thin_bar() -> None:
    """A bar of two widths in the middle of the window is no place for glue."""
    board = shapely.box(0, 0, 190, 120).union(shapely.box(210, 0, 400, 120))
    barred = board.union(shapely.box(189, 58, 211, 61))
    found = _found(barred, (280.0, 190.0), PLAIN)
    assert [joint.length for joint in found.joints] == pytest.approx([120.0], abs=0.1)


@st.composite
def _boards(draw: Any) -> tuple[Polygon, JointOrder]:
    """Boards with round corners, a few letters and sometimes a hole."""
    width, height = draw(st.integers(290, 700)), draw(st.integers(40, 260))
    corner = draw(st.integers(0, 19))
    outline = shapely.box(corner, corner, width - corner, height - corner)
    outline = shapely.buffer(outline, corner) if corner else outline
    if draw(st.booleans()):
        outline = outline.difference(Point(width * draw(st.floats(0.2, 0.8)), 20).buffer(3))
    letters = []
    for _ in range(draw(st.integers(0, 4))):
        x, y = draw(st.floats(5, width - 60)), draw(st.floats(5, height - 25))
        letters.append(shapely.box(x, y, x + draw(st.integers(5, 50)), y + 15))
    ink = shapely.union_all(letters)
    parts = MultiPolygon([p for p in shapely.get_parts(ink) if isinstance(p, Polygon) and p.area])
    fit = draw(st.sampled_from([0.0, 0.1, 0.3]))
    kind = draw(st.sampled_from(["straight", "keyed"]))
    return outline, JointOrder(kind, fit, 1.5, 0.2, ink=parts)


@settings(max_examples=40, deadline=None)
@given(_boards())
def test_what_is_found_holds(made: tuple[Polygon, JointOrder]) -> None:
    """Whatever the board: parts fit, are sound, meet at the gap, and no joint crosses a letter."""
    outline, order = made
    sizes = [(190.0, 275.0), (275.0, 190.0)]
    found = found_split(outline, sizes, order)
    if found is None:
        return
    shapes = [part.shape for part in found.parts]
    least = fewest(outline, sizes, order)
    assert len(shapes) >= least > 0
    for k, shape in enumerate(shapes):
        x0, y0, x1, y1 = shape.bounds
        assert any(x1 - x0 <= w and y1 - y0 <= h for w, h in sizes)
        assert found.parts[k].is_sound(order.required_mm)
        rest = shapely.union_all(shapes[:k] + shapes[k + 1 :])
        if len(shapes) > 1:
            assert shapely.distance(shape, rest) == pytest.approx(order.fit_mm, abs=0.003)
    joints = shapely.union_all(list(found.joints))
    if not order.ink.is_empty and found.joints:
        assert shapely.distance(joints, order.ink) >= order.required_mm
    whole = shapely.union(
        shapely.union_all(shapes), shapely.buffer(joints, order.fit_mm / 2 + 0.01)
    )
    assert shapely.difference(outline, whole).area < 0.01

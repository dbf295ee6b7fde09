"""Joints: an even gap, keys that hold, and that keep off edges and lettering."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, affinity

from namebatch.outline.joint import JointLine, JointOrder, joint_shape, on_either_side
from namebatch.template.model import JointKind

BOARD = shapely.box(0, 0, 300, 120)
MIDDLE = JointLine((150, -10), (150, 130))
ORDER = JointOrder("keyed", 0.1, 1.5, 0.18)


def _sides(part: Polygon, order: JointOrder, at: JointLine = MIDDLE) -> tuple[Polygon, Polygon]:
    first, second = on_either_side(joint_shape(part, at, order), part, order.fit_mm)
    assert len(first) == len(second) == 1
    return first[0], second[0]


@pytest.mark.parametrize("kind", ["straight", "keyed"])
@pytest.mark.parametrize("fit", [0.0, 0.1, 0.4])
def test_gap_is_the_fit_all_along(kind: JointKind, fit: float) -> None:
    """From every place of one part's joint the other part is the fit away, no less anywhere."""
    order = JointOrder(kind, fit, 1.5, 0.18)
    first, second = _sides(BOARD, order)
    assert shapely.distance(first, second) == pytest.approx(fit, abs=0.002)
    edge = shapely.difference(first.exterior, shapely.buffer(BOARD.exterior, 1.0))
    points = shapely.points(shapely.get_coordinates(shapely.segmentize(edge, 0.2)))
    away = shapely.distance(points, second)
    assert np.abs(away - fit).max() < 0.003


@pytest.mark.parametrize("angle", [0.0, 20.0, 90.0])
def test_parts_and_gap_make_the_whole(angle: float) -> None:
    """What is lost of the whole is a strip as wide as the fit along the joint, nothing else."""
    at = JointLine(*_turned(MIDDLE, angle))
    first, second = _sides(BOARD, ORDER, at)
    lost = shapely.difference(BOARD, shapely.union(first, second))
    joint = shapely.intersection(BOARD, joint_shape(BOARD, at, ORDER).first_side.exterior)
    assert lost.area == pytest.approx(0.1 * joint.length, rel=0.01)
    assert shapely.buffer(joint, 0.06).covers(lost)
    assert BOARD.covers(shapely.union(first, second))


def _turned(line: JointLine, angle: float) -> list[tuple[float, float]]:
    long = affinity.scale(line.line, 3.0, 3.0)
    turned = affinity.rotate(long, angle, origin=(150, 60))
    return [(float(x), float(y)) for x, y in turned.coords]


def test_axes_of_a_line_lead_back() -> None:
    """A shape in the line's axes and back is the shape."""
    line = JointLine((12.0, -3.0), (40.0, 55.0))
    there = line.from_piece(BOARD)
    assert there.area == pytest.approx(BOARD.area)
    assert line.to_piece(there).equals_exact(BOARD, 1e-9)


def test_keys_hold_the_parts_together() -> None:
    """Keyed parts cannot be pulled apart in their plane by more than play; straight ones can."""
    for kind, held in (("keyed", True), ("straight", False)):
        first, second = _sides(BOARD, JointOrder(kind, 0.1, 1.5, 0.18))  # type: ignore[arg-type]
        pulled = affinity.translate(second, 1.5, 0.0)
        assert (shapely.intersection(first, pulled).area > 0.01) == held


@pytest.mark.parametrize("key", [None, 1.0, 6.0, 14.0])
def test_necks_are_stout(key: float | None) -> None:
    """No key has a neck below twice the least width, or below what the template says."""
    order = JointOrder("keyed", 0.1, 1.5, 0.18, key)
    shape = joint_shape(BOARD, MIDDLE, order)
    first, _ = on_either_side(shape, BOARD, 0.1)
    keys = shapely.get_parts(shapely.intersection(first[0], shapely.box(150.02, 0, 300, 120)))
    assert len(keys) == shape.keys > 0
    for found in keys:
        x0, y0, x1, y1 = found.bounds
        across = [
            shapely.intersection(found, shapely.LineString([(x, y0 - 1), (x, y1 + 1)])).length
            for x in np.linspace(x0 + 0.01, (x0 + x1) / 2, 20)
        ]
        assert min(across) >= max(3.0, (key or 0.0) - 0.1) - 0.01


def test_keys_keep_off_everything() -> None:
    """Keys stay the least width off holes, edges and lettering."""
    ink = MultiPolygon([shapely.box(151.6, 20, 170, 40), shapely.box(140, 70, 148.4, 90)])
    board = BOARD.difference(Point(150, 100).buffer(4))
    order = JointOrder("keyed", 0.1, 1.5, 0.18, ink=ink)
    shape = joint_shape(board, MIDDLE, order)
    key = shapely.intersection(shape.first_side, shapely.box(150.3, -5, 300, 125))
    assert shape.keys > 0
    assert shapely.distance(key, ink) >= 1.5
    assert shapely.distance(key, board.boundary) >= 1.5


def test_keys_reach_the_other_way_where_only_that_side_is_free() -> None:
    """Lettering on the right of the line: keys reach to the left, if they may."""
    ink = MultiPolygon([shapely.box(152, 2, 170, 118)])
    order = JointOrder("keyed", 0.1, 1.5, 0.18, ink=ink)
    assert joint_shape(BOARD, MIDDLE, order, both_ways=False).keys == 0
    shape = joint_shape(BOARD, MIDDLE, order)
    assert shape.keys > 0
    assert (
        not shapely.box(-400, -400, 149.9, 400)
        .intersection(BOARD)
        .difference(shape.first_side)
        .is_empty
    )
    first, second = _sides(BOARD, order)
    assert shapely.distance(first, second) == pytest.approx(0.1, abs=0.002)


def test_a_joint_too_short_for_a_key_is_straight() -> None:
    """On a narrow bar there is no key, and that is counted."""
    bar = shapely.box(0, 0, 300, 6)
    shape = joint_shape(bar, MIDDLE, ORDER)
    assert (shape.keys, shape.bare) == (0, 1)
    first, second = _sides(bar, ORDER)
    assert first.equals_exact(shapely.box(0, 0, 149.95, 6).normalize(), 1e-6) or (
        shapely.symmetric_difference(first, shapely.box(0, 0, 149.95, 6)).area < 1e-6
    )
    assert second.area == pytest.approx(150.05 * 6 - 0.1 * 6, abs=0.7)


def test_corners_of_keys_are_round_enough_for_the_beam() -> None:
    """A beam as wide as the kerf reaches into every corner of both parts."""
    order = JointOrder("keyed", 0.1, 1.0, 0.5)
    for part in _sides(BOARD, order):
        waste = shapely.difference(shapely.buffer(BOARD, 5), part)
        followed = shapely.buffer(shapely.buffer(waste, -0.25), 0.25)
        missed = shapely.difference(waste, shapely.buffer(followed, 0.002))
        inner = shapely.intersection(missed, shapely.box(100, 1, 200, 119))
        assert inner.area < 0.001

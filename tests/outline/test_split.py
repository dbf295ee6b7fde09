"""Outlines split along lines: parts in order, each measured."""

import pytest
import shapely
from shapely import Point

from namebatch.outline.joint import JointLine, JointOrder
from namebatch.outline.split import split

BOARD = shapely.box(0, 0, 300, 120)
ORDER = JointOrder("straight", 0.1, 1.5)


def _upright(x: float) -> JointLine:
    return JointLine((x, -10), (x, 130))


def _level(y: float) -> JointLine:
    return JointLine((310, y), (-10, y))


def test_parts_come_from_the_left_and_from_the_top() -> None:
    """Columns from the left, in each the upper part first."""
    found = split(BOARD, [_upright(100), _upright(200), _level(60)], ORDER)
    middles = [(round(p.shape.centroid.x), round(p.shape.centroid.y)) for p in found.parts]
    assert middles == [(50, 90), (50, 30), (150, 90), (150, 30), (250, 90), (250, 30)]
    assert len(found.joints) == 2 + 3


def test_a_line_that_misses_splits_nothing() -> None:
    """A line beside the piece leaves it as it is."""
    found = split(BOARD, [_upright(400)], ORDER)
    assert len(found.parts) == 1
    assert found.parts[0].shape.equals(BOARD)
    assert not found.joints


def test_keys_keep_off_other_lines() -> None:
    """Where joints cross no key stands, and all four parts are one gap apart."""
    order = JointOrder("keyed", 0.2, 1.5)
    found = split(BOARD, [_upright(150), _level(60)], order)
    assert len(found.parts) == 4
    assert found.keys >= 4
    shapes = [part.shape for part in found.parts]
    for k, shape in enumerate(shapes):
        assert shapely.distance(shape, shapely.union_all(shapes[:k] + shapes[k + 1 :])) == (
            pytest.approx(0.2, abs=0.003)
        )
    crossing = Point(150, 60).buffer(3)
    cross = shapely.union_all([_upright(150).line, _level(60).line]).buffer(0.12)
    gap = shapely.difference(crossing, shapely.union_all(shapes))
    assert cross.covers(gap)


def test_every_part_is_measured() -> None:
    """A line close to a hole leaves a thin wall in one part, and its width is told."""
    board = BOARD.difference(Point(96, 60).buffer(3))
    found = split(board, [_upright(100)], ORDER)
    thin, sound = found.parts
    assert thin.neck.width_mm == pytest.approx(0.95, abs=0.02)
    assert not thin.is_sound(1.5)
    assert sound.is_sound(1.5)


def test_a_thin_corner_at_a_joint_is_told() -> None:
    """A line that leaves the edge at a small angle makes a corner that breaks off."""
    lean = JointLine((-10, 0), (310, 30))
    found = split(BOARD, [lean], ORDER)
    assert any(part.tips for part in found.parts)
    assert all(not part.tips for part in split(BOARD, [_upright(100)], ORDER).parts)

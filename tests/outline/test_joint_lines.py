"""Lines that are clear, found group by group, are those that the plain way finds."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon

from namebatch.outline.joint import JointOrder
from namebatch.outline.joint_lines import AIR, AIR_MM, Lines, clear_lines

HEIGHT_MM = 120.0


def _board() -> Polygon:
    """A board with a waist, a large window and a small hole, nothing of it symmetrical."""
    bar, upper = shapely.box(0, 0, 640, 70), shapely.box(380, 40, 522, HEIGHT_MM)
    edge = shapely.union_all([bar, Point(171.3, 60).buffer(60), upper])
    window = Point(460.7, 70).buffer(21, quad_segs=64)
    board = edge.difference(window).difference(Point(303.1, 20).buffer(5))
    assert isinstance(board, Polygon)
    return board


@pytest.mark.parametrize("leaning", [False, True])
def test_the_quick_way_finds_the_same_lines(leaning: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each line's clearance and length in the material are those of a plain measurement."""
    monkeypatch.setattr("namebatch.outline.joint_lines.MOST_CLEAR", 10_000)
    board = _board()
    ink = MultiPolygon([shapely.box(60, 30, 118, 66), shapely.box(124, 30, 236, 100)])
    order = JointOrder("straight", 0.1, 1.5, ink=ink)
    found = clear_lines(board, order, leaning)
    whole = clear_lines(board, JointOrder("straight", 0.1, 1.5), leaning)
    lines = _lines(whole)
    away = shapely.distance(ink, lines)
    clear = away >= 1.55
    assert 20 < clear.sum() < len(lines) - 20
    assert found.middle.tolist() == whole.middle[clear].tolist()
    assert found.slope.tolist() == whole.slope[clear].tolist()
    # the hole is as far from these lines as before, so only the ink's nearness can add to them
    hole = shapely.distance(Point(303.1, 20).buffer(5), lines)
    length = shapely.length(shapely.intersection(board, lines))
    near = AIR * np.maximum(AIR_MM - np.minimum(away, hole), 0.0)
    kept = found.cost < 1000.0  # no further part
    assert found.cost[kept] == pytest.approx((length + near)[clear][kept], abs=1e-9)
    assert kept.sum() > 20


def _lines(some: Lines) -> np.ndarray:
    """From below the board to above it."""
    ends = np.empty((len(some.middle), 2, 2))
    for end, up in enumerate((-10.0, HEIGHT_MM + 10.0)):
        ends[:, end, 0] = some.middle + some.slope * (up - HEIGHT_MM / 2)
        ends[:, end, 1] = up
    return np.asarray(shapely.linestrings(ends), dtype=np.object_)

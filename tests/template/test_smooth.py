"""Fairing of traced rings: lines and circles stay, stairs go, nothing leaves the tube."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, Polygon, points

from namebatch.template.smooth import Ring, smoothed


def _closed(x: Ring, y: Ring) -> Ring:
    return np.column_stack([np.append(x, x[0]), np.append(y, y[0])])


def _stairs(slope: int, steps: int) -> Ring:
    """A parallelogram whose long sides climb by a pixel every so many pixels."""
    up = [(i * slope + dx, float(i)) for i in range(steps) for dx in (0.0, slope - 1.0)]
    back = [(x, y + 40.0) for x, y in reversed(up)]
    ring = np.array([*up, *back, up[0]])
    return np.asarray(ring)


@pytest.mark.parametrize("radius", [12.0, 60.0, 300.0])
def test_circles_do_not_shrink(radius: float) -> None:
    """A circle comes out as it went in, to a thousandth of its radius."""
    turn = np.linspace(0, 2 * np.pi, 400, endpoint=False)
    found = smoothed(_closed(radius * np.cos(turn), radius * np.sin(turn)), 0.6, 24.0)
    assert np.hypot(*found.T) == pytest.approx(radius, abs=0.001 * radius)


def test_stairs_become_straight() -> None:
    """Steps of a pixel every 12 pixels leave a line that is straight within a fifth of one."""
    found = smoothed(_stairs(12, 10), 0.6, 24.0)
    low = found[(found[:, 0] > 15) & (found[:, 0] < 95) & (found[:, 1] < 15)]
    fit = np.polyfit(low[:, 0], low[:, 1], 1)
    assert fit[0] == pytest.approx(1 / 12, rel=0.1)
    assert np.abs(np.polyval(fit, low[:, 0]) - low[:, 1]).max() < 0.2


def test_corners_stay() -> None:
    """A square that pixels blunted gets its points back."""
    blunt = np.array(
        [(1, 0), (39, 0), (40, 1), (40, 39), (39, 40), (1, 40), (0, 39), (0, 1), (1, 0)], float
    )
    ring = LinearRing(smoothed(blunt, 0.15, 16.0))
    for corner in ((0, 0), (40, 0), (40, 40), (0, 40)):
        assert ring.distance(points(corner)) < 0.1


@settings(max_examples=50)
@given(st.lists(st.floats(5, 30), min_size=6, max_size=24), st.sampled_from([0.15, 0.6]))
def test_nothing_goes_far(radii: list[float], reach: float) -> None:
    """Whatever the shape, no point lands far from the ring that went in."""
    turn = np.linspace(0, 2 * np.pi, len(radii), endpoint=False)
    ring = _closed(np.array(radii) * np.cos(turn), np.array(radii) * np.sin(turn))
    found = smoothed(ring, reach, 16.0)
    away = LinearRing(ring).distance(points(found))
    # corners may be drawn out by a pixel and a half
    assert away.max() <= reach + 1.6
    assert Polygon(found).area == pytest.approx(Polygon(ring).area, rel=0.15)


@pytest.mark.parametrize("count", [3, 4, 5])
def test_tiny_rings(count: int) -> None:
    """A ring of a few pixels goes through."""
    turn = np.linspace(0, 2 * np.pi, count, endpoint=False)
    assert np.isfinite(smoothed(_closed(np.cos(turn), np.sin(turn)), 0.6, 24.0)).all()

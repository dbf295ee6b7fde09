"""Offsets of convex shapes against Steiner's formula."""

from math import pi

import pytest
import shapely
from shapely import box

from namebatch.curves import Flattener
from namebatch.outline import offset_for_kerf


def test_steiner() -> None:
    """A 100 × 50 rectangle grown by r has area A + P·r + π·r² and perimeter P + 2·π·r.

    Steiner formula (Gruber, Convex and Discrete Geometry); for r = 0.1: 5030.0314 mm² and
    300.6283 mm. The mitred kerf offset exceeds it by its four corners, (4 − π)·r².
    """
    grown = box(0, 0, 100, 50).buffer(0.1, quad_segs=64)
    assert grown.area == pytest.approx(5030.0314, abs=1e-4)
    assert grown.length == pytest.approx(300.6283, abs=1e-3)
    kerf = offset_for_kerf(box(0, 0, 100, 50), (0.2, 0.2))
    assert kerf.area - 5030.0314 == pytest.approx((4 - pi) * 0.01, abs=1e-4)


def test_flattened_circle_is_a_circle() -> None:
    """Four cubics with the usual constant give π·r² within the flattening tolerance.

    k = 4·(√2 − 1)/3 (from memory); its own radial error is 0.027 %.
    """
    k = 4 * (2**0.5 - 1) / 3
    flattener = Flattener(0.001)
    flattener.move(10, 0)
    flattener.cubic(10, 10 * k, 10 * k, 10, 0, 10)
    flattener.cubic(-10 * k, 10, -10, 10 * k, -10, 0)
    flattener.cubic(-10, -10 * k, -10 * k, -10, 0, -10)
    flattener.cubic(10 * k, -10, 10, -10 * k, 10, 0)
    circle = shapely.Polygon(flattener.finish()[0])
    assert circle.area == pytest.approx(pi * 100, rel=5e-4)

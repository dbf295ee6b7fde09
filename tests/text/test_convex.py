"""Convex pieces, and polygons taken apart into them."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from namebatch.text.convex import convex_parts, is_convex, piece_of, piece_round

STAR = Polygon([(0, 3), (1, 1), (3, 0), (1, -1), (0, -3), (-1, -1), (-3, 0), (-1, 1)])
BAY = shapely.box(0, 0, 10, 10).difference(Point(5, 10).buffer(3, 16))
RING = Point(0, 0).buffer(5, 16).difference(Point(1, 0).buffer(2, 16))


@pytest.mark.parametrize("polygon", [STAR, BAY, RING], ids=["star", "bay", "ring"])
def test_parts_are_convex_and_make_up_the_whole(polygon: Polygon) -> None:
    """Together they cover the polygon, they do not overlap, and each is convex."""
    parts = convex_parts(polygon)
    assert all(is_convex(part) for part in parts)
    assert sum(part.area for part in parts) == pytest.approx(polygon.area)
    assert shapely.union_all(parts).symmetric_difference(polygon).area < 1e-9


def test_what_is_convex_stays_whole() -> None:
    """A disc is one part; a star of four points is at most five."""
    assert len(convex_parts(Point(0, 0).buffer(1))) == 1
    assert len(convex_parts(STAR)) <= 5


def test_reaches_of_a_square() -> None:
    """Half a side each way, from its middle; placed, they go with it."""
    piece = piece_of(shapely.box(-1, -1, 1, 1))
    assert piece.reaches == pytest.approx([1, 1, 1, 1])
    moved = piece.placed(2.0, 10.0, 0.0)
    assert moved.corners.min(axis=0) == pytest.approx([8, -2])
    assert moved.reaches == pytest.approx((moved.corners @ moved.normals.T).max(axis=0))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(3, 40), st.floats(0.001, 0.05))
def test_a_piece_reaches_round_all_points(seed: int, count: int, cut: float) -> None:
    """Whatever is cut for the sake of fewer sides, no point is left out."""
    points = np.random.default_rng(seed).normal(size=(count, 2))
    piece = piece_round(points, cut)
    assert Polygon(piece.corners).buffer(1e-9).covers(shapely.MultiPoint(points))
    assert (points @ piece.normals.T <= piece.reaches + 1e-12).all()

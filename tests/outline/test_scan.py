"""Parallel lines over polygons, against lengths that are known and against shapely."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from namebatch.outline.scan import Frame, edges_of


def _layer(*polygons: Polygon) -> np.ndarray:
    return np.array(polygons, dtype=object)


def test_spans_of_a_square_with_a_hole() -> None:
    """An upright line enters below, leaves at the hole, enters above it and leaves at the top."""
    square = box(0, 0, 10, 10) - box(4, 3, 6, 8)
    (spans,) = edges_of([_layer(square)]).scan(Frame(0), np.array([2.0, 5.0]))
    assert spans.line.tolist() == [0, 1, 1]
    assert spans.low.tolist() == [0, 0, 8]
    assert spans.high.tolist() == [10, 3, 10]


def test_layers_and_owners_are_kept_apart() -> None:
    """Each layer has its own spans, each span its polygon."""
    edges = edges_of([_layer(box(0, 0, 2, 2), box(0, 5, 2, 6)), _layer(), _layer(box(0, 1, 2, 3))])
    first, none, second = edges.scan(Frame(0), np.array([1.0]))
    assert first.owner.tolist() == [0, 1]
    assert len(none.line) == 0
    assert second.low.tolist() == [1]


def test_a_corner_on_a_line_counts_once() -> None:
    """A line through corners still enters and leaves in turn."""
    diamond = Polygon([(0, 0), (5, -5), (10, 0), (5, 5)])
    (spans,) = edges_of([_layer(diamond)]).scan(Frame(0), np.array([0.0, 5.0, 10.0]))
    assert [(low, high) for line, low, high in zip(spans.line, spans.low, spans.high, strict=True)
            if line == 1] == [(-5, 5)]  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(st.floats(-60, 90), st.floats(-8, 8))
def test_spans_agree_with_shapely(lean: float, across: float) -> None:
    """What a line covers is what shapely cuts from it, whatever the direction."""
    shape = Point(0, 0).buffer(9) - box(-3, -4, 5, 2)
    frame = Frame(lean)
    (spans,) = edges_of([_layer(shape)]).scan(frame, np.array([across]))
    ends = frame.back(np.array([across, across]), np.array([-50.0, 50.0]))
    expected = shapely.length(shapely.intersection(LineString(ends), shape))
    assert (spans.high - spans.low).sum() == pytest.approx(expected, abs=1e-6)
    whole = spans.covered(np.array([0]), np.array([-50.0]), np.array([50.0]))
    assert whole[0] == pytest.approx(expected, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(st.floats(-3.14, 3.14), st.floats(4, 8))
def test_share_of_any_line_inside(angle: float, radius: float) -> None:
    """The share of a line inside a shape and inside its hole is that by shapely."""
    hole = box(-3, -4, 5, 2)
    shape = Point(0, 0).buffer(9) - hole
    end = radius * np.cos(angle), radius * np.sin(angle)
    line = LineString([(-7.0, 0.3), end])
    edges = edges_of([_layer(shape), _layer(hole)])
    rows = np.array([[-7.0, 0.3, *end]])
    inside = edges.inside(0, rows, starts_inside=True)[0]
    over = edges.inside(1, rows, starts_inside=False)[0]
    assert inside * line.length == pytest.approx(shape.intersection(line).length, abs=1e-6)
    assert over * line.length == pytest.approx(hole.intersection(line).length, abs=1e-6)

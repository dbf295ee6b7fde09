"""Curves: flattening keeps its promise, paths survive recording and maps."""

from itertools import pairwise
from math import cos, hypot, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.curves import (
    IDENTITY,
    Flattener,
    Point,
    Recorder,
    apply,
    compose,
    draw,
    ring_path,
    transform,
)

coordinate = st.floats(-1000, 1000, allow_nan=False)
point = st.tuples(coordinate, coordinate)


def _distance_to_chords(p: Point, ring: list[Point]) -> float:
    best = float("inf")
    for (x0, y0), (x1, y1) in pairwise(ring):
        dx, dy = x1 - x0, y1 - y0
        length = dx * dx + dy * dy
        t = 0.0 if length == 0 else ((p[0] - x0) * dx + (p[1] - y0) * dy) / length
        t = min(max(t, 0.0), 1.0)
        best = min(best, hypot(p[0] - x0 - t * dx, p[1] - y0 - t * dy))
    return best


@given(point, point, point, point, st.floats(0.05, 5))
def test_cubic_stays_within_tolerance(a: Point, b: Point, c: Point, d: Point, tol: float) -> None:
    """No point of a cubic lies farther from its chords than the tolerance."""
    flattener = Flattener(tol)
    flattener.move(*a)
    flattener.cubic(*b, *c, *d)
    flattener.line(1e6, 1e6)
    ring = flattener.finish()[0][:-1]
    for i in range(101):
        t = i / 100
        u = 1 - t
        weights = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
        p = tuple(sum(w * q[k] for w, q in zip(weights, (a, b, c, d), strict=True)) for k in (0, 1))
        assert _distance_to_chords((p[0], p[1]), ring) <= tol * (1 + 1e-6) + 1e-9


@given(point, point, point, st.floats(0.05, 5))
def test_quadratic_stays_within_tolerance(a: Point, b: Point, c: Point, tol: float) -> None:
    """No point of a quadratic lies farther from its chords than the tolerance."""
    flattener = Flattener(tol)
    flattener.move(*a)
    flattener.quad(*b, *c)
    flattener.line(1e6, 1e6)
    ring = flattener.finish()[0][:-1]
    for i in range(101):
        t = i / 100
        u = 1 - t
        p = tuple(u * u * a[k] + 2 * u * t * b[k] + t * t * c[k] for k in (0, 1))
        assert _distance_to_chords((p[0], p[1]), ring) <= tol * (1 + 1e-6) + 1e-9


def test_open_and_closed_contours_are_told_apart() -> None:
    """A contour counts as closed if it was closed or came back to its start."""
    flattener = Flattener(0.1)
    flattener.move(0, 0)
    flattener.line(1, 0)
    flattener.move(5, 5)
    flattener.line(6, 5)
    flattener.line(6, 6)
    flattener.close()
    flattener.move(9, 9)
    flattener.line(10, 9)
    flattener.line(9, 9)
    flattener.finish()
    assert flattener.closed == [False, True, True]


def test_tolerance_must_be_positive() -> None:
    """A tolerance of zero would never end."""
    with pytest.raises(ValueError, match="above zero"):
        Flattener(0)


@given(point, st.tuples(*[st.floats(-10, 10)] * 6), st.tuples(*[st.floats(-10, 10)] * 6))
def test_compose_is_one_after_the_other(
    p: Point,
    outer: tuple[float, float, float, float, float, float],
    inner: tuple[float, float, float, float, float, float],
) -> None:
    """A composed map does the inner map first."""
    both = apply(compose(outer, inner), p)
    after = apply(outer, apply(inner, p))
    assert both == pytest.approx(after, abs=1e-6)


def test_recorded_path_draws_itself_again() -> None:
    """Every verb survives recording, drawing and the identity map."""
    recorder = Recorder()
    recorder.move(0, 0)
    recorder.line(1, 0)
    recorder.quad(2, 0, 2, 1)
    recorder.cubic(2, 2, 1, 2, 0, 2)
    recorder.close()
    again = Recorder()
    draw(transform(recorder.path, IDENTITY), again)
    assert again.path == recorder.path


def test_ring_path_leaves_out_the_repeated_point() -> None:
    """A closed polygon gives as many points as it has corners."""
    circle = [(cos(2 * pi * i / 6), sin(2 * pi * i / 6)) for i in range(6)]
    verbs = [segment.verb for segment in ring_path([[*circle, circle[0]]])]
    assert verbs == ["M", "L", "L", "L", "L", "L", "Z"]

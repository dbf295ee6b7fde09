"""Chords across a shape: however many edges are near a corner, the same ones."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from namebatch.outline import boundary, facing
from namebatch.outline.boundary import boundary_of
from namebatch.outline.facing import MANY, chords_below
from namebatch.outline.thickness import narrowest
from tests.outline.real_names import real_names
from tests.outline.rough import comb, jagged, plain, rough, spiral

PLATE = box(0, 0, 30, 20) - box(4, 4, 12, 12) - Point(20, 10).buffer(5) - box(14, 2, 14.5, 18)
ALL_AT_ONCE = 10**9


def _same(shape: Polygon, below: float) -> int:
    """Assert that steps find what looking at every edge finds; how many chords."""
    b = boundary_of(shape)
    found, expected = (chords_below(b, below, many) for many in (0, ALL_AT_ONCE))
    assert np.array_equal(found, expected)
    return len(found)


@settings(max_examples=60, deadline=None)
@given(st.integers(20, 400), st.floats(0.0, 1.5), st.sampled_from([0.5, 3.0, 12.0, 500.0]))
def test_steps_find_every_chord_of_a_rough_plate(corners: int, noise: float, below: float) -> None:
    """Doubling the width step by step leaves out no chord, finds none twice, and keeps order."""
    _same(rough(PLATE, corners, noise), below)


@pytest.mark.parametrize("shape", [jagged(300), comb(40), spiral(400), PLATE, box(0, 0, 9, 9)])
@pytest.mark.parametrize("below", [1.0, 4.8, 500.0])
def test_steps_find_every_chord_of_known_shapes(shape: Polygon, below: float) -> None:
    """Straight corners, right angles and equal widths are no exception."""
    _same(shape, below)


def test_steps_find_every_chord_of_names() -> None:
    """Lettering in eleven faces has the same chords, in the same order."""
    assert (
        sum(_same(shape, below) for _, shape in real_names((15,)) for below in (3.0, 500.0)) > 500
    )


def test_a_neck_across_a_rough_bar_is_found_exactly() -> None:
    """Two notches that nearly meet, each among thousands of corners, are the narrowest place."""
    upper = [(x, 20 + 0.3 * (k % 2)) for k, x in enumerate(np.linspace(60, 0, 4_000))]
    shape = Polygon([(0, 0), (60, 0), *upper])
    shape -= Polygon([(29, 21), (31, 21), (30, 12)]) | Polygon([(29, -1), (31, -1), (30.5, 9)])
    assert isinstance(shape, Polygon)
    found = narrowest(shape, 1.2, 500.0)
    assert found.width_mm == pytest.approx(np.hypot(0.5, 3.0), abs=1e-6)
    assert found.at == pytest.approx((30.25, 10.5))


class _Counted:
    """Entries of a grid that count how often one is read."""

    def __init__(self, entries: Any) -> None:
        self.entries, self.size, self.read = entries, entries.size, 0

    def __getitem__(self, k: int) -> int:
        self.read += 1
        return int(self.entries[k])


def _entries_read(shape: Polygon, monkeypatch: pytest.MonkeyPatch) -> int:
    for module in (facing, boundary):
        for name, function in vars(module).items():
            if hasattr(function, "py_func"):
                monkeypatch.setattr(module, name, function.py_func)
    b = boundary_of(shape)
    edges = _Counted(b.edges)
    with np.errstate(all="ignore"):
        plain(chords_below)(b._replace(edges=edges), 500.0, MANY)  # type: ignore[arg-type]
    return edges.read


@pytest.mark.no_cover
@pytest.mark.parametrize("kind", [jagged, spiral])
def test_work_grows_with_the_corners(kind: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Four times the corners cost no more than six times the looks, not sixteen times."""
    few, many = (_entries_read(kind(corners), monkeypatch) for corners in (1_500, 6_000))
    assert many < 6 * few


@pytest.mark.no_cover
def test_smooth_holes_are_cheap_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Circles stay empty over the whole width of a plate, and still few of its edges are read."""
    plates = (
        box(-60, -60, 60, 60) - Point(0, 0).buffer(20, quad_segs=quarter) for quarter in (100, 400)
    )
    few, many = (_entries_read(plate, monkeypatch) for plate in plates)
    assert many < 8 * few

"""Short ways through places: nothing lost, groups together, shorter than the nearest first."""

from itertools import permutations
from types import FunctionType

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.outline.arrays import Floats
from namebatch.sheet import tour_search
from namebatch.sheet.tour import short_tour, short_way, way_length
from namebatch.sheet.tour_start import nearest_first, neighbours

PLACES = st.lists(st.tuples(st.integers(0, 300), st.integers(0, 200)), min_size=1, max_size=40)


def scattered(count: int) -> Floats:
    """Places all over a sheet of 600 × 300 mm, the same ones each time."""
    rng = np.random.default_rng(count)
    return rng.uniform((0.0, 0.0), (600.0, 300.0), (count, 2))


@settings(deadline=None)  # the first call compiles
@given(PLACES)
def test_every_place_is_passed_once(places: list[tuple[int, int]]) -> None:
    """Also where places coincide or stand in a row."""
    at = np.array(places, dtype=float)
    groups = np.arange(len(at))
    assert sorted(short_way(at, groups, (0.0, 0.0))) == list(groups)
    assert sorted(short_tour(at)) == list(groups)


@settings(deadline=None)
@given(PLACES, st.integers(1, 6))
def test_groups_stay_together(places: list[tuple[int, int]], count: int) -> None:
    """The way enters each group once, wherever its places lie."""
    at = np.array(places, dtype=float)
    groups = np.array([k % count for k in range(len(at))])
    order = short_way(at, groups, (0.0, 0.0))
    assert sorted(order) == list(range(len(at)))
    along = groups[order]
    assert 1 + np.count_nonzero(np.diff(along)) == len(set(groups.tolist()))


@pytest.mark.parametrize("seed", range(8))
def test_seven_places_take_the_shortest_way(seed: int) -> None:
    """Compared with all 5,040 ways from the corner."""
    at = np.random.default_rng(seed).uniform(0.0, 100.0, (7, 2))
    found = way_length(at, short_way(at, np.arange(7), (0.0, 0.0)), (0.0, 0.0))
    every = (way_length(at, np.array(turn), (0.0, 0.0)) for turn in permutations(range(7)))
    assert found == pytest.approx(min(every))


def test_the_way_starts_at_the_start_and_ends_anywhere() -> None:
    """Places in a row from the start on are passed in their row, and nothing leads back."""
    at = np.column_stack([np.arange(1.0, 30.0), np.zeros(29)])
    order = short_way(at, np.arange(29), (0.0, 0.0))
    assert order.tolist() == list(range(29))
    assert way_length(at, order, (0.0, 0.0)) == 29.0


def test_a_way_to_begin_with_is_only_made_shorter() -> None:
    """What the search is given is never made longer."""
    at = scattered(60)
    worst = np.arange(60)
    better = short_way(at, np.arange(60), (0.0, 0.0), worst, kicks=0)
    assert way_length(at, better, (0.0, 0.0)) < way_length(at, worst, (0.0, 0.0)) / 2
    best = short_way(at, np.arange(60), (0.0, 0.0), better)
    assert way_length(at, best, (0.0, 0.0)) <= way_length(at, better, (0.0, 0.0)) + 1e-6


def test_the_same_places_give_the_same_way() -> None:
    """Nothing depends on chance."""
    at = scattered(200)
    groups = np.arange(200) // 3
    once, again = (short_way(at, groups, (0.0, 0.0)) for _ in range(2))
    assert once.tolist() == again.tolist()


def test_ten_thousand_places() -> None:
    """A sheet of 10,000 is within 8 % of what a best tour of scattered places takes.

    0.7124·√(n·A) for many places (Beardwood, Halton & Hammersley 1959; the constant after
    Johnson & McGeoch 1996, from memory).
    """
    at = scattered(10_000)
    order = short_way(at, np.arange(10_000), (0.0, 0.0))
    assert sorted(order) == list(range(10_000))
    best = 0.7124 * np.sqrt(10_000 * 600.0 * 300.0)
    assert 0.99 * best < way_length(at, order, (0.0, 0.0)) < 1.08 * best


def test_compiled_and_plain_search_agree() -> None:
    """Without compiled code the way is the very same, only later."""
    at = scattered(25)
    groups = np.arange(25) // 2
    plain = {
        name: getattr(value, "py_func", value)
        for name, value in vars(tour_search).items()
        if callable(value)
    }
    source = dict(vars(tour_search), **plain)
    functions = {
        name: FunctionType(value.__code__, source, name)
        for name, value in plain.items()
        if isinstance(value, FunctionType)
    }
    source.update(functions)
    places = np.vstack([at, [(0.0, 0.0)], [(0.0, 0.0)]])
    ids = np.concatenate([groups, [-1, -2]])
    near = neighbours(places, ids, np.argsort(at[:, 0]), 25, 8)
    start = np.concatenate([[25], nearest_first(places, ids, 25, 25)[1:], [26]])
    once, again = start.copy(), start.copy()
    tour_search.improve(places, ids, 26, near, once, 40)
    functions["improve"](places, ids, 26, near, again, 40)
    assert once.tolist() == again.tolist() != start.tolist()

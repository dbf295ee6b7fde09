"""The way through one operation: entries chosen exactly, groups together."""

from itertools import product

import numpy as np
import pytest

from namebatch.sheet.route import best_entries, route


def test_entries_are_the_best_for_their_turn() -> None:
    """Compared with every choice for six lines of three entries."""
    rng = np.random.default_rng(5)
    stops = [rng.uniform(0, 100, (3, 2)) for _ in range(6)]
    order = np.array([3, 0, 5, 1, 2, 4])

    def length(chosen: tuple[int, ...]) -> float:
        along = [np.zeros(2), *(stops[k][chosen[k]] for k in order)]
        return float(np.hypot(*np.diff(along, axis=0).T).sum())

    found = best_entries(stops, order, (0.0, 0.0))
    assert length(tuple(found.tolist())) == pytest.approx(
        min(length(chosen) for chosen in product(range(3), repeat=6))
    )


def test_lines_side_by_side_are_entered_on_the_sides_that_face() -> None:
    """Squares in a row, entered at the left or right: from the left one on, one after another."""
    stops = [np.array([[x, 5.0], [x + 10.0, 5.0]]) for x in (40.0, 10.0, 25.0)]
    assert [stop for stop, _ in route(stops, np.arange(3), (0.0, 5.0))] == [1, 2, 0]


def test_the_lines_of_a_piece_follow_one_another() -> None:
    """Two pieces whose lines lie mixed along a row are still run piece by piece."""
    stops = [np.array([[10.0 * k, 0.0]]) for k in range(8)]
    groups = np.array([0, 1, 0, 1, 0, 1, 0, 1])
    turns = [int(groups[stop]) for stop, _ in route(stops, groups, (0.0, 0.0))]
    assert turns == [0] * 4 + [1] * 4
    assert route([], np.zeros(0, np.int64), (0.0, 0.0)) == []

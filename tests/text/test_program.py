"""The small linear program, against closed forms and all corners of random ones."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.text.program import greatest


def test_a_corner_in_closed_form() -> None:
    """With size + x ≤ 4 and size − x ≤ 2 both hold with equality at size 3, x 1."""
    point = greatest(np.array([[1.0, 1.0, 4.0], [1.0, -1.0, 2.0]]), 100.0)
    assert point == pytest.approx([3.0, 1.0])


def test_the_bound_counts() -> None:
    """Nothing is larger than what is of use."""
    point = greatest(np.array([[1.0, 1.0, 4.0], [1.0, -1.0, 2.0]]), 2.5)
    assert point is not None
    assert point[0] == pytest.approx(2.5)


def test_none_where_nothing_holds() -> None:
    """No x is at most 0 and at least 1."""
    assert greatest(np.array([[0.0, 1.0, 0.0], [0.0, -1.0, -1.0]]), 5.0) is None


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(4, 12))
def test_it_is_the_best_of_all_corners(seed: int, count: int) -> None:
    """No corner of three inequalities that keeps all of them has a greater first coordinate."""
    dice = np.random.default_rng(seed)
    normals = dice.normal(size=(count, 3))
    rows = np.column_stack([normals, dice.uniform(0.5, 3.0, count)])  # the origin is inside
    box = np.column_stack([np.vstack([np.eye(3), -np.eye(3)]), np.full(6, 20.0)])
    rows = np.vstack([rows, box])
    point = greatest(rows, 9.0)
    assert point is not None
    assert (rows[:, :3] @ point <= rows[:, 3] + 1e-7).all()
    every = np.vstack([rows, [1.0, 0.0, 0.0, 9.0]])
    for three in itertools.combinations(every, 3):
        matrix = np.array(three)
        if abs(np.linalg.det(matrix[:, :3])) < 1e-6:
            continue
        corner = np.linalg.solve(matrix[:, :3], matrix[:, 3])
        if (every[:, :3] @ corner <= every[:, 3] + 1e-9).all():
            assert corner[0] <= point[0] + 1e-6


def test_a_sliver_that_points_away() -> None:
    """Far from the origin, though all its sides pass close by it, the tip of a sliver is found."""
    rows = np.array([[1.0, -0.01, 0.0], [0.0, 1.0, 100.0], [0.0, -1.0, 0.0]])
    assert greatest(rows, 50.0) == pytest.approx([1.0, 100.0])

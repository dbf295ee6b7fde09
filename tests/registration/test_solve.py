"""The least-squares maps, each on sets of points of which the answer is known."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.curves import Affine, apply
from namebatch.registration.solve import (
    Floats,
    affine,
    mapped,
    rigid,
    similarity,
    spread,
    two_scales,
    uncertainty,
)
from tests.registration.sheets import CORNERS, error_mm, laid

SHEET = np.array(CORNERS)
ONES = np.ones(4)
Solver = Callable[[Floats, Floats, Floats], Affine]


def images(true: Affine) -> Floats:
    """The corners where a print lies."""
    return np.array([apply(true, corner) for corner in CORNERS])


@pytest.mark.parametrize(
    ("solver", "true"),
    [
        (rigid, laid()),
        (similarity, laid(scale=(0.998, 0.998))),
        (two_scales, laid(scale=(0.997, 1.002))),
        (affine, laid(scale=(0.997, 1.002), skew=0.001)),
        (two_scales, laid(angle_deg=179.5, scale=(1.01, 0.99))),
        (two_scales, laid(angle_deg=-90.2, scale=(1.01, 0.99))),
        (similarity, laid(angle_deg=123.0, scale=(0.5, 0.5))),
    ],
)
def test_each_map_finds_a_print_of_its_own_kind(solver: Solver, true: Affine) -> None:
    """Without reading errors the map is the one by which the print lies."""
    assert solver(SHEET, images(true), ONES) == pytest.approx(true, abs=1e-9)


@given(
    st.floats(-180, 180), st.floats(0.97, 1.03), st.floats(0.97, 1.03), st.integers(0, 2**32 - 1)
)
def test_two_scales_leave_the_least_squares(angle: float, x: float, y: float, seed: int) -> None:
    """No small change of turn or scales comes closer to noisy marks."""
    noise = np.random.default_rng(seed).normal(0, 0.3, (4, 2))
    measured = images(laid(angle, (x, y))) + noise
    best = two_scales(SHEET, measured, ONES)
    centre, goal = SHEET.mean(axis=0), measured.mean(axis=0)
    least = float(((mapped(best, SHEET) - measured) ** 2).sum())
    matrix = np.array([[best[0], best[2]], [best[1], best[3]]])
    sizes = np.hypot(*matrix)
    turn = np.arctan2(matrix[1, 0], matrix[0, 0])
    for change in np.vstack([np.eye(3), -np.eye(3)]) * 1e-4:
        c, s = np.cos(turn + change[0]), np.sin(turn + change[0])
        other = np.array([[c, -s], [s, c]]) * (sizes + change[1:])
        squares = (((SHEET - centre) @ other.T + goal - measured) ** 2).sum()
        assert squares >= least - 1e-9


def test_readings_weigh_as_often_as_they_were_taken() -> None:
    """A mark read three times counts as three marks in its place."""
    measured = images(laid()) + np.array([[0.1, 0], [0, 0.2], [-0.1, 0.1], [0, 0]])
    weighed = similarity(SHEET, measured, np.array([3.0, 1.0, 1.0, 1.0]))
    thrice = similarity(
        np.vstack([SHEET[:1], SHEET[:1], SHEET]),
        np.vstack([measured[:1], measured[:1], measured]),
        np.ones(6),
    )
    assert weighed == pytest.approx(thrice, abs=1e-12)


def test_a_mirrored_set_is_never_met_by_mirroring() -> None:
    """The best similarity of mirrored marks is still a rotation."""
    mirrored = images(laid()) * np.array([-1.0, 1.0])
    a, b, c, d, _, _ = similarity(SHEET, mirrored, ONES)
    assert a * d - b * c > 0


def test_spread_tells_a_line_from_a_plane() -> None:
    """Points on a line have no width."""
    line = np.array([[0.0, 0], [30, 40], [60, 80]])
    along, across = spread(line)
    assert along == pytest.approx(50 * np.sqrt(2 / 3))
    assert across == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("model", "variance"),
    [(None, 3 / 4), ("similarity", 4 / 4), ("two-scales", 5 / 4), ("affine", 6 / 4)],
)
def test_uncertainty_at_four_corners_is_that_of_the_free_values(
    model: str | None, variance: float
) -> None:
    """By symmetry the hat matrix shares its trace, the number of free values, over the corners."""
    found = uncertainty(model, 0.3, SHEET, ONES, SHEET)  # type: ignore[arg-type]
    assert found == pytest.approx(variance**0.5)
    four = uncertainty(model, 0.3, SHEET, 4 * ONES, SHEET)  # type: ignore[arg-type]
    assert four == pytest.approx(found / 2)


def test_error_is_measured_at_the_worst_corner() -> None:
    """A turn of one minute about the middle moves the corners by their distance from it."""
    assert error_mm(laid(0.0), laid(0.0, shift=(37.0, 52.3))) == pytest.approx(0.3)

"""Letters that stand upright along a bent line: how far apart, so that they keep clear."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

import numpy as np

from namebatch.template.guide import Floats
from namebatch.text.baseline import Baseline
from namebatch.text.units import Unit

LEAST_GAP = 0.1
"""Between the boxes round two letters, in capitals' heights."""
STRIDE = 0.2
HALVINGS = 10
FARTHEST = 8.0
"""Capitals' heights that one letter moves on at most, beside its own gap."""


def uprights(units: Sequence[Unit], baseline: Baseline, height_mm: float, start: float) -> Floats:
    """How far along each unit moves from where it would stand straight.

    The boxes round two neighbours stay as far apart as their ink would along the straight
    line, at least `LEAST_GAP`; so letters under each other take their height, not their width.

    Args:
        units: from left to right.
        baseline: what they stand along; the middle of their capitals is kept over it.
        height_mm: of capitals.
        start: where x = 0 of the first unit lies.
    """
    at = start + units[0].middle * height_mm
    shifts = [0.0]
    for left, right in pairwise(units):
        gap = max(right.bounds[0] - left.bounds[2], LEAST_GAP)
        at = _next(at, left, right, gap, baseline, height_mm)
        shifts.append(at - right.middle * height_mm - start)
    return np.array(shifts)


def _next(
    at: float, left: Unit, right: Unit, gap: float, baseline: Baseline, height_mm: float
) -> float:
    """The nearest place behind `at` where the next letter keeps clear."""
    here = _centre(baseline, at, height_mm)

    def clear(there: float) -> bool:
        x, y = _centre(baseline, there, height_mm) - here
        return _between(left, right, x / height_mm, y / height_mm) >= gap

    low = high = at
    while not clear(high) and high - at < (FARTHEST + gap) * height_mm:
        low, high = high, high + STRIDE * height_mm
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if clear(middle) else (middle, high)
    return high


def _centre(baseline: Baseline, at: float, height_mm: float) -> Floats:
    """Where the middle of a capital stands."""
    point, ahead = baseline.frame(at)
    centre: Floats = point + np.array([-ahead[1], ahead[0]]) * height_mm / 2
    return centre


def _between(left: Unit, right: Unit, x: float, y: float) -> float:
    """Distance of the boxes round two letters, the second moved by x, y from the first."""
    half = (left.bounds[2] - left.bounds[0] + right.bounds[2] - right.bounds[0]) / 2
    beside = abs(x) - half
    over = max(y + right.bounds[1] - left.bounds[3], left.bounds[1] - y - right.bounds[3])
    return hypot(max(beside, 0.0), max(over, 0.0))

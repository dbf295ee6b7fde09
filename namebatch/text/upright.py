"""Letters that stand upright along a bent line: how far apart, so that they keep clear."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from namebatch.template.guide import Floats, turned
from namebatch.text.baseline import Baseline
from namebatch.text.units import Unit

LEAST_GAP = 0.1
"""Between the boxes round two letters, in capitals' heights."""
STRIDES = (60, 40, 20)
"""The next letter's place is looked for in so many steps, then finer about the first found."""
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
    [here] = _centres(baseline, np.array([at]), height_mm)
    low, high = at, at + (FARTHEST + gap) * height_mm
    for count in STRIDES:
        places = np.linspace(low, high, count)
        moved = (_centres(baseline, places, height_mm) - here) / height_mm
        clear = _between(left, right, moved) >= gap
        first = int(np.argmax(clear)) if clear.any() else count - 1
        low, high = float(places[max(first - 1, 0)]), float(places[first])
    return high


def _centres(baseline: Baseline, at: Floats, height_mm: float) -> Floats:
    """Where the middles of capitals stand."""
    points, ahead = baseline.frames(at)
    centres: Floats = points + turned(ahead, 1) * height_mm / 2
    return centres


def _between(left: Unit, right: Unit, moved: Floats) -> Floats:
    """Distances of the boxes round two letters, the second moved so far from the first."""
    half = (left.bounds[2] - left.bounds[0] + right.bounds[2] - right.bounds[0]) / 2
    beside = np.abs(moved[:, 0]) - half
    above = moved[:, 1] + right.bounds[1] - left.bounds[3]
    below = left.bounds[1] - moved[:, 1] - right.bounds[3]
    over = np.maximum(above, below)
    found: Floats = np.hypot(np.maximum(beside, 0.0), np.maximum(over, 0.0))
    return found

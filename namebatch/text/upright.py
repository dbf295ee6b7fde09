"""Letters that stand upright along a bent line: how far each steps on from the one before.

Two convex shapes are as far apart as the difference of their places is from their Minkowski
difference, whose support function is the sum of theirs (Schneider, Convex Bodies, section 1.7;
from memory). So how far a letter has to step on in any direction is known before it is placed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, hypot, tau

import numpy as np
import shapely
from numpy.typing import NDArray

from namebatch.template.guide import Floats, turned
from namebatch.text.baseline import Baseline
from namebatch.text.units import Unit

CORE = 0.5
"""Height, in capitals' heights, of the point of a letter that is kept square over the line."""
DIRECTIONS = 96
LEAST_GAP = 0.12
"""Usual gap between two letters, in capitals' heights, where they stand closer when straight."""
OWN = 0.5
"""Share in which a gap is more or less than usual because it is so when straight…"""
MOST_OWN = 0.25
"""…up to this share of the usual one."""
DISTINCT = 3.0
"""Least gap between words, in usual gaps between letters."""
GRAIN = 1 / 16
"""Places along the line are tried so far from each other, in capitals' heights."""
MARGIN = 16
MOST_PLACES = 20_000
CAUTIOUS = 0.8
"""Share of what is lacking that a letter is moved on before it is looked at again."""
INK_DIRECTIONS = 32
"""In so many of the directions ink is looked at, not hulls alone."""
MOST_NEARER = 0.3
"""Letters reach no farther into each other than this, in capitals' heights."""


@dataclass(frozen=True, slots=True)
class Strides:
    """How far upright letters have to be from each other; capitals are 1 high.

    Attributes:
        reach: (n - 1, `DIRECTIONS` + 1), for each gap the distance of the two letters' cores
            at which they keep the gap, by direction counter-clockwise from the right.
        gaps: (n - 1,), what is kept.
    """

    reach: Floats
    gaps: Floats

    @staticmethod
    def of(
        units: Sequence[Unit], shapes: NDArray[np.object_], words: NDArray[np.bool_]
    ) -> "Strides":
        """From the letters of a straight line.

        Args:
            units: from left to right.
            shapes: their ink, near enough.
            words: for each gap, whether a word ends there.
        """
        gaps = _gaps(shapely.distance(shapes[:-1], shapes[1:]), words)
        angle = np.arange(DIRECTIONS) * (tau / DIRECTIONS)
        looked = np.column_stack([np.cos(angle), np.sin(angle)])
        support = np.array([_support(unit, looked) for unit in units])
        # of the difference of two shapes: that of the left one, and of the right one looked back
        apart = support[:-1] + np.roll(support[1:], DIRECTIONS // 2, axis=1) + gaps[:, None]
        facing = looked @ looked.T
        ahead = facing > 1e-6
        with np.errstate(divide="ignore"):
            over = np.where(ahead, 1 / facing, np.inf)
        reach = (apart[:, None, :] * over).min(axis=2)
        reach -= _nearer(units, shapes, reach, gaps)
        return Strides(np.concatenate([reach, reach[:, :1]], axis=1), gaps)

    def places(self, cores: "Cores", first: float) -> Floats:
        """Lengths along the baseline at which the cores of all letters stand, in mm.

        Args:
            cores: where cores can stand.
            first: length at which the first one stands.
        """
        at = cores.index(first)
        found = [at]
        for reach in self.reach.tolist():
            at = cores.next(at, reach)
            found.append(at)
        return cores.begin + cores.grain * np.array(found)


@dataclass(frozen=True, slots=True)
class Cores:
    """Where the cores of letters can stand along a baseline, place by place.

    Attributes:
        begin: length along the baseline of the first place, in mm.
        grain: from place to place, in mm.
        points: in capitals' heights.
    """

    begin: float
    grain: float
    points: tuple[tuple[float, float], ...]

    @staticmethod
    def along(baseline: Baseline, height_mm: float) -> "Cores":
        """All along a baseline, and half as far again on both sides."""
        grain = max(GRAIN * height_mm, baseline.length / MOST_PLACES)
        ahead = ceil(baseline.length / 2 / grain) + MARGIN
        begin = -grain * ahead
        at: Floats = begin + grain * np.arange(4 * ahead, dtype=np.float64)
        points, direction = baseline.frames(at)
        cores = points / height_mm + turned(direction, 1) * CORE
        return Cores(begin, grain, tuple(map(tuple, cores.tolist())))

    def index(self, at: float) -> float:
        """The place at a length, counted from the first."""
        return min(max((at - self.begin) / self.grain, 0.0), len(self.points) - 1.001)

    def next(self, at: float, reach: Sequence[float]) -> float:
        """The nearest place behind `at` where the next letter keeps its gap."""
        points, last = self.points, len(self.points) - 1.001
        x, y = _point(points, at)
        low, lacking = at, -1.0
        place = at
        while place < last:
            near_x, near_y = _point(points, place)
            clear = _clear(near_x - x, near_y - y, reach)
            if clear >= 0:
                # between the last place that was too near and this one
                return low + (place - low) * lacking / (lacking - clear)
            low, lacking = place, clear
            (a, b), (c, d) = points[int(place)], points[int(place) + 1]
            place += max(-CAUTIOUS * clear / max(hypot(c - a, d - b), 1e-6), 1.0)
        return last


def _point(points: Sequence[tuple[float, float]], at: float) -> tuple[float, float]:
    low = int(at)
    (x, y), (right, upper) = points[low], points[low + 1]
    return x + (at - low) * (right - x), y + (at - low) * (upper - y)


def _clear(x: float, y: float, reach: Sequence[float]) -> float:
    """How much farther than needed a letter is that has moved on so far."""
    turn = atan2(y, x) * (DIRECTIONS / tau) % DIRECTIONS
    low = int(turn)
    return hypot(x, y) - reach[low] - (turn - low) * (reach[low + 1] - reach[low])


def _gaps(straight: Floats, words: NDArray[np.bool_]) -> Floats:
    """Gaps to keep: even ones between letters, clearly wider ones between words."""
    inside = straight[~words]
    usual = max(float(np.median(inside)), LEAST_GAP) if len(inside) else LEAST_GAP
    own = np.clip(OWN * (straight - usual), -MOST_OWN * usual, MOST_OWN * usual)
    found: Floats = np.where(words, np.maximum(straight, DISTINCT * usual), usual + own)
    return found


def _nearer(
    units: Sequence[Unit], shapes: NDArray[np.object_], reach: Floats, gaps: Floats
) -> Floats:
    """How much nearer letters may come than their hulls, by direction, so that ink keeps the gap.

    Moved so much nearer as their ink is farther apart than the gap, they cannot come below it.
    """
    looked = np.arange(0, DIRECTIONS, DIRECTIONS // INK_DIRECTIONS)
    angle = looked * (tau / DIRECTIONS)
    cores = np.array([(unit.middle, CORE) for unit in units])
    there = reach[:, looked, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    shift = (there - np.diff(cores, axis=0)[:, None, :]).reshape(-1, 2)
    count = len(looked)
    moved = np.repeat(shapes[1:], count)
    points, owner = shapely.get_coordinates(moved, return_index=True)
    moved = shapely.set_coordinates(moved, points + shift[owner])
    found = shapely.distance(np.repeat(shapes[:-1], count), moved).reshape(-1, count)
    spare = np.clip(found - gaps[:, None], 0.0, MOST_NEARER)
    every = np.arange(DIRECTIONS) * (count / DIRECTIONS)
    low = every.astype(np.int64)
    share = every - low
    nearer: Floats = spare[:, low] * (1 - share) + spare[:, (low + 1) % count] * share
    return nearer


def _support(unit: Unit, looked: Floats) -> Floats:
    """How far a letter reaches from its core, each way; at least to the core itself."""
    points = shapely.get_coordinates(unit.hull) - (unit.middle, CORE)
    found: Floats = np.maximum((points @ looked.T).max(axis=0), 0.0)
    return found

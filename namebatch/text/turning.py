"""Units of a text moved onto a bent baseline, and how far apart they have to stay."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from namebatch.template.guide import Floats
from namebatch.text.baseline import Baseline
from namebatch.text.units import Unit

CROWDED = 0.1
"""Letters whose ink comes nearer than this, in capitals' heights, are moved apart…"""
KEPT = 0.7
"""…or, where they stand nearer when straight, nearer than this share of that."""
APART = 0.06
"""Letters that run into each other are moved apart by so many capitals' heights at a time."""


@dataclass(frozen=True, slots=True)
class Setter:
    """Moves ink of a straight line onto a baseline.

    Attributes:
        baseline: where to.
        height_mm: of capitals.
        upright: letters are not turned.
    """

    baseline: Baseline
    height_mm: float
    upright: bool

    def moved(self, unit: Unit, shape: MultiPolygon, start: float) -> shapely.Geometry:
        """Ink of a unit where it belongs; `start` is where x = 0 would lie."""
        points = self._points(unit, shapely.get_coordinates(shape), start)
        moved = shapely.set_coordinates(shape, points)
        if not unit.joined or moved.is_valid:
            return moved
        return shapely.make_valid(moved, method="structure")

    def rough(self, units: Sequence[Unit], starts: Sequence[float] | Floats) -> NDArray[np.object_]:
        """The ink of every unit, near enough for distances."""
        pairs = zip(units, starts, strict=True)
        return np.array([self.moved(u, u.rough, float(start)) for u, start in pairs], dtype=object)

    def points(self, units: Sequence[Unit], starts: Sequence[float]) -> Floats:
        """All corners of the ink."""
        pairs = zip(units, starts, strict=True)
        return np.concatenate([self._points(unit, unit.points, start) for unit, start in pairs])

    def extent(
        self, units: Sequence[Unit], starts: Sequence[float] | Floats
    ) -> tuple[float, float]:
        """From where to where along the baseline the ink reaches."""
        low, high = float("inf"), float("-inf")
        for unit, begin in zip(units, starts, strict=True):
            start = float(begin)
            if unit.joined:
                ends = start + np.array([unit.bounds[0], unit.bounds[2]]) * self.height_mm
            else:
                near = start + unit.middle * self.height_mm
                ends = self.baseline.along(self._points(unit, unit.hull, start), near)
            low, high = min(low, float(ends.min())), max(high, float(ends.max()))
        return low, high

    def _points(self, unit: Unit, straight: Floats, start: float) -> Floats:
        """Corners of a unit where they belong."""
        if unit.joined:
            return self.baseline.bend(straight * self.height_mm + (start, 0.0))
        foot, ahead = self.baseline.frame(start + unit.middle * self.height_mm)
        up = np.array([-ahead[1], ahead[0]])
        if self.upright:
            return foot + (up / 2 + straight - (unit.middle, 0.5)) * self.height_mm
        turn = np.array([ahead, up]) * self.height_mm
        found: Floats = foot + (straight - (unit.middle, 0.0)) @ turn
        return found


@dataclass(frozen=True, slots=True)
class Apart:
    """How far apart neighbours have to stay, and those next but one.

    Attributes:
        first, second: indices of the units of each pair.
        needed_mm: distance of their ink.
        step_mm: by how much more those are moved that have run into each other.
    """

    first: NDArray[np.int64]
    second: NDArray[np.int64]
    needed_mm: Floats
    step_mm: float

    @staticmethod
    def of(units: Sequence[Unit], height_mm: float) -> "Apart":
        """From how far they are apart when straight."""
        pairs = [(i, i + k) for k in (1, 2) for i in range(len(units) - k)]
        first, second = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
        shapes = np.array([unit.rough for unit in units], dtype=object)
        now = shapely.distance(shapes[first], shapes[second])
        needed = np.minimum(KEPT * now, CROWDED) * height_mm
        return Apart(first, second, needed, APART * height_mm)

    def lacking(self, shapes: NDArray[np.object_], share: float = 1.0) -> Floats:
        """For each gap between neighbours, how much wider it should be."""
        found = np.zeros(max(len(shapes) - 1, 0))
        one, other = shapes[self.first], shapes[self.second]
        needed = share * self.needed_mm
        near = shapely.dwithin(one, other, needed)
        if near.any():
            now = shapely.distance(one[near], other[near])
            short = np.maximum(needed[near] - now, 0.0) * 1.2
            short[now == 0] += self.step_mm
            np.maximum.at(found, self.second[near] - 1, short)
        return found

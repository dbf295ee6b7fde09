"""Units of a text moved onto a bent baseline, and how far apart they have to stay."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from namebatch.template.guide import Floats, turned
from namebatch.text.baseline import Baseline
from namebatch.text.units import Unit

KEPT = 0.7
"""Letters whose ink comes nearer than this share of its distance when straight are moved apart…"""
WIDE = 0.28
"""…but not those that are still so far apart, in capitals' heights."""
DISTINCT = 1.7
"""Words keep their distance when straight, and so many times the usual gap between letters."""
ENOUGH, LEAST = 0.9, 0.5
"""Shares of the distance wanted between letters: what is striven for, what has to be reached."""
WORDS_ENOUGH, WORDS_LEAST = 0.97, 0.9
"""The same between words."""
EAGER = 1.5
"""Letters are moved apart by so many times what is lacking, for heads gain less than feet."""
APART = 0.06
"""Letters that run into each other are moved apart by so many capitals' heights at a time."""


@dataclass(frozen=True, slots=True)
class Ink:
    """Shapes of a straight line, corner by corner, with what each belongs to.

    Attributes:
        shapes: one for each entry of `units`.
        points: (n, 2), the corners of all of them in order.
        owner: (n,), index of the unit that a corner moves with.
        joined: (n,), whether letters join in that unit.
    """

    shapes: NDArray[np.object_]
    points: Floats
    owner: NDArray[np.int64]
    joined: NDArray[np.bool_]

    @staticmethod
    def of(pairs: Sequence[tuple[int, Unit, shapely.Geometry]]) -> "Ink":
        """From index of the unit, unit and shape."""
        shapes = np.array([shape for _, _, shape in pairs], dtype=object)
        points, index = shapely.get_coordinates(shapes, return_index=True)
        units = np.array([i for i, _, _ in pairs], dtype=np.int64)
        joined = np.array([unit.joined for _, unit, _ in pairs], dtype=np.bool_)
        return Ink(shapes, points, units[index], joined[index])

    def raised(self, by: float) -> "Ink":
        """The same so much higher above the baseline, in capitals' heights."""
        return replace(self, points=self.points + (0.0, by)) if by else self


@dataclass(frozen=True, slots=True)
class Setter:
    """Moves ink of a straight line onto a baseline.

    Attributes:
        baseline: where to.
        middles: x of the middle of every unit, in capitals' heights.
        height_mm: of capitals.
        upright: letters are not turned.
    """

    baseline: Baseline
    middles: Floats
    height_mm: float
    upright: bool

    def placed(self, ink: Ink, starts: Floats) -> NDArray[np.object_]:
        """Shapes where they belong; `starts` is where x = 0 would lie, for every unit."""
        moved: NDArray[np.object_] = shapely.set_coordinates(
            ink.shapes.copy(), self.points(ink, starts)
        )
        wrong = ~shapely.is_valid(moved) if ink.joined.any() else np.zeros(len(moved), np.bool_)
        if wrong.any():
            moved[wrong] = shapely.make_valid(moved[wrong], method="structure")
        return moved

    def points(self, ink: Ink, starts: Floats) -> Floats:
        """Corners where they belong."""
        feet, ahead = self.baseline.frames(starts + self.middles * self.height_mm)
        up = turned(ahead, 1)
        owner, middles = ink.owner, self.middles[ink.owner]
        beside = (ink.points[:, 0] - middles)[:, None] * self.height_mm
        above = ink.points[:, 1:] * self.height_mm
        if self.upright:
            centres = feet + up * self.height_mm / 2
            shift = np.concatenate([beside, above - self.height_mm / 2], axis=1)
            upright: Floats = centres[owner] + shift
            return upright
        found: Floats = feet[owner] + beside * ahead[owner] + above * up[owner]
        if ink.joined.any():
            straight = ink.points[ink.joined] * self.height_mm
            straight[:, 0] += starts[owner[ink.joined]]
            found[ink.joined] = self.baseline.bend(straight)
        return found

    def extent(self, hulls: Ink, starts: Floats) -> tuple[float, float]:
        """From where to where along the baseline ink reaches."""
        near = (starts + self.middles * self.height_mm)[hulls.owner]
        along = self.baseline.along(self.points(hulls, starts), near)
        bent = hulls.joined
        along[bent] = starts[hulls.owner[bent]] + hulls.points[bent, 0] * self.height_mm
        return float(along.min()), float(along.max())


@dataclass(frozen=True, slots=True)
class Apart:
    """How far apart neighbours have to stay, and those next but one.

    Attributes:
        first, second: indices of the units of each pair.
        words: whether a word ends between the two.
        needed_mm: distance of their ink.
        step_mm: by how much more those are moved that have run into each other.
    """

    first: NDArray[np.int64]
    second: NDArray[np.int64]
    words: NDArray[np.bool_]
    needed_mm: Floats
    step_mm: float

    @staticmethod
    def of(shapes: NDArray[np.object_], words: NDArray[np.bool_], height_mm: float) -> "Apart":
        """From how far they are apart when straight.

        Args:
            shapes: of the straight line, capitals 1 high.
            words: for each gap between neighbours, whether a word ends there.
            height_mm: of capitals.
        """
        pairs = [(i, i + k) for k in (1, 2) for i in range(len(shapes) - k)]
        first, second = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
        between = np.zeros(len(pairs), np.bool_)
        between[: len(words)] = words
        now = shapely.distance(shapes[first], shapes[second])
        needed = np.where(between, now, np.minimum(KEPT * now, WIDE)) * height_mm
        return Apart(first, second, between, needed, APART * height_mm)

    def distinct(self, shapes: NDArray[np.object_]) -> "Apart":
        """The same with words kept so far apart that they stand out from letters as placed."""
        gaps = len(shapes) - 1
        inside = np.flatnonzero(~self.words[:gaps])
        if len(inside) == 0 or len(inside) == gaps:
            return self
        usual = np.median(shapely.distance(shapes[inside], shapes[inside + 1]))
        needed = np.where(self.words, np.maximum(self.needed_mm, DISTINCT * usual), self.needed_mm)
        return replace(self, needed_mm=needed)

    def lacking(self, shapes: NDArray[np.object_]) -> Floats:
        """For each gap between neighbours, how much wider it should be; 0 where it is enough."""
        found = np.zeros(max(len(shapes) - 1, 0))
        near = self._nearer(shapes, ENOUGH, WORDS_ENOUGH)
        if near.any():
            now = shapely.distance(shapes[self.first[near]], shapes[self.second[near]])
            short = (self.needed_mm[near] - now) * EAGER
            short[now == 0] += self.step_mm
            np.maximum.at(found, self.second[near] - 1, short)
        return found

    def holds(self, shapes: NDArray[np.object_]) -> bool:
        """Whether all are as far apart as they have to be."""
        return not self._nearer(shapes, LEAST, WORDS_LEAST).any()

    def _nearer(
        self, shapes: NDArray[np.object_], letters: float, words: float
    ) -> NDArray[np.bool_]:
        least = np.where(self.words, words, letters) * self.needed_mm
        near: NDArray[np.bool_] = shapely.dwithin(shapes[self.first], shapes[self.second], least)
        return near

"""Text along a bent baseline: joined letters bent with it, the others turned one by one."""

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

import numpy as np
import shapely

from namebatch.finding import Finding, warn
from namebatch.template.guide import Floats
from namebatch.template.textbox import Align, AlongPath, Arc, TextBox
from namebatch.text.baseline import Baseline, Circle, track_of
from namebatch.text.block import Block
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.place import Placed
from namebatch.text.setting import FLATTEN_MM, Letter
from namebatch.text.turning import Apart, Ink, Setter
from namebatch.text.units import Unit, units_of
from namebatch.text.upright import uprights

BENT_MM = 0.001
"""A straight side that is bent leaves its chords by no more."""
SHRINK = 1 - 1e-9
HALVINGS = 10
SEAM = 0.3
"""Least distance, in capitals' heights, between end and beginning of a text that runs round."""
ENOUGH, LEAST = 0.9, 0.5
"""Shares of the distance wanted between letters: what is striven for, what has to be reached."""
ROUNDS = 8
STEADY = 0.002
"""Upright letters have found their places when none moves by more, in capitals' heights."""
SLACK_MM = 1e-4


@dataclass(frozen=True, slots=True)
class Straight:
    """A line of text before it is bent; capitals are 1 high.

    Attributes:
        units: what is moved as one, from left to right.
        middle: x of what the eye takes for the middle.
        upright: letters are to stand upright, and none of them join.
        ink, rough, hulls: of every unit.
    """

    units: tuple[Unit, ...]
    middle: float
    upright: bool
    ink: Ink
    rough: Ink
    hulls: Ink


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the units of a text stand along their baseline.

    Attributes:
        starts: for each unit, the length at which x = 0 of the straight line would lie.
        setter: what moves ink there.
        fits: whether no ink leaves the room, and no letters run into each other.
    """

    starts: Floats
    setter: Setter
    fits: bool


@dataclass(frozen=True, slots=True)
class Along:
    """An arc or a path.

    Attributes:
        baseline: the line that letters stand on.
        room_mm: how far ink may reach below and above it.
        align: where the ink stands along it.
        upright: letters are not turned.
    """

    baseline: Baseline
    room_mm: tuple[float, float]
    align: Align
    upright: bool

    @property
    def lines(self) -> int:
        """One: a second would need a radius of its own."""
        return 1

    def largest(self, block: Block, most_mm: float) -> float:
        """By halving, from the closed form that bent ink has."""
        x0, y0, x1, y1 = block.bounds
        below, above = self.room_mm
        limits = [most_mm]
        straight = self._straight(block)
        if not straight.upright:
            limits.append(self.baseline.length / (x1 - x0))
            limits += [above / y1] if y1 > 0 else []
            limits += [below / -y0] if y0 < 0 else []
        high = max(min(limits), 0.0) * SHRINK
        if self.layout(straight, high).fits:
            return high
        low = 0.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            if self.layout(straight, middle).fits:
                low = middle
            else:
                high = middle
        return low

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """Every unit in its place; letters that join stay joined."""
        straight = self._straight(block)
        layout = self.layout(straight, height_mm)
        ink = as_multipolygon(
            shapely.disjoint_subset_union_all(layout.setter.placed(straight.ink, layout.starts))
        )
        letters: tuple[Letter, ...] = ()
        if by_letter:
            units = enumerate(straight.units)
            parts = [(i, unit, letter) for i, unit in units for letter in unit.letters]
            own = Ink.of([(i, unit, letter.shape) for i, unit, letter in parts])
            shapes = layout.setter.placed(own, layout.starts)
            pairs = zip(parts, shapes, strict=True)
            found = [Letter(a.index, a.text, as_multipolygon(g)) for (_, _, a), g in pairs]
            letters = tuple(sorted(found, key=lambda letter: letter.index))
        feet, _ = self.baseline.frames(np.array([self.baseline.length / 2]))
        told = self.upright and not straight.upright
        notes = (_turned_all_the_same(block.text),) if told else ()
        return Placed(ink, letters, float(feet[0, 1]), notes)

    def layout(self, straight: Straight, height_mm: float) -> Layout:
        """Place a line along the baseline, aligned as the box asks.

        Args:
            straight: the line.
            height_mm: of capitals.
        """
        usable = self.baseline.length - max(0.0, SEAM * height_mm - self.baseline.seam)
        middles = np.array([unit.middle for unit in straight.units])
        setter = Setter(self.baseline, middles, height_mm, straight.upright)
        apart = Apart.of(straight.rough.shapes, height_mm)
        shifts = np.zeros(len(middles))
        start = usable / 2 - straight.middle * height_mm
        for _ in range(ROUNDS):
            start = self._start(setter, straight, shifts, start, usable)
            if straight.upright:
                before = shifts
                shifts = uprights(straight.units, self.baseline, height_mm, start)
                if np.abs(shifts - before).max() < STEADY * height_mm:
                    break
                continue
            shapes = setter.placed(straight.rough, shifts + start)
            if not apart.lacking(shapes, ENOUGH).any():
                break
            shifts = shifts + np.concatenate([[0.0], np.cumsum(apart.lacking(shapes))])
        start = self._start(setter, straight, shifts, start, usable)
        starts = shifts + start
        low, high = setter.extent(straight.hulls, starts)
        fits = (
            low >= -SLACK_MM
            and high <= usable + SLACK_MM
            and self.baseline.holds(setter.points(straight.ink, starts))
            and not apart.lacking(setter.placed(straight.rough, starts), LEAST).any()
        )
        return Layout(starts, setter, fits)

    def _start(
        self, setter: Setter, straight: Straight, shifts: Floats, near: float, usable: float
    ) -> float:
        """Where x = 0 of the first unit has to lie for the ink to be aligned."""
        low, high = setter.extent(straight.hulls, shifts + near)
        low, high = low - near, high - near
        if self.align == "left":
            return -low
        if self.align == "right":
            return usable - high
        if straight.upright:
            centre = (low + high) / 2
        else:
            centre = straight.middle * setter.height_mm + float(shifts[-1]) / 2
        return min(max(usable / 2 - centre, -low), usable - high)

    def _straight(self, block: Block) -> Straight:
        """The line in units whose sides are short enough to be bent at the largest height."""
        line = block.rows[0].line
        largest_mm = FLATTEN_MM * line.face.cap_height / line.tolerance
        tightest = max(self.baseline.tightest, 1.0)
        longest = sqrt(8 * BENT_MM * tightest**2 / (tightest + max(self.room_mm)))
        return _straight(block, longest / largest_mm, self.upright)


@lru_cache(maxsize=16)
def _straight(block: Block, longest: float, upright: bool) -> Straight:
    units = units_of(block, longest)
    upright = upright and not any(unit.joined for unit in units)
    pairs = list(enumerate(units))
    return Straight(
        units,
        block.middle,
        upright,
        Ink.of([(i, unit, unit.shape) for i, unit in pairs]),
        Ink.of([(i, unit, unit.rough) for i, unit in pairs]),
        Ink.of([(i, unit, unit.hull) for i, unit in pairs]),
    )


def along_of(box: TextBox, place: Arc | AlongPath) -> Along:
    """The place of a box on an arc or a path."""
    line: Baseline = Circle(place) if isinstance(place, Arc) else track_of(place)
    return Along(line, place.room_mm, box.align, place.letters == "upright")


def _turned_all_the_same(text: str) -> Finding:
    return warn(
        "letters-turned",
        f'The letters of "{text}" join, so they cannot stand upright one by one; they were bent '
        "along the line. Look at it, or take a typeface whose letters stand apart.",
    )

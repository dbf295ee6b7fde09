"""Text along a bent baseline: joined letters bent with it, the others turned one by one."""

from collections.abc import Sequence
from dataclasses import dataclass
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
from namebatch.text.turning import Apart, Setter
from namebatch.text.units import Unit, units_of
from namebatch.text.upright import uprights

BENT_MM = 0.001
"""A straight side that is bent leaves its chords by no more."""
SHRINK = 1 - 1e-9
HALVINGS = 10
SEAM = 0.3
"""Least distance, in capitals' heights, between end and beginning of a text that runs round."""
LEAST = 0.5
"""Share of the distance wanted between letters that has to be reached."""
ROUNDS = 8
STEADY = 0.002
"""Upright letters have found their places when none moves by more, in capitals' heights."""
SLACK_MM = 1e-4


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the units of a text stand along their baseline.

    Attributes:
        starts: for each unit, the length at which x = 0 of the straight line would lie.
        setter: what moves ink there.
        fits: whether no ink leaves the room, and no letters run into each other.
    """

    starts: tuple[float, ...]
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
        units = self._units(block)
        if not self._stands_upright(units):
            limits.append(self.baseline.length / (x1 - x0))
            limits += [above / y1] if y1 > 0 else []
            limits += [below / -y0] if y0 < 0 else []
        high = max(min(limits), 0.0) * SHRINK
        if self.layout(units, block.middle, high).fits:
            return high
        low = 0.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            if self.layout(units, block.middle, middle).fits:
                low = middle
            else:
                high = middle
        return low

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """Every unit in its place; letters that join stay joined."""
        units = self._units(block)
        layout = self.layout(units, block.middle, height_mm)
        letters: list[Letter] = []
        pairs = list(zip(units, layout.starts, strict=True))
        for unit, start in pairs if by_letter else ():
            for letter in unit.letters:
                shape = layout.setter.moved(unit, letter.shape, start)
                letters.append(Letter(letter.index, letter.text, as_multipolygon(shape)))
        shapes = [layout.setter.moved(unit, unit.shape, start) for unit, start in pairs]
        ink = as_multipolygon(shapely.disjoint_subset_union_all(np.array(shapes, dtype=object)))
        height = float(self.baseline.frame(self.baseline.length / 2)[0][1])
        told = self.upright and not layout.setter.upright
        notes = (_turned_all_the_same(block.text),) if told else ()
        return Placed(ink, tuple(sorted(letters, key=lambda a: a.index)), height, notes)

    def layout(self, units: Sequence[Unit], middle: float, height_mm: float) -> Layout:
        """Place units along the baseline, aligned as the box asks.

        Args:
            units: from left to right.
            middle: x of what the eye takes for the middle of the straight line.
            height_mm: of capitals.
        """
        usable = self.baseline.length - max(0.0, SEAM * height_mm - self.baseline.seam)
        setter = Setter(self.baseline, height_mm, self._stands_upright(units))
        apart = Apart.of(units, height_mm)
        shifts = np.zeros(len(units))
        start = usable / 2 - middle * height_mm
        for _ in range(ROUNDS):
            start = self._start(setter, units, shifts, start, middle, usable)
            if setter.upright:
                before, shifts = shifts, uprights(units, self.baseline, height_mm, start)
                if np.abs(shifts - before).max() < STEADY * height_mm:
                    break
                continue
            lacking = apart.lacking(setter.rough(units, shifts + start))
            if not lacking.any():
                break
            shifts = shifts + np.concatenate([[0.0], np.cumsum(lacking)])
        start = self._start(setter, units, shifts, start, middle, usable)
        starts = tuple(float(s) for s in shifts + start)
        low, high = setter.extent(units, starts)
        fits = (
            low >= -SLACK_MM
            and high <= usable + SLACK_MM
            and self.baseline.holds(setter.points(units, starts))
            and not apart.lacking(setter.rough(units, starts), LEAST).any()
        )
        return Layout(starts, setter, fits)

    def _start(
        self,
        setter: Setter,
        units: Sequence[Unit],
        shifts: Floats,
        near: float,
        middle: float,
        usable: float,
    ) -> float:
        """Where x = 0 of the first unit has to lie for the ink to be aligned."""
        low, high = setter.extent(units, shifts + near)
        low, high = low - near, high - near
        if self.align == "left":
            return -low
        if self.align == "right":
            return usable - high
        if setter.upright:
            centre = (low + high) / 2
        else:
            centre = middle * setter.height_mm + float(shifts[-1]) / 2
        return min(max(usable / 2 - centre, -low), usable - high)

    def _units(self, block: Block) -> tuple[Unit, ...]:
        """Units whose sides are short enough to be bent at the largest height."""
        line = block.rows[0].line
        largest_mm = FLATTEN_MM * line.face.cap_height / line.tolerance
        tightest = max(self.baseline.tightest, 1.0)
        longest = sqrt(8 * BENT_MM * tightest**2 / (tightest + max(self.room_mm)))
        return units_of(block, longest / largest_mm)

    def _stands_upright(self, units: Sequence[Unit]) -> bool:
        return self.upright and not any(unit.joined for unit in units)


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

"""Text along a bent baseline: joined letters bent with it, the others turned one by one."""

from collections.abc import Callable
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
from namebatch.text.straight import Straight, straight_of
from namebatch.text.turning import Apart, Ink, Setter
from namebatch.text.upright import Cores, Strides

BENT_MM = 0.001
"""A straight side that is bent leaves its chords by no more."""
SHRINK = 1 - 1e-9
EXACT = 1 / 1024
"""The greatest height is found to this share of it."""
EXACT_MM = 0.01
"""A height is not made greater where so little is left."""
TRIES = 16
LEAST_SHARE = 0.02
"""Of the heights still open, how much each try rules out at least."""
SEAM = 0.3
"""Least distance, in capitals' heights, between end and beginning of a text that runs round."""
ROUNDS = 10
STEADY_MM = 0.002
"""Letters are aligned when they need move by no more."""
HOPELESS = 1.1
"""Upright ones are not aligned where they take so many times the length that there is."""
FLATTEST = -0.3
"""Letters that start farther on end farther on, by this share at least."""
SLACK_MM = 0.005
"""So far a text may reach beyond its end."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the units of a text stand along their baseline.

    Attributes:
        starts: for each unit, the length at which x = 0 of the straight line would lie.
        setter: what moves ink there.
        over: by how much it is too large, in mm: how far ink leaves the room; at least the
            capitals' height where letters run into each other. 0 or less: it fits.
    """

    starts: Floats
    setter: Setter
    over: float


@dataclass(frozen=True, slots=True)
class Along:
    """An arc or a path.

    Attributes:
        baseline: the line that letters stand on.
        room_mm: how far ink may reach below and above it.
        align: where the ink stands along it.
        upright: letters are not turned.
        moved_mm: by hand, on along the baseline and off it, once they stand.
    """

    baseline: Baseline
    room_mm: tuple[float, float]
    align: Align
    upright: bool
    moved_mm: tuple[float, float] = (0.0, 0.0)

    @property
    def lines(self) -> int:
        """One: a second would need a radius of its own."""
        return 1

    def largest(self, block: Block, most_mm: float) -> float:
        """From the closed form that bent ink has, then tried."""
        x0, y0, x1, y1 = block.bounds
        below, above = self.room_mm
        limits = [most_mm]
        straight = self._straight(block)
        if straight.strides is None:
            limits.append(self.baseline.length / (x1 - x0))
            limits += [above / y1] if y1 > 0 else []
            limits += [below / -y0] if y0 < 0 else []
        high = max(min(limits), 0.0) * SHRINK
        over = self.layout(straight, high).over
        if over <= 0:
            return high
        # of no height nothing is over, by all there is
        under = -self.baseline.length if over > max(self.room_mm) else -max(self.room_mm)
        return _greatest(lambda h: self.layout(straight, h).over, high, under, over)

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """Every unit in its place; letters that join stay joined."""
        straight = self._straight(block)
        layout = self.layout(straight, height_mm)
        on, off = self.moved_mm[0], self.moved_mm[1] / height_mm
        starts, setter = layout.starts + on, layout.setter
        ink = as_multipolygon(
            shapely.disjoint_subset_union_all(setter.placed(straight.ink.raised(off), starts))
        )
        letters: tuple[Letter, ...] = ()
        if by_letter:
            units = enumerate(straight.units)
            parts = [(i, unit, letter) for i, unit in units for letter in unit.letters]
            own = Ink.of([(i, unit, letter.shape) for i, unit, letter in parts])
            shapes = setter.placed(own.raised(off), starts)
            pairs = zip(parts, shapes, strict=True)
            found = [Letter(a.index, a.text, as_multipolygon(g)) for (_, _, a), g in pairs]
            letters = tuple(sorted(found, key=lambda letter: letter.index))
        feet, _ = self.baseline.frames(np.array([self.baseline.length / 2]))
        told = self.upright and straight.strides is None
        notes = [_turned_all_the_same(block.text)] if told else []
        if any(self.moved_mm):
            apart = Apart.of(straight.rough.shapes, straight.words, height_mm)
            if not apart.holds(setter.placed(straight.rough.raised(off), starts)):
                notes.append(_crowded(block.text))
        return Placed(ink, letters, float(feet[0, 1]), tuple(notes))

    def layout(self, straight: Straight, height_mm: float) -> Layout:
        """Place a line along the baseline, aligned as the box asks.

        Args:
            straight: the line.
            height_mm: of capitals.
        """
        usable = self.baseline.length - max(0.0, SEAM * height_mm - self.baseline.seam)
        middles = np.array([unit.middle for unit in straight.units])
        setter = Setter(self.baseline, middles, height_mm, straight.strides is not None)
        apart = Apart.of(straight.rough.shapes, straight.words, height_mm)
        if straight.strides is None:
            starts, apart = self._turned(setter, straight, apart, usable)
        else:
            starts = self._upright(setter, straight, straight.strides, usable)
        low, high = setter.extent(straight.hulls, starts)
        beyond = max(-low, high - usable)
        over = max(
            beyond if beyond > SLACK_MM else high - low - usable,
            self.baseline.over(setter.points(straight.ink, starts)),
        )
        if not apart.holds(setter.placed(straight.rough, starts)):
            over = max(over, height_mm)
        return Layout(starts, setter, over)

    def _turned(
        self, setter: Setter, straight: Straight, apart: Apart, usable: float
    ) -> tuple[Floats, Apart]:
        """Letters where they would stand straight, moved on where they crowd."""
        shifts = np.zeros(len(straight.units))
        start = usable / 2 - straight.middle * setter.height_mm
        for index in range(ROUNDS):
            start = self._start(setter, straight, shifts, start, usable)
            shapes = setter.placed(straight.rough, shifts + start)
            if index == 0:
                apart = apart.distinct(shapes)
            lacking = apart.lacking(shapes)
            if not lacking.any():
                break
            shifts = shifts + np.concatenate([[0.0], np.cumsum(lacking)])
        for _ in range(ROUNDS):
            before, start = start, self._start(setter, straight, shifts, start, usable)
            if abs(start - before) < STEADY_MM:
                break
        return shifts + start, apart

    def _upright(
        self, setter: Setter, straight: Straight, strides: Strides, usable: float
    ) -> Floats:
        """Letters one behind the other; the first moves until all stand as the box asks."""
        height = setter.height_mm
        cores = Cores.along(self.baseline, height)
        middles = setter.middles * height
        start, before = usable / 2 - straight.middle * height, None
        for _ in range(ROUNDS):
            starts = strides.places(cores, start + float(middles[0])) - middles
            low, high = setter.extent(straight.hulls, starts)
            off = usable - high if self.align == "right" else -low
            off = (usable - low - high) / 2 if self.align == "centre" else off
            if abs(off) < STEADY_MM or high - low > HOPELESS * usable:
                break
            # by secants
            slope = -1.0 if before is None else (off - before[1]) / (start - before[0])
            before = start, off
            start -= off / min(slope, FLATTEST)
        return starts + off

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
        centre = straight.middle * setter.height_mm + float(shifts[-1]) / 2
        return min(max(usable / 2 - centre, -low), usable - high)

    def _straight(self, block: Block) -> Straight:
        """The line in units whose sides are short enough to be bent at the largest height."""
        line = block.rows[0].line
        largest_mm = FLATTEN_MM * line.face.cap_height / line.tolerance
        tightest = max(self.baseline.tightest, 1.0)
        longest = sqrt(8 * BENT_MM * tightest**2 / (tightest + max(self.room_mm)))
        return straight_of(block, longest / largest_mm, self.upright)


def _greatest(over_of: Callable[[float], float], high: float, under: float, over: float) -> float:
    """The greatest height that is not over, by the Illinois method.

    Source: Dowell & Jarratt 1971, BIT 11, 168-174 (from memory).

    Args:
        over_of: by how much a height is too large.
        high: a height that is too large.
        under: by how much height 0 is, below 0.
        over: by how much `high` is.
    """
    low, side = 0.0, 0
    for _ in range(TRIES):
        if high - low <= EXACT * high:
            break
        share = under / (under - over)
        middle = low + min(max(share, LEAST_SHARE), 1 - LEAST_SHARE) * (high - low)
        found = over_of(middle)
        if found > 0:
            high, over = middle, found
            under = under / 2 if side > 0 else under
            side = 1
        else:
            if found > -EXACT_MM:
                return middle
            low, under = middle, found
            over = over / 2 if side < 0 else over
            side = -1
    return low


def along_of(box: TextBox, place: Arc | AlongPath) -> Along:
    """The place of a box on an arc or a path."""
    line: Baseline = Circle(place) if isinstance(place, Arc) else track_of(place)
    upright = place.letters == "upright"
    return Along(line, place.room_mm, box.align, upright, place.moved_mm)


def _crowded(text: str) -> Finding:
    return warn(
        "letters-crowd",
        f'Where it was moved by hand the line bends so that the letters of "{text}" crowd. Look '
        "at it, and move it less or set it smaller.",
    )


def _turned_all_the_same(text: str) -> Finding:
    return warn(
        "letters-turned",
        f'The letters of "{text}" join, so they cannot stand upright one by one; they were bent '
        "along the line. Look at it, or take a typeface whose letters stand apart.",
    )

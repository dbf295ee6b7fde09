"""Which loose part belongs to which letter, and what a bar costs that ignores it. mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from namebatch.outline.bars import Bars
from namebatch.outline.cores import Polygons
from namebatch.outline.model import Letter
from namebatch.outline.scan import Floats, Ints

STRANGER = 3.0
"""A mark goes to a neighbour only if its own letter is this many times as dear."""
FELLOW = 1.3
"""A mark rather joins the body of its letter than another mark."""
BODY, BESIDE = 0.5, 0.25
"""A polygon this large against the largest of its letter is no mark; smaller if beside it."""

STEEPEST_DEG = 35.0
UPRIGHT_DEG = 6.0
SPREAD = np.exp(-((np.arange(-6, 7) / 2.5) ** 2))
"""Directions this near to each other, in degrees, count as one."""


@dataclass(frozen=True, slots=True)
class Belonging:
    """Marks (dots, accents, loose strokes) and their letters.

    Attributes:
        tree: the polygons of all letters.
        letter: index of each polygon's letter.
        body: True for the large polygons of each letter.
        mark: letter of each core that is a mark, else -1.
        own: ink of each core, as rows of core and polygon.
        baseline: where most letters stand, y.
    """

    tree: shapely.STRtree
    letter: Ints
    body: npt.NDArray[np.bool_]
    mark: Ints
    own: npt.NDArray[np.bool_]
    baseline: float

    def price(self, bars: Bars, half_mm: float) -> tuple[Floats, npt.NDArray[np.bool_]]:
        """What bars cost once it is known whose marks they tie to whom.

        Returns:
            The cost, and which bars tie a mark to its own letter.
        """
        marked = (self.mark[bars.a] >= 0) | (self.mark[bars.b] >= 0)
        cost, at_home = bars.cost.copy(), np.zeros(len(bars.cost), dtype=bool)
        which = np.flatnonzero(marked)
        if not len(which):
            return cost, at_home
        some = bars.take(which)
        touch = self._hits(some.lines, half_mm)
        factor, foreign = np.ones(len(which)), np.zeros(len(which))
        for core, end in ((some.a, some.ends[:, 2:]), (some.b, some.ends[:, :2])):
            letter = self.mark[core]
            same = (self.letter[None, :] == letter[:, None]) & ~self.own[core]
            there = self._hits(shapely.points(end), 0.0)
            # an end in no letter is in the base: own if the way there leads through the letter
            arrives = np.where(there.any(1), (there & same).any(1), (touch & same).any(1))
            at_home[which] |= arrives & (letter >= 0)
            body = (touch & same & self.body).any(1)
            dear = np.where(arrives, np.where(body, 1.0, FELLOW), STRANGER)
            factor = np.maximum(factor, np.where(letter >= 0, dear, 1.0))
            others = touch & (self.letter[None, :] != letter[:, None])
            foreign = np.maximum(foreign, np.where(letter >= 0, others.sum(1), 0))
        cost[which] = cost[which] * factor + foreign * half_mm
        return cost, at_home

    def from_ink_to_ink(self, bars: Bars) -> npt.NDArray[np.bool_]:
        """Which bars begin and end in letters, not in the base."""
        ends = shapely.points(bars.ends.reshape(-1, 2))
        inside = np.zeros(len(ends), dtype=bool)
        inside[self.tree.query(ends, predicate="intersects")[0]] = True
        return np.asarray(inside.reshape(-1, 2).all(axis=1))

    def _hits(self, shapes: Polygons, within_mm: float) -> npt.NDArray[np.bool_]:
        """Which ink each shape comes near, as rows of shape and polygon."""
        shape, ink = self.tree.query(shapes, predicate="dwithin", distance=within_mm)
        hits = np.zeros((len(shapes), len(self.letter)), dtype=bool)
        hits[shape, ink] = True
        return hits


def belonging(letters: Sequence[Letter], cores: Polygons) -> Belonging:
    """Find marks among cores."""
    parts = [shapely.get_parts(letter.shape) for letter in letters]
    polygons = np.concatenate(parts) if parts else np.zeros(0, dtype=object)
    letter = np.repeat(
        np.arange(len(parts)), np.array([len(part) for part in parts], dtype=np.intp)
    )
    body = _bodies(polygons, letter)
    tree = shapely.STRtree(polygons)
    core, ink = tree.query(cores, predicate="intersects")
    own = np.zeros((len(cores), len(polygons)), dtype=bool)
    own[core, ink] = True
    mark = np.full(len(cores), -1, dtype=np.intp)
    for index in range(len(cores)):
        of = np.flatnonzero(own[index])
        if len(of) and (letter[of] == letter[of[0]]).all() and not body[of].any():
            mark[index] = letter[of[0]]
    bottoms = shapely.bounds(polygons[body])[:, 1]
    baseline = float(np.median(bottoms)) if len(bottoms) else np.nan
    return Belonging(tree, letter, body, mark, own, baseline)


def _bodies(polygons: Polygons, letter: Ints) -> npt.NDArray[np.bool_]:
    """Which polygons are no marks: the large ones, and fair ones that stand beside them."""
    areas = shapely.area(polygons)
    boxes = shapely.bounds(polygons).reshape(-1, 4)
    middle = (boxes[:, 1] + boxes[:, 3]) / 2
    body = np.zeros(len(polygons), dtype=bool)
    for index in np.unique(letter):
        of = np.flatnonzero(letter == index)
        most = of[np.argmax(areas[of])]
        beside = (middle[of] > boxes[most, 1]) & (middle[of] < boxes[most, 3])
        body[of] = areas[of] >= np.where(beside, BESIDE, BODY) * areas[most]
    return body


def lean_of(letters: Sequence[Letter]) -> float:
    """The slant of lettering in degrees from upright, from the directions of its edges.

    Long edges near upright are stems; their commonest direction is the slant. Zero for upright
    faces and where there are no stems.
    """
    if not letters:
        return 0.0
    rings = shapely.get_rings(shapely.get_parts([letter.shape for letter in letters]))
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    step = np.diff(xy, axis=0)[ring[1:] == ring[:-1]]
    step = step * np.where(step[:, 1:] < 0, -1.0, 1.0)
    angle = np.degrees(np.arctan2(step[:, 0], step[:, 1]))
    side = int(STEEPEST_DEG)
    near = np.abs(angle) < side + 0.5
    weight = np.bincount(
        np.rint(angle[near]).astype(np.intp) + side,
        weights=np.hypot(*step[near].T) ** 1.5,
        minlength=2 * side + 1,
    )
    weight = np.convolve(weight, SPREAD, mode="same")
    # A, V and W have legs to both sides, italics only to one
    one_sided = weight - weight[::-1]
    best = int(np.argmax(one_sided))
    lean = float(best - side)
    return lean if lean > UPRIGHT_DEG and one_sided[best] > weight[side] else 0.0

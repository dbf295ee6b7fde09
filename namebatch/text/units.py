"""What of a line is moved as one: a letter with its marks, or letters whose ink joins."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from namebatch.text.block import Block
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.setting import Letter

FINER = 0.6
"""Share of the flattening that a bent outline may use up before it is bent."""
ROUGH = 0.004
"""In capitals' heights, how far a rough outline may be off."""
ROUGH_SIDE = 0.25
"""Longest side of a rough outline that is bent: on a circle of twice the height of capitals it
leaves its arc by no more than `ROUGH`."""


@dataclass(frozen=True, slots=True)
class Unit:
    """Ink that keeps together, straight, with capitals 1 high and the baseline at 0.

    Attributes:
        shape: the ink.
        letters: the same letter by letter, in text order.
        rough: the ink with fewer corners, near enough for distances.
        hull: what lies round it.
        bounds: x0, y0, x1, y1.
    """

    shape: MultiPolygon
    letters: tuple[Letter, ...]
    rough: MultiPolygon
    hull: shapely.Geometry
    bounds: tuple[float, float, float, float]

    @property
    def joined(self) -> bool:
        """True if letters join in it."""
        return len(self.letters) > 1

    @property
    def ends(self) -> tuple[int, int]:
        """Indices in the text: of its first character, and of what follows its last."""
        last = self.letters[-1]
        return self.letters[0].index, last.index + len(last.text)

    @property
    def middle(self) -> float:
        """X of its middle."""
        return (self.bounds[0] + self.bounds[2]) / 2


def units_of(block: Block, longest: float) -> tuple[Unit, ...]:
    """Cut a line of text into what is moved as one, from left to right.

    Args:
        block: one row.
        longest: no side of an outline is longer, in capitals' heights.
    """
    rows = (
        replace(r, line=replace(r.line, tolerance=r.line.tolerance * FINER)) for r in block.rows
    )
    whole = replace(block, rows=tuple(rows)).letters(1.0, 0.0, 0.0)
    letters = [letter for letter in whole if not letter.shape.is_empty]
    groups = _joined([letter.shape for letter in letters])
    units = [_unit([letters[i] for i in group], longest) for group in groups]
    return tuple(sorted(units, key=lambda unit: unit.middle))


def word_ends(units: Sequence[Unit], text: str) -> NDArray[np.bool_]:
    """For each gap between neighbours, whether there is a space between them in the text."""
    found = []
    for left, right in pairwise(units):
        one, other = sorted((left.ends, right.ends))
        found.append(any(sign.isspace() for sign in text[one[1] - 1 : other[0]]))
    return np.array(found, dtype=np.bool_)


def _unit(letters: list[Letter], longest: float) -> Unit:
    """One unit of letters that join, or of a single one."""
    own = tuple(Letter(a.index, a.text, _divided(a.shape, longest)) for a in letters)
    if len(own) == 1:
        shape = own[0].shape
        rough = as_multipolygon(shapely.simplify(letters[0].shape, ROUGH))
    else:
        whole = shapely.union_all([letter.shape for letter in letters])
        shape = _divided(whole, longest)
        rough = _divided(shapely.simplify(whole, ROUGH), ROUGH_SIDE)
    x0, y0, x1, y1 = shape.bounds
    return Unit(shape, own, rough, shape.convex_hull, (x0, y0, x1, y1))


def _divided(shape: shapely.Geometry, longest: float) -> MultiPolygon:
    return as_multipolygon(shapely.segmentize(shape, longest))


def _joined(shapes: list[MultiPolygon]) -> Iterable[list[int]]:
    """Indices of shapes that touch, directly or through others; each group in order."""
    group = list(range(len(shapes)))
    tree = shapely.STRtree(shapes)
    pairs = tree.query(np.array(shapes, dtype=object), predicate="intersects") if shapes else []
    for i, j in zip(*pairs, strict=True) if shapes else ():
        low, high = sorted((group[i], group[j]))
        if low != high:
            group = [low if g == high else g for g in group]
    return [[i for i, g in enumerate(group) if g == own] for own in sorted(set(group))]

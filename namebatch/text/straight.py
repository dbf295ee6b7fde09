"""A line of text before it is bent, cut into what is moved as one."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from namebatch.text.block import Block
from namebatch.text.turning import Ink
from namebatch.text.units import Unit, units_of, word_ends
from namebatch.text.upright import Strides


@dataclass(frozen=True, slots=True)
class Straight:
    """A line of text before it is bent; capitals are 1 high.

    Attributes:
        units: what is moved as one, from left to right.
        words: for each gap between neighbours, whether a word ends there.
        middle: x of what the eye takes for the middle.
        strides: how far letters step on that are to stand upright; None where they are turned,
            or join.
        ink, rough, hulls: of every unit.
    """

    units: tuple[Unit, ...]
    words: NDArray[np.bool_]
    middle: float
    strides: Strides | None
    ink: Ink
    rough: Ink
    hulls: Ink


@lru_cache(maxsize=16)
def straight_of(block: Block, longest: float, upright: bool) -> Straight:
    """Cut a line into units.

    Args:
        block: one row.
        longest: no side of an outline is longer, in capitals' heights.
        upright: letters are to stand upright, unless some join.
    """
    units = units_of(block, longest)
    words = word_ends(units, block.rows[0].line.text)
    pairs = list(enumerate(units))
    rough = Ink.of([(i, unit, unit.rough) for i, unit in pairs])
    upright = upright and not any(unit.joined for unit in units)
    return Straight(
        units,
        words,
        block.middle,
        Strides.of(units, rough.shapes, words) if upright else None,
        Ink.of([(i, unit, unit.shape) for i, unit in pairs]),
        rough,
        Ink.of([(i, unit, unit.hull) for i, unit in pairs]),
    )

"""How far two lines must stand from each other so that their ink keeps clear."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from namebatch.template.guide import Floats
from namebatch.text.face import Face
from namebatch.text.setting import Line

CLEAR = 0.2
"""Least distance of the ink of two lines, in capitals' heights (common practice, no source).

It is what a reader needs; what a material needs where lines are cut is proved with the outline.
"""
STEP = 0.02
"""Width of the columns in which ink is measured, in capitals' heights."""
FINER = 0.25
"""Distance of the points along an outline, in columns."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A line at its place along x; the unit is the height of capitals.

    Attributes:
        line: what is set.
        scale: block units to one unit of the line's leading face.
        x: of its origin.
    """

    line: Line
    scale: float
    x: float


def leading(upper: Standing, lower: Standing, least: float) -> float:
    """The distance of two baselines: the least one, or more where the ink would come too near.

    Measured column by column: in every column, and within `CLEAR` of it, the foot of the upper
    line is held against the head of the lower one, as if a disc of that radius ran along it.

    Args:
        upper: line with ink.
        lower: the same, below it.
        least: distance from baseline to baseline that is kept in any case.
    """
    foot, head = _end(upper, 1), _end(lower, 3)
    if foot + least - head >= CLEAR:
        return least
    # Both are cut as deep as the other one can be near: more need not be looked at.
    feet = _points(upper, np.array([1.0, -1.0]), head + CLEAR - least)
    heads = _points(lower, np.array([1.0, 1.0]), foot + least - CLEAR)
    if not len(feet) or not len(heads):
        return least
    start = min(feet[:, 0].min(), heads[:, 0].min()) - CLEAR - STEP
    count = int((max(feet[:, 0].max(), heads[:, 0].max()) + CLEAR - start) / STEP) + 2
    down, up = _columns(feet, start, count), _columns(heads, start, count)
    reach = int(np.ceil(CLEAR / STEP)) + 1
    needed = least
    for shift in range(-reach, reach + 1):
        # Two points in columns so far apart are at least so far apart along x.
        beside = max(abs(shift) - 1, 0) * STEP
        if beside < CLEAR:
            near = np.roll(up, shift) + down + np.sqrt(CLEAR**2 - beside**2)
            needed = max(needed, float(near.max()))
    return needed + FINER * STEP if needed > least else least


def _end(standing: Standing, side: int) -> float:
    """Lowest (1) or highest (3) y of a line's ink."""
    bounds = standing.line.bounds
    if bounds is None:
        raise ValueError("a line without ink needs no room")
    return bounds[side] * standing.scale


def _points(standing: Standing, sign: Floats, beyond: float) -> Floats:
    """Points of a line's ink, y times a sign, of the glyphs that reach beyond a height."""
    found = [np.empty((0, 2))]
    for each in standing.line.signs:
        edge = _edge(each.face, each.gid, standing.line.tolerance / each.scale)
        if len(edge):
            size = each.scale * standing.scale
            x = standing.x + each.x * standing.scale
            placed = edge * size + (x, each.y * standing.scale)
            placed *= sign
            if placed[:, 1].max() > sign[1] * beyond:
                found.append(placed)
    return np.concatenate(found)


@lru_cache(maxsize=1024)
def _edge(face: Face, gid: int, tolerance: float) -> Floats:
    """Points along a glyph's outline, so close that no column of it is passed over."""
    shape = face.glyph_shape(gid, tolerance)
    if shape.is_empty:
        return np.empty((0, 2))
    close: Floats = shapely.get_coordinates(
        shapely.segmentize(shape, FINER * STEP * face.cap_height)
    )
    return close


def _columns(points: Floats, start: float, count: int) -> Floats:
    """The greatest y in every column; minus infinity where there is none."""
    highest = np.full(count, -np.inf)
    np.maximum.at(highest, ((points[:, 0] - start) / STEP).astype(np.int64), points[:, 1])
    return highest

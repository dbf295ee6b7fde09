"""How few sheets any arrangement could need: what area, size and roundness allow. mm.

All bounds hold for shapes of any kind, because each counts something that lies inside a block
grown by half the gap; grown blocks do not overlap, and lie in the usable area grown likewise.

- area: of the finished pieces over the usable area, nothing else;
- grown area: a piece of more than half the area shares its sheet only with what is left
  (Martello & Toth 1990, bound L2 of bin packing in one dimension; from memory);
- boxes inside: a block at a quarter turn contains a box at that turn, so where blocks fit, these
  boxes fit (dual feasible functions: Fekete & Schepers 2004; with turns the lesser value counts);
- discs inside: centres of discs lie in a smaller rectangle, two radii and the gap apart, and a
  rectangle of area A and perimeter P has at most 2/√3·A/d² + P/(2d) + 1 points that far apart
  (Groemer 1960, Oler 1961; both from memory).
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, pi, sqrt

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Floats
from namebatch.sheet.blocks import FEW, Block, Turned
from namebatch.sheet.model import Rect

SURE = 1e-6
"""Sums are rounded up only beyond this share of a sheet."""
STEPS = 9
"""Halvings on the way to a box inside a shape."""
PARTS = 8
"""Dual feasible functions count in up to so many parts of a side."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """The least numbers of sheets.

    Attributes:
        area: that the pieces' area alone allows.
        sheets: that the best of all bounds allows; never below `area`.
    """

    area: int
    sheets: int


def lower_bounds(blocks: Sequence[Block], usable: Rect, gap_mm: float) -> Bounds:
    """Find out how few sheets are possible at least.

    Args:
        blocks: all that are placed; those of one kind are looked at once.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
    """
    room = usable[2] * usable[3]
    area = ceil(sum(block.area_mm2 for block in blocks) / room - SURE)
    kinds = {block.kind: block for block in blocks}
    numbers = Counter(block.kind for block in blocks)
    counts = np.array([numbers[kind] for kind in kinds], dtype=np.float64)
    some = list(kinds.values())
    found = [area, _grown_area(some, counts, usable, gap_mm)]
    if some and len(some) <= FEW:
        found += [_boxes(some, counts, usable, gap_mm), _discs(some, counts, usable, gap_mm)]
    return Bounds(area, max(found))


def _grown_area(blocks: Sequence[Block], counts: Floats, usable: Rect, gap_mm: float) -> int:
    """L2 of Martello & Toth on areas grown by half the gap."""
    half = gap_mm / 2
    room = usable[2] * usable[3] + gap_mm * (usable[2] + usable[3]) + pi * half * half
    sizes = np.array([_least_grown(block, half, len(blocks) <= FEW) for block in blocks]) / room
    best = 0
    for limit in np.unique(np.concatenate([[0.0], sizes[sizes <= 0.5]])).tolist():
        alone = sizes > 1 - limit
        large = (sizes > 0.5) & ~alone
        small = (sizes >= limit) & (sizes <= 0.5)
        spare = counts[large].sum() - (sizes * counts)[large].sum()
        more = max(0, ceil((sizes * counts)[small].sum() - spare - SURE))
        best = max(best, int(counts[alone].sum() + counts[large].sum()) + more)
    return best


def _least_grown(block: Block, half: float, exactly: bool) -> float:
    """Area of a block grown by half the gap, at least, whichever way it is turned."""
    areas: list[float] = []
    for turned in block.turns[:1] if block.rigid else block.turns:
        lost = turned.slack_mm * turned.shape.length
        if exactly:
            # the buffer's chords lie within its arcs
            grown = shapely.buffer(turned.shape, half, quad_segs=8)
            areas.append(float(grown.area) - lost)
        else:
            # Brunn & Minkowski: no shape of the same area grows by less than a disc
            radius = sqrt(max(turned.shape.area - lost, 0.0) / pi)
            areas.append(pi * (radius + half) * (radius + half))
    return min(areas)


def _boxes(blocks: Sequence[Block], counts: Floats, usable: Rect, gap_mm: float) -> int:
    """The best product of two dual feasible functions on boxes inside the blocks."""
    scale = np.array([usable[2] + gap_mm, usable[3] + gap_mm])
    turns = max(len(block.turns) for block in blocks)
    # blocks × turns × boxes × width and height; a turn that is lacking repeats the first one
    sides = np.array([_boxes_at_turns(block, turns) for block in blocks])
    shares = np.minimum((sides + gap_mm) / scale, 1.0)
    best = 0
    functions = [(parts, limit) for parts in range(PARTS + 1) for limit in (0.0, 0.2, 1 / 3, 0.5)]
    values = [[_feasible(shares[..., side], *one) for one in functions] for side in (0, 1)]
    for across in values[0]:
        for up in values[1]:
            worth = (across * up).max(axis=2).min(axis=1)
            best = max(best, ceil(float(worth @ counts) - SURE))
    return best


def _feasible(share: Floats, parts: int, limit: float) -> Floats:
    """A dual feasible function: values of shares that add up to 1 at most add up to 1 at most.

    `parts` 0 rounds shares below the limit to nothing and those above one less the limit to one;
    otherwise shares are rounded down to so many parts, whole multiples of 1/(parts + 1) kept.
    """
    if parts == 0:
        return np.where(share > 1 - limit + SURE, 1.0, np.where(share < limit - SURE, 0.0, share))
    if limit:
        return np.zeros_like(share)
    times = share * (parts + 1)
    whole = np.abs(times - np.round(times)) < 1e-9
    return np.where(whole, share, np.floor(times) / parts)


def _boxes_at_turns(block: Block, turns: int) -> list[list[tuple[float, float]]]:
    """Boxes inside a block at each of its turns, the first one repeated up to so many."""
    found: list[list[tuple[float, float]]] = []
    for turned in block.turns:
        if not found or not block.rigid:
            found.append(_inner_boxes(turned))
        elif (turned.turn_deg - block.turns[0].turn_deg) % 180:
            found.append([(height, width) for width, height in found[0]])
    return found + found[:1] * (turns - len(found))


def _inner_boxes(turned: Turned) -> list[tuple[float, float]]:
    """Boxes inside the largest face of a block: as it is shaped, as wide, as high as it can be."""
    face = max(shapely.get_parts(turned.shape), key=lambda part: float(part.area))
    x0, y0, x1, y1 = face.bounds
    width, height = x1 - x0, y1 - y0
    shapely.prepare(face)
    return [
        _inside(face, (width, height), turned.slack_mm, both)
        for both in ((1.0, 1.0), (0.02, 1.0), (1.0, 0.02))
    ]


def _inside(
    face: Polygon, size: tuple[float, float], slack: float, shrinks: tuple[float, float]
) -> tuple[float, float]:
    """The largest box about the middle, shrunk in x and y at these rates."""
    x0, y0, x1, y1 = face.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    low, high = 0.0, 1.0
    for _ in range(STEPS):
        share = (low + high) / 2
        half = [side / 2 * (1 - rate * share) for side, rate in zip(size, shrinks, strict=True)]
        corners = (
            middle[0] - half[0],
            middle[1] - half[1],
            middle[0] + half[0],
            middle[1] + half[1],
        )
        if face.covers(shapely.box(*corners)):
            high = share
        else:
            low = share
    width, height = (
        side * (1 - rate * high) - 2 * slack for side, rate in zip(size, shrinks, strict=True)
    )
    return (max(width, 0.0), max(height, 0.0)) if high < 1.0 else (0.0, 0.0)


def _discs(blocks: Sequence[Block], counts: Floats, usable: Rect, gap_mm: float) -> int:
    """Discs inside the faces, all of them or only the larger ones."""
    faces = [
        (_inner_radius(part) - block.turns[0].slack_mm, count)
        for block, count in zip(blocks, counts.tolist(), strict=True)
        for part in shapely.get_parts(block.turns[0].shape)
    ]
    best, number = 0, 0.0
    for radius, count in sorted(faces, reverse=True):
        number += count
        most = most_discs(radius, (usable[2], usable[3]), gap_mm)
        if most:
            best = max(best, ceil(number / most - SURE))
    return best


def most_discs(radius: float, size: tuple[float, float], gap_mm: float) -> int:
    """No more discs of a radius, a gap apart, have room in a rectangle (Groemer, Oler).

    Args:
        radius: of each disc; the bound holds for larger ones, too.
        size: width and height of the rectangle.
        gap_mm: least distance of two discs.

    Returns:
        The bound; 0 if not even one fits.
    """
    width, height = size[0] - 2 * radius, size[1] - 2 * radius
    apart = 2 * radius + gap_mm
    if min(width, height) < -SURE or apart <= 0:
        return 0
    width, height = max(width, 0.0), max(height, 0.0)
    points = 2 / sqrt(3) * width * height / apart**2 + (width + height) / apart + 1
    return floor(points + SURE)


def _inner_radius(face: Polygon) -> float:
    """Radius of a large disc inside, as its centre has it: never too large."""
    line = shapely.maximum_inscribed_circle(face, tolerance=0.05)
    centre = shapely.get_point(line, 0)
    return float(shapely.distance(centre, face.boundary))

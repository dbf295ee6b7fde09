"""Blocks as items of a strip, and what lies in a strip as blocks on a sheet. mm and degrees.

An item is the block grown by half the gap and a hair, with fewer points, nowhere smaller. So items
that do not overlap are blocks that keep the gap, and a strip is as much wider and longer than the
sheet as the gap is wide. The gap is proved once more on the true shapes.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, pi, radians, sin

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.sheet.blocks import Block, Member, Turned
from namebatch.sheet.model import Rect
from namebatch.sheet.strip import Spot, StripItem
from namebatch.sheet.tries import Laid

SIMPLE_MM = 0.05
"""Items have fewer points than their blocks, nowhere farther out than twice this."""
SPARE_MM = 0.01
"""Beyond half the gap: the packing library counts in single precision."""
NEAR_MM = 0.0004
"""Rounding may bring two blocks nearer by less than this."""
OUT_MM = 0.02
"""So far a block may lie outside of its sheet to be moved back."""
QUARTER = 8
"""Chords of a quarter turn of a round corner."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Packable:
    """A kind of block, as it is packed.

    Attributes:
        outline: grown and simplified, the first face's origin at 0, 0, at the first turn.
        area_mm2: of the outline.
        turns: the ways to lie; for two faces the whole block is turned, not each face alone.
    """

    outline: tuple[Point, ...]
    area_mm2: float
    turns: tuple[Turned, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """How a strip lies on a sheet.

    Attributes:
        usable: x, y, width, height of the sheet in mm.
        gap_mm: least distance of two blocks.
        along_x: the strip's length runs along the sheet's width, else along its height.
    """

    usable: Rect
    gap_mm: float
    along_x: bool

    @property
    def height(self) -> float:
        """Of the strip."""
        return self.usable[3 if self.along_x else 2] + self.gap_mm

    @property
    def length(self) -> float:
        """Of the strip, where it takes the whole sheet."""
        return self.usable[2 if self.along_x else 3] + self.gap_mm

    @property
    def turned_deg(self) -> float:
        """The sheet is so far turned from the strip."""
        return 0.0 if self.along_x else 90.0


def packable_of(block: Block, gap_mm: float) -> Packable:
    """The outline of a block as it is packed.

    Args:
        block: what is placed.
        gap_mm: least distance of two blocks.
    """
    turns = _whole_turns(block, gap_mm)
    first = turns[0]
    shapes = [first.shape] if block.rigid else [turned.shape for turned in turns]
    covers: list[MultiPolygon] = []
    for turned, shape in zip(turns, shapes, strict=False):
        origin = turned.members[0]
        moved = affinity.translate(shape, -origin.x_mm, -origin.y_mm)
        back = first.turn_deg - turned.turn_deg
        covers.append(affinity.rotate(moved, back, origin=(0, 0)) if back else moved)
    reach = (gap_mm / 2 + SPARE_MM + first.slack_mm + SIMPLE_MM) / cos(pi / (4 * QUARTER))
    polygon = _one_polygon(shapely.union_all(covers), reach)
    points = tuple((float(x), float(y)) for x, y in polygon.exterior.coords[:-1])
    return Packable(points, polygon.area, turns)


def item_of(kind: Packable, demand: int, frame: Frame) -> StripItem:
    """So many blocks of a kind as an item of a strip."""
    first = kind.turns[0].turn_deg
    turns = tuple((turned.turn_deg - first - frame.turned_deg) % 360 for turned in kind.turns)
    return StripItem(kind.outline, demand, turns)


def laid_of(
    spots: Iterable[Spot],
    kinds: Sequence[Packable],
    numbers: Sequence[Sequence[int]],
    frame: Frame,
) -> list[Laid]:
    """What lies in a strip, on its sheet.

    Args:
        spots: of the strip.
        kinds: the items' kinds.
        numbers: of each kind's blocks.
        frame: how the strip lies.

    Returns:
        The blocks at their true turns, moved inside by a hair where rounding left them outside;
        empty if two are nearer than the gap, or one is outside by more.
    """
    waiting = [list(some) for some in numbers]
    laid: list[Laid] = []
    for item, turn_deg, along, up in spots:
        kind = kinds[item]
        turned = _at_turn(kind, turn_deg + frame.turned_deg + kind.turns[0].turn_deg)
        # the strip begins half the gap outside of the sheet
        along, up = along - frame.gap_mm / 2, up - frame.gap_mm / 2
        x, y = (along, up) if frame.along_x else (frame.usable[2] - up, along)
        origin = turned.members[0]
        x, y = x - origin.x_mm, y - origin.y_mm
        inside_x = min(max(x, 0.0), frame.usable[2] - turned.width_mm)
        inside_y = min(max(y, 0.0), frame.usable[3] - turned.height_mm)
        if max(abs(x - inside_x), abs(y - inside_y)) > OUT_MM:
            return []
        laid.append((waiting[item].pop(0), turned, inside_x, inside_y))
    if any(waiting) or not keeps_gap(laid, frame.gap_mm):
        return []
    return laid


def keeps_gap(laid: Sequence[Laid], gap_mm: float) -> bool:
    """True if no two blocks are nearer than the gap, on their true shapes."""
    shapes = np.array([affinity.translate(t.shape, x, y) for _, t, x, y in laid], dtype=object)
    slack = max((turned.slack_mm for _, turned, _, _ in laid), default=0.0)
    apart = gap_mm + 2 * slack
    tree = shapely.STRtree(shapes)
    if apart > NEAR_MM:
        first, second = tree.query(shapes, predicate="dwithin", distance=apart - NEAR_MM)
        return not bool((first < second).any())
    first, second = tree.query(shapes, predicate="intersects")
    pairs = first < second
    common = shapely.area(shapely.intersection(shapes[first[pairs]], shapes[second[pairs]]))
    return bool((common <= NEAR_MM * shapely.length(shapes[first[pairs]])).all())


def _at_turn(kind: Packable, turn_deg: float) -> Turned:
    def off(turned: Turned) -> float:
        return abs((turned.turn_deg - turn_deg + 180) % 360 - 180)

    return min(kind.turns, key=off)


def _whole_turns(block: Block, gap_mm: float) -> tuple[Turned, ...]:
    """The turns of a block; one of several faces is turned as a whole.

    A kerf that differs in x and y may bring its faces nearer: such a turn is left out.
    """
    first = block.turns[0]
    if len(first.members) == 1:
        return block.turns
    others = (_assembled(first, turned) for turned in block.turns[1:])
    return (first, *(turned for turned in others if _apart(turned.shape) >= gap_mm - NEAR_MM))


def _apart(shape: MultiPolygon) -> float:
    """The least distance of two parts that follow each other."""
    parts = list(shape.geoms)
    return min(float(a.distance(b)) for a, b in pairwise(parts))


def _assembled(first: Turned, turned: Turned) -> Turned:
    """A block's first turn, turned as a whole to another one; the faces are that turn's own."""
    angle = radians(turned.turn_deg - first.turn_deg)
    parts: list[Polygon] = []
    origins: list[Point] = []
    start = first.members[0]
    for member, own, part in zip(first.members, turned.members, turned.shape.geoms, strict=True):
        x, y = member.x_mm - start.x_mm, member.y_mm - start.y_mm
        x, y = x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)
        origins.append((x, y))
        parts.append(affinity.translate(part, x - own.x_mm, y - own.y_mm))
    shape = MultiPolygon(parts)
    x0, y0, x1, y1 = shape.bounds
    members = tuple(
        Member(member.piece, member.face, member.mirrored, x - x0, y - y0)
        for member, (x, y) in zip(first.members, origins, strict=True)
    )
    return replace(
        turned,
        width_mm=x1 - x0,
        height_mm=y1 - y0,
        members=members,
        shape=affinity.translate(shape, -x0, -y0),
    )


def _one_polygon(shape: MultiPolygon, reach: float) -> Polygon:
    """A shape grown, holes filled, parts joined, with fewer points; it covers what it was."""
    grown = shapely.buffer(shape, reach, quad_segs=QUARTER)
    apart, closing = grown, reach
    while grown.geom_type != "Polygon" and closing < 100 * reach:
        bridged = shapely.buffer(shapely.buffer(shape, reach + closing), -closing)
        grown = shapely.union(apart, bridged)
        closing *= 2
    if grown.geom_type != "Polygon":
        return grown.convex_hull
    simple = Polygon(Polygon(grown.exterior).simplify(SIMPLE_MM).exterior)
    return simple if simple.is_valid and simple.area > 0 else grown.convex_hull

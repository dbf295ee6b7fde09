"""An outline split along straight lines into parts, each measured. Lengths in mm."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import LineString, Polygon

from namebatch.curves import Point
from namebatch.outline.joint import (
    JointLine,
    JointOrder,
    joint_shape,
    on_either_side,
    whole_parts,
)
from namebatch.outline.necks import Neck
from namebatch.outline.tails import thin_tips
from namebatch.outline.thickness import narrowest

LOOK_UP_TO = 4.0
WIDEST_MM = 500.0
"""Necks are searched up to this many times the least width first, then up to this width."""
TOLERANCE_MM = 0.02
TIP_REACH = 2.0
"""A corner at a joint may be thinner than the least width over so many widths."""
CELL_MM = 60.0
"""The plane round a piece that is split with it: more than any rim of a board."""
CHORD_MM = 0.01
"""So long at least a line has to run in a part to split it."""


@dataclass(frozen=True, slots=True)
class CutPart:
    """A part of an outline.

    Attributes:
        shape: valid, one part, in the coordinates of the whole.
        neck: its narrowest place.
        cell: all of the plane on its side of the joints; another outline is split alike with it.
        tips: ends of corners at a joint that are thinner than the material may be.
    """

    shape: Polygon
    neck: Neck
    cell: Polygon
    tips: tuple[Point, ...] = ()

    def is_sound(self, required_mm: float) -> bool:
        """True if nothing in it is thinner than the material may be."""
        return self.neck.width_mm >= required_mm - TOLERANCE_MM and not self.tips


@dataclass(frozen=True, slots=True)
class Split:
    """An outline in parts.

    Attributes:
        parts: from the left, one above the other from the top.
        joints: the lines between them, keys and all, in the middle of the gap.
        keys: how many there are.
        bare: stretches without a key, although keys were asked for.
    """

    parts: tuple[CutPart, ...]
    joints: tuple[LineString, ...]
    keys: int
    bare: int


def split(
    outline: Polygon,
    lines: Sequence[JointLine],
    order: JointOrder,
    both_ways: bool = True,
    cell: Polygon | None = None,
) -> Split:
    """Split an outline along lines.

    Args:
        outline: the whole piece.
        lines: one after the other; each splits every part that it crosses. Keys keep off the
            others.
        order: what is asked of the joints.
        both_ways: keys may also reach from the second part into the first.
        cell: of the plane that is split with it; all round it if not given.
    """
    if cell is None:
        cell = plane_round(outline)
    shapes, joints, keys, bare = [(outline, cell)], [], 0, 0
    for number, line in enumerate(lines):
        others = [other.line for other in (*lines[:number], *lines[number + 1 :])]
        own = replace(order, avoid=shapely.union_all([order.avoid, *others]))
        after: list[tuple[Polygon, Polygon]] = []
        for shape, around in shapes:
            if shapely.intersection(shape, line.line).length <= CHORD_MM:
                after.append((shape, around))
                continue
            joint = joint_shape(shape, line, own, both_ways)
            sides = on_either_side(joint, shape, order.fit_mm)
            cells = on_either_side(joint, around, order.fit_mm)
            after += _in_order(
                line,
                *(
                    [(part, some[0]) for part in side]
                    for side, some in zip(sides, cells, strict=True)
                ),
            )
            middle = shapely.intersection(shape, joint.first_side.exterior)
            joints += _lines(middle)
            keys, bare = keys + joint.keys, bare + joint.bare
        shapes = after
    parts = tuple(_measured(shape, around, joints, order.required_mm) for shape, around in shapes)
    return Split(parts, tuple(joints), keys, bare)


def plane_round(outline: Polygon) -> Polygon:
    """All of the plane round a whole piece that is split with it."""
    return shapely.box(*outline.bounds).buffer(CELL_MM, join_style="mitre")


def measured_neck(shape: Polygon, required_mm: float) -> Neck:
    """The narrowest place; looked for near the limit first, then everywhere."""
    neck = narrowest(shape, required_mm, LOOK_UP_TO * required_mm)
    return neck if neck.at is not None else narrowest(shape, required_mm, WIDEST_MM)


def part_alike(part: CutPart, outline: Polygon, required_mm: float) -> CutPart | None:
    """The part of another outline, a board below a print, that belongs to a part.

    Args:
        part: of the print.
        outline: of the board, about in the same place.
        required_mm: least width of the material.

    Returns:
        What the same joints leave of it there; None if they leave nothing.
    """
    found = whole_parts(shapely.intersection(outline, part.cell))
    if not found:
        return None
    own = max(found, key=lambda shape: shapely.intersection(shape, part.shape).area)
    own = shapely.normalize(own)
    return CutPart(own, measured_neck(own, required_mm), part.cell)


def _measured(
    shape: Polygon, cell: Polygon, joints: Sequence[LineString], required_mm: float
) -> CutPart:
    shape = shapely.normalize(shape)
    tips = thin_tips(shape, required_mm - TOLERANCE_MM, TIP_REACH * required_mm) if joints else []
    near = [tip for tip in tips if _is_at(tip, joints, 2 * TIP_REACH * required_mm)]
    return CutPart(shape, measured_neck(shape, required_mm), cell, tuple(near))


def _is_at(place: Point, joints: Sequence[LineString], within_mm: float) -> bool:
    """True if a place lies at a joint: a thin tail elsewhere is the whole piece's."""
    return bool(shapely.dwithin(shapely.Point(place), list(joints), within_mm).any())


def _in_order(
    line: JointLine, first: list[tuple[Polygon, Polygon]], second: list[tuple[Polygon, Polygon]]
) -> list[tuple[Polygon, Polygon]]:
    """From the left; of parts above each other the upper first."""
    upright = abs(line.end[1] - line.start[1]) >= abs(line.end[0] - line.start[0])
    if upright:
        sides = (first, second)
        return [part for side in sides for part in sorted(side, key=lambda p: -p[0].bounds[3])]
    sides = (second, first)
    return [part for side in sides for part in sorted(side, key=lambda p: p[0].bounds[0])]


def _lines(shape: shapely.Geometry) -> list[LineString]:
    merged = shapely.line_merge(shape)
    return [part for part in shapely.get_parts(merged) if isinstance(part, LineString)]

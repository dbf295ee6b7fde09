"""What is placed as one: a face alone, or the two faces of a piece side by side. mm."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.outline.arc_shape import FINE_MM, along_ring
from namebatch.piece import Piece
from namebatch.sheet.hollows import with_hollows
from namebatch.sheet.lines import Line, cut_bounds, cut_lines, cut_outline
from namebatch.sheet.model import PlacedFace, Placement, Rect

GRID_MM = 0.001
"""Placements lie on this grid; sizes are rounded up to it, so that a gap is never less."""
SIMPLE_MM = 0.01
"""Where shapes are many, each is kept with fewer points, nowhere farther off than this."""
FEW = 500
"""So many different shapes are kept as they are."""


@dataclass(frozen=True, slots=True)
class Member:
    """One face within a block: its origin from the block's bottom left corner."""

    piece: str
    face: PlacedFace
    mirrored: bool
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Turned:
    """A block at one turn: the box of its cut lines and where its faces stand in it.

    Attributes:
        turn_deg: counter-clockwise.
        width_mm, height_mm: of the box, rounded up to `GRID_MM`.
        members: the faces.
        shape: their outer cut lines, from the bottom left corner of the box, and the hollows
            that take other pieces (`hollows`); smaller holes count as full.
        slack_mm: the true lines reach no farther than this beyond `shape`.
    """

    turn_deg: float
    width_mm: float
    height_mm: float
    members: tuple[Member, ...]
    shape: MultiPolygon
    slack_mm: float = 0.0

    def place(self, x: float, y: float) -> tuple[Placement, ...]:
        """The placements when the block's bottom left corner is at x, y."""
        return tuple(
            Placement(
                member.piece,
                member.face,
                round(x + member.x_mm, 4),
                round(y + member.y_mm, 4),
                self.turn_deg,
                member.mirrored,
            )
            for member in self.members
        )


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """One thing to place.

    Attributes:
        turns: how it may lie, the first preferred.
        area_mm2: of its finished pieces.
        kind: blocks of the same number have the same shapes at the same turns.
        rigid: the other turns' shapes are the first one turned.
    """

    turns: tuple[Turned, ...]
    area_mm2: float
    kind: int
    rigid: bool = False


def blocks_of(
    pieces: Sequence[Piece],
    faces: Sequence[PlacedFace],
    turns_deg: Sequence[float],
    kerf_mm: tuple[float, float],
    gap_mm: float,
) -> list[Block]:
    """One block a copy, in list order; of a part of a piece one for each of its faces.

    Args:
        pieces: what to place.
        faces: ``("front",)``, ``("front", "back")`` or ``("board",)``; two stand side by side.
        turns_deg: turns that are allowed.
        kerf_mm: of the material in x and y.
        gap_mm: least distance of cut lines.
    """
    sides = [(piece, some) for piece in pieces for some in together(piece, faces)]
    kinds = {key: kind for kind, key in enumerate(dict.fromkeys(_key(*side) for side in sides))}
    slack = SIMPLE_MM if len(kinds) > FEW else 0.0
    known: dict[int, list[Turned]] = {}
    blocks: list[Block] = []
    for piece, some in sides:
        kind = kinds[_key(piece, some)]
        rigid = len(some) == 1 and kerf_mm[0] == kerf_mm[1]
        if kind not in known:
            first = _turned(piece.outline, some, turns_deg[0], kerf_mm, gap_mm, slack)
            known[kind] = [first] + [
                _turned_on(first, piece.outline, turn, kerf_mm)
                if rigid
                else _turned(piece.outline, some, turn, kerf_mm, gap_mm, slack)
                for turn in turns_deg[1:]
            ]
        for piece_id in piece.ids:
            turned = tuple(_named(pattern, piece_id) for pattern in known[kind])
            blocks.append(Block(turned, piece.outline.area * len(some), kind, rigid))
    return blocks


def together(piece: Piece, faces: Sequence[PlacedFace]) -> list[tuple[PlacedFace, ...]]:
    """Faces of a piece that lie side by side; those of a part are large and lie where they fit."""
    return [(face,) for face in faces] if piece.part else [tuple(faces)]


def _key(piece: Piece, faces: tuple[PlacedFace, ...]) -> tuple[bytes, tuple[PlacedFace, ...]]:
    return bytes(shapely.to_wkb(piece.outline)), faces


def _named(pattern: Turned, piece_id: str) -> Turned:
    members = tuple(Member(piece_id, m.face, m.mirrored, m.x_mm, m.y_mm) for m in pattern.members)
    return replace(pattern, members=members)


def _turned(
    outline: Polygon,
    faces: Sequence[PlacedFace],
    turn_deg: float,
    kerf_mm: tuple[float, float],
    gap_mm: float,
    slack_mm: float,
) -> Turned:
    """Faces beside each other along the block's width."""
    members: list[Member] = []
    shapes: list[Polygon] = []
    x = height = most = 0.0
    for face in faces:
        mirrored = face == "back"
        rings = cut_lines(outline, mirrored, turn_deg, kerf_mm)
        sag = _sag(rings)
        x0, y0, x1, y1 = _grown(cut_bounds(outline, mirrored, turn_deg, kerf_mm), sag)
        x += gap_mm if members else 0.0
        members.append(Member("", face, mirrored, x - x0, -y0))
        if slack_mm:
            plain = [along_ring(line.points, line.bulges, slack_mm) for line in rings]
            lines = Polygon(plain[0], plain[1:])
        else:
            lines = cut_outline(outline, mirrored, turn_deg, kerf_mm)
        most = max(most, slack_mm, sag)
        outer = with_hollows(lines)
        shapes.append(affinity.translate(outer, x - x0, -y0))
        x = round(x + _up(x1 - x0), 3)
        height = max(height, _up(y1 - y0))
    return Turned(turn_deg, x, height, tuple(members), MultiPolygon(shapes), most)


def _turned_on(
    first: Turned, outline: Polygon, turn_deg: float, kerf_mm: tuple[float, float]
) -> Turned:
    """A block of one face at another quarter turn: its shape turns with it."""
    [member] = first.members
    sag = _sag(cut_lines(outline, member.mirrored, first.turn_deg, kerf_mm))
    x0, y0, x1, y1 = _grown(cut_bounds(outline, member.mirrored, turn_deg, kerf_mm), sag)
    more = turn_deg - first.turn_deg
    a, b, c, d, _, _ = Placement("", "front", 0.0, 0.0, more, False).outline_affine
    x, y = a * member.x_mm + c * member.y_mm, b * member.x_mm + d * member.y_mm
    return Turned(
        turn_deg,
        _up(x1 - x0),
        _up(y1 - y0),
        (replace(member, x_mm=-x0, y_mm=-y0),),
        affinity.affine_transform(first.shape, (a, c, b, d, -x0 - x, -y0 - y)),
        first.slack_mm,
    )


def has_room(
    piece: Piece,
    faces: Sequence[PlacedFace],
    turns_deg: Sequence[float],
    kerf_mm: tuple[float, float],
    gap_mm: float,
    usable: Rect,
) -> bool:
    """Whether each block of a piece fits at some turn; looks at no more turns than it takes.

    Args:
        piece: as it is cut from the stock.
        faces: that are placed; two stand side by side.
        turns_deg: turns that are allowed.
        kerf_mm: of the material in x and y.
        gap_mm: least distance of cut lines.
        usable: x, y, width and height of what may be cut from.
    """
    return all(
        any(_fits(_size(piece.outline, some, turn, kerf_mm, gap_mm), usable) for turn in turns_deg)
        for some in together(piece, faces)
    )


def _size(
    outline: Polygon,
    faces: Sequence[PlacedFace],
    turn_deg: float,
    kerf_mm: tuple[float, float],
    gap_mm: float,
) -> tuple[float, float]:
    """Width and height as `_turned` has them."""
    x = height = 0.0
    for at, face in enumerate(faces):
        mirrored = face == "back"
        sag = _sag(cut_lines(outline, mirrored, turn_deg, kerf_mm))
        x0, y0, x1, y1 = _grown(cut_bounds(outline, mirrored, turn_deg, kerf_mm), sag)
        x = round(x + (gap_mm if at else 0.0) + _up(x1 - x0), 3)
        height = max(height, _up(y1 - y0))
    return x, height


def _sag(rings: Sequence[Line]) -> float:
    """What chords may leave out of the arcs of cut lines."""
    return FINE_MM if any(line.bulges.any() for line in rings) else 0.0


def _grown(bounds: tuple[float, ...], by_mm: float) -> Rect:
    """A box that also holds what chords leave out of their arcs."""
    x0, y0, x1, y1 = bounds
    return x0 - by_mm, y0 - by_mm, x1 + by_mm, y1 + by_mm


def _up(length: float) -> float:
    return round(ceil(length / GRID_MM - 1e-6) * GRID_MM, 3)


def fitting(block: Block, usable: Rect) -> list[Turned]:
    """The turns of a block at which its box fits the usable area."""
    return [turned for turned in block.turns if _fits((turned.width_mm, turned.height_mm), usable)]


def _fits(size: tuple[float, float], usable: Rect) -> bool:
    return size[0] <= usable[2] + 1e-9 and size[1] <= usable[3] + 1e-9

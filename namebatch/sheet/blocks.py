"""What is placed as one: a face alone, or the two faces of a piece side by side. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from shapely import Polygon

from namebatch.piece import Piece
from namebatch.sheet.lines import cut_outline
from namebatch.sheet.model import PlacedFace, Placement

GRID_MM = 0.001
"""Placements lie on this grid; sizes are rounded up to it, so that a gap is never less."""


@dataclass(frozen=True, slots=True)
class Member:
    """One face within a block: its origin from the block's bottom left corner."""

    piece: str
    face: PlacedFace
    mirrored: bool
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Turned:
    """A block at one turn: the box of its cut lines and where its faces stand in it."""

    turn_deg: float
    width_mm: float
    height_mm: float
    members: tuple[Member, ...]

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


@dataclass(frozen=True, slots=True)
class Block:
    """One thing to place: its turns, the first preferred; and the area of its pieces."""

    turns: tuple[Turned, ...]
    area_mm2: float


def blocks_of(
    pieces: Sequence[Piece],
    faces: Sequence[PlacedFace],
    turns_deg: Sequence[float],
    kerf_mm: tuple[float, float],
    gap_mm: float,
) -> list[Block]:
    """One block a copy, in list order.

    Args:
        pieces: what to place.
        faces: ``("front",)``, ``("front", "back")`` or ``("board",)``; two stand side by side.
        turns_deg: turns that are allowed.
        kerf_mm: of the material in x and y.
        gap_mm: least distance of cut lines.
    """
    blocks: list[Block] = []
    for piece in pieces:
        patterns = [_turned(piece.outline, faces, turn, kerf_mm, gap_mm) for turn in turns_deg]
        for piece_id in piece.ids:
            turned = tuple(_named(pattern, piece_id) for pattern in patterns)
            blocks.append(Block(turned, piece.outline.area * len(faces)))
    return blocks


def _named(pattern: Turned, piece_id: str) -> Turned:
    members = tuple(Member(piece_id, m.face, m.mirrored, m.x_mm, m.y_mm) for m in pattern.members)
    return Turned(pattern.turn_deg, pattern.width_mm, pattern.height_mm, members)


def _turned(
    outline: Polygon,
    faces: Sequence[PlacedFace],
    turn_deg: float,
    kerf_mm: tuple[float, float],
    gap_mm: float,
) -> Turned:
    """Faces beside each other along the block's width."""
    members: list[Member] = []
    x = height = 0.0
    for face in faces:
        mirrored = face == "back"
        x0, y0, x1, y1 = cut_outline(outline, mirrored, turn_deg, kerf_mm).bounds
        x += gap_mm if members else 0.0
        members.append(Member("", face, mirrored, x - x0, -y0))
        x = round(x + _up(x1 - x0), 3)
        height = max(height, _up(y1 - y0))
    return Turned(turn_deg, x, height, tuple(members))


def _up(length: float) -> float:
    return round(ceil(length / GRID_MM - 1e-6) * GRID_MM, 3)

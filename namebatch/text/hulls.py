"""The ink of a block in convex pieces, from pieces of its glyphs that are kept."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil

import numpy as np
import shapely
from shapely import Polygon

from namebatch.template.guide import Floats
from namebatch.text.block import Block
from namebatch.text.convex import Piece, piece_round
from namebatch.text.face import Face

PLAINER = 0.003
"""In capitals' heights, how far a piece may cut a round corner of its ink."""
SLICE = 0.3
"""Width of a slice of a glyph, in capitals' heights."""
SPECK = 1e-6
"""Of a square of the capitals' height; smaller pieces of a slice are left to their neighbours."""


@dataclass(frozen=True, slots=True, eq=False)
class Hulls:
    """Convex pieces of a text at size 1, from its middle.

    Attributes:
        whole: round all of it.
        slices: upright ones of every glyph; together they cover its ink.
    """

    whole: Piece
    slices: tuple[Piece, ...]


def anchor_of(block: Block) -> tuple[float, float]:
    """The point of a block by which it is placed: the middle of its capitals, as the eye sees it.

    Two lines have it half way between the top of the upper capitals and the lower baseline.
    """
    return block.middle, (1 + block.rows[-1].y) / 2


def hulls_of(block: Block) -> Hulls:
    """The pieces of a block with ink."""
    middle_x, middle_y = anchor_of(block)
    points: list[Floats] = []
    slices: list[Piece] = []
    for row in block.rows:
        for sign in row.line.signs:
            edge, pieces = _glyph(sign.face, sign.gid, row.line.tolerance / sign.scale)
            size = sign.scale * row.scale
            x = row.x + sign.x * row.scale - middle_x
            y = row.y + sign.y * row.scale - middle_y
            points.append(edge * size + (x, y))
            slices += [piece.placed(size, x, y) for piece in pieces]
    return Hulls(piece_round(np.concatenate(points), PLAINER), tuple(slices))


@lru_cache(maxsize=512)
def _glyph(face: Face, gid: int, tolerance: float) -> tuple[Floats, tuple[Piece, ...]]:
    """Corners of the hull of a glyph, and its slices, in units of its face."""
    shape = face.glyph_shape(gid, tolerance)
    if shape.is_empty:
        return np.empty((0, 2)), ()
    x0, y0, x1, y1 = shape.bounds
    count = max(1, ceil((x1 - x0) / (SLICE * face.cap_height)))
    edges = np.linspace(x0, x1, count + 1)
    cuts = shapely.intersection(shape, shapely.box(edges[:-1], y0, edges[1:], y1))
    parts = [part for part in shapely.get_parts(cuts) if isinstance(part, Polygon)]
    least, cut = SPECK * face.cap_height**2, PLAINER * face.cap_height
    pieces = [piece_round(shapely.get_coordinates(p), cut) for p in parts if p.area > least]
    return shapely.get_coordinates(shapely.convex_hull(shape)), tuple(pieces)

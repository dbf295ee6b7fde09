"""Blocks: every turn is the piece's own cut lines, turned, from the corner of their box."""

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, affinity, box

from namebatch.piece import Piece, Proof
from namebatch.sheet.blocks import FEW, SIMPLE_MM, Turned, blocks_of
from namebatch.sheet.lines import cut_outline
from namebatch.sheet.model import PlacedFace

TURNS = (0.0, 90.0, 180.0, 270.0)
LOPSIDED = (
    box(0, 0, 40, 12).union(Point(36, 11).buffer(9.3, quad_segs=40)).difference(box(-1, 8, 5, 13))
)


def _piece(line: int, shape: Polygon) -> Piece:
    return Piece(line, 1, {}, shape, (), Proof(1, 5.0, None, 1.5, 0, None), ())


def _lines_at(turned: Turned, piece: Piece, kerf_mm: tuple[float, float]) -> list[Polygon]:
    """The cut lines of a block's faces as they are placed at 100, 50."""
    return [
        affinity.translate(
            cut_outline(piece.outline, placed.mirrored, placed.rotation_deg, kerf_mm),
            placed.x_mm,
            placed.y_mm,
        )
        for placed in turned.place(100.0, 50.0)
    ]


@pytest.mark.parametrize("first", [0.0, 90.0])
@pytest.mark.parametrize("kerf_mm", [(0.0, 0.0), (0.2, 0.2), (0.1, 0.4)])
@pytest.mark.parametrize("faces", [("front",), ("back",), ("front", "back")])
def test_every_turn_is_what_is_cut(
    faces: tuple[PlacedFace, ...], kerf_mm: tuple[float, float], first: float
) -> None:
    """Shape and box of each turn are those of the placed lines, whichever turn comes first."""
    piece = _piece(2, LOPSIDED)
    turns = (first, *(turn for turn in TURNS if turn != first))
    (block,) = blocks_of([piece], faces, turns, kerf_mm, 3.0)
    assert [turned.turn_deg for turned in block.turns] == list(turns)
    for turned in block.turns:
        lines = _lines_at(turned, piece, kerf_mm)
        shape = affinity.translate(turned.shape, 100.0, 50.0)
        assert shapely.hausdorff_distance(shape, shapely.MultiPolygon(lines)) < 2e-4
        x0, y0, x1, y1 = shapely.total_bounds(np.array(lines, dtype=object))
        assert x0 == pytest.approx(100.0, abs=0.001)
        assert y0 == pytest.approx(50.0, abs=0.001)
        assert x1 <= 100.0 + turned.width_mm + 1e-4
        assert y1 <= 50.0 + turned.height_mm + 1e-4
        assert turned.width_mm - (x1 - x0) < 0.003
        assert turned.height_mm - (y1 - y0) < 0.003


def test_many_shapes_are_simpler_at_every_turn() -> None:
    """Of more shapes than a few each turn is within what it says of the lines that are cut."""
    pieces = [_piece(k + 2, Point(0, 0).buffer(10 + k / 100, quad_segs=60)) for k in range(FEW + 1)]
    *_, block = blocks_of(pieces, ("front",), TURNS, (0.2, 0.2), 3.0)
    for turned in block.turns:
        [line] = _lines_at(turned, pieces[-1], (0.2, 0.2))
        shape = affinity.translate(turned.shape, 100.0, 50.0)
        assert turned.slack_mm >= SIMPLE_MM
        assert shapely.hausdorff_distance(shape, line) <= turned.slack_mm + 2e-4
        assert len(shapely.get_coordinates(shape)) < len(shapely.get_coordinates(line)) / 2

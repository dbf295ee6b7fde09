"""The sheet room's front door: faces, orders, part-used boards, proven sheets."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.distance import pdist
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.piece import Piece, Proof
from namebatch.sheet import Filled, Leftover, Stock, board_page, lay_out, printed_page
from namebatch.sheet.blocks import blocks_of, fitting, has_room
from namebatch.sheet.model import PlacedFace
from namebatch.sheet.wishes import Wishes
from namebatch.template import load_workshop

WORKSHOP = load_workshop(None)
PLY = WORKSHOP.materials["plywood-3"]
CARD = WORKSHOP.materials["card-160"]
CORNER = Polygon([(0, 0), (150, 0), (150, 20), (20, 20), (20, 100), (0, 100)])


def _piece(line: int, shape: Polygon, order: str = "", copies: int = 1) -> Piece:
    return Piece(line, copies, {}, shape, (), Proof(1, 5.0, None, 1.5, 0, None), (), order=order)


def _boards(pieces: Sequence[Piece], wishes: Wishes, *leftovers: Leftover) -> Filled:
    page = board_page((600.0, 300.0), PLY)
    stock = Stock("board", page, PLY, ("board",), (0.0, 90.0), 3.0, leftovers)
    return lay_out(pieces, stock, WORKSHOP, 90.0, "fast", wishes)


def _faces(pieces: Sequence[Piece], faces: tuple[PlacedFace, ...]) -> Filled:
    page = printed_page((297.0, 420.0), (5.0, 5.0, 5.0, 5.0), 1.0)
    stock = Stock("face", page, CARD, faces, (0.0, 90.0, 180.0, 270.0), 3.0)
    return lay_out(pieces, stock, WORKSHOP, 150.0, "fast", Wishes())


def _leftover() -> Leftover:
    """Its left half is gone."""
    page = board_page((600.0, 300.0), PLY)
    return Leftover("behind the door", page, MultiPolygon([box(0, 0, 300, 300)]))


def test_part_used_boards_come_first() -> None:
    """What is left of a board takes what it can, the rest goes on new ones; all is proven."""
    pieces = [_piece(k, box(0, 0, 100, 60)) for k in range(2, 30)]
    filled = _boards(pieces, Wishes(), _leftover())
    first, *rest = filled.sheets
    assert (first.id, first.part_used) == ("board-001", "behind the door")
    assert [sheet.part_used for sheet in rest] == [""] * len(rest)
    assert len(first.placements) == 10  # two columns of four, and two turned beside them
    assert sum(len(sheet.placements) for sheet in filled.sheets) == 28
    assert filled.bounds.sheets <= len(filled.sheets)


def test_a_board_without_room_is_left_out() -> None:
    """A part-used board that takes nothing is no sheet of the job."""
    filled = _boards([_piece(2, box(0, 0, 350, 60))], Wishes(), _leftover())
    assert [sheet.part_used for sheet in filled.sheets] == [""]


def test_bound_with_a_larger_part_used_board() -> None:
    """A part-used board that is larger than new ones never makes the bound exceed the count."""
    pieces = [_piece(k, box(0, 0, 250, 130)) for k in range(2, 8)]
    large = Leftover("the large one", board_page((900.0, 600.0), PLY), MultiPolygon())
    filled = _boards(pieces, Wishes(), large)
    assert len(filled.sheets) == 1
    assert filled.bounds.sheets == 1


def test_orders_on_boards() -> None:
    """Orders stay together on part-used and on new boards; pieces of no order go anywhere."""
    pieces = [_piece(k, box(0, 0, 110, 90), "ab"[k % 2] if k < 14 else "") for k in range(2, 18)]
    filled = _boards(pieces, Wishes(by_order=True), _leftover())
    own = {piece_id: piece.order for piece in pieces for piece_id in piece.ids}
    on: dict[str, set[str]] = {}
    for sheet in filled.sheets:
        for placement in sheet.placements:
            on.setdefault(own[placement.piece], set()).add(sheet.id)
    assert len(on["a"]) == len(on["b"]) == 1


@pytest.mark.parametrize("kerf_mm", [(0.12, 0.3), (0.3, 0.12), (0.1, 0.2), (0.18, 0.18)])
@pytest.mark.parametrize("gap_mm", [0.7, 1.0, 3.0])
def test_round_pieces_keep_the_gap(kerf_mm: tuple[float, float], gap_mm: float) -> None:
    """Discs in offset rows pass the proof with any kerf: what chords leave out was reckoned."""
    disc = _piece(2, Point(0, 0).buffer(25, quad_segs=60), copies=140)
    board = replace(PLY, kerf_mm=kerf_mm)
    page = board_page((600.0, 300.0), board)
    stock = Stock("board", page, board, ("board",), (0.0,), gap_mm)
    sheets = lay_out([disc], stock, WORKSHOP, 50.0, "fast", Wishes()).sheets
    assert len(sheets[0].placements) >= 63
    centres = [(p.x_mm, p.y_mm) for p in sheets[0].placements]
    apart = pdist(np.array(centres)).min() - 50.0
    # of a polygon of 240 sides: each stands off its arc by 0.002 mm
    assert apart >= gap_mm + min(kerf_mm) - 0.005


@pytest.mark.parametrize("faces", [("front",), ("front", "back")])
def test_faces_of_a_piece_share_a_sheet(faces: tuple[PlacedFace, ...]) -> None:
    """However they are laid, front and back of a piece are on one sheet."""
    pieces = [_piece(k, CORNER) for k in range(2, 12)]
    filled = _faces(pieces, faces)
    for sheet in filled.sheets:
        there = [(p.piece, p.face) for p in sheet.placements]
        assert {piece for piece, _ in there} == {piece for piece, face in there if face == "front"}
        assert len(there) == len({piece for piece, _ in there}) * len(faces)


def test_orders_of_ragged_faces() -> None:
    """By order, too, ragged faces lie apart, and those of a piece on one sheet."""
    page = printed_page((297.0, 420.0), (5.0, 5.0, 5.0, 5.0), 1.0)
    stock = Stock("face", page, CARD, ("front", "back"), (0.0, 90.0, 180.0, 270.0), 3.0)
    pieces = [_piece(k, CORNER, "ab"[k % 2]) for k in range(2, 10)]
    filled = lay_out(pieces, stock, WORKSHOP, 150.0, "fast", Wishes(by_order=True))
    assert len(filled.sheets) == 2
    for sheet in filled.sheets:
        fronts = {p.piece for p in sheet.placements if p.face == "front"}
        assert fronts == {p.piece for p in sheet.placements if p.face == "back"}
        assert len({pieces[int(p[1]) - 2].order for p in fronts}) == 1


def test_ragged_faces_are_laid_apart() -> None:
    """Two faces side by side waste an A3 sheet; laid apart, two pieces fit."""
    filled = _faces([_piece(2, CORNER), _piece(3, CORNER)], ("front", "back"))
    assert len(filled.sheets) == 1


@pytest.mark.parametrize("kerf_mm", [(0.18, 0.18), (0.05, 0.4)])
@pytest.mark.parametrize("faces", [("front",), ("front", "back")])
@pytest.mark.parametrize(
    "shape", [CORNER, Point(0, 0).buffer(40, quad_segs=60), box(0, 0, 150, 40)]
)
def test_room_is_told_as_the_blocks_have_it(
    shape: Polygon, faces: tuple[PlacedFace, ...], kerf_mm: tuple[float, float]
) -> None:
    """Whether a piece fits is decided to the grid: a hair less room at its best turn, and not."""
    turns, gap = (0.0, 90.0), 3.0
    piece = _piece(2, shape)
    (block,) = blocks_of([piece], faces, turns, kerf_mm, gap)
    for turned in block.turns:
        room = (0.0, 0.0, turned.width_mm, turned.height_mm)
        assert has_room(piece, faces, (turned.turn_deg,), kerf_mm, gap, room)
        assert has_room(piece, faces, turns, kerf_mm, gap, room)
        for less in ((0.001, 0.0), (0.0, 0.001)):
            tight = (0.0, 0.0, room[2] - less[0], room[3] - less[1])
            assert not has_room(piece, faces, (turned.turn_deg,), kerf_mm, gap, tight)
            expected = bool(fitting(block, tight))
            assert has_room(piece, faces, turns, kerf_mm, gap, tight) == expected

"""Pieces inside of pieces' hollows: they are laid there, and cut before the hollow is loose."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely import Point, Polygon, box

from namebatch.errors import SheetError
from namebatch.piece import Piece, Proof
from namebatch.sheet import Stock, board_page, lay_out
from namebatch.sheet.hollows import HOLLOW_MM, hosts, is_hollow, with_hollows
from namebatch.sheet.model import Sheet
from namebatch.sheet.prove import prove
from namebatch.sheet.wishes import Wishes
from namebatch.template import load_workshop

WORKSHOP = load_workshop(None)
PLY = WORKSHOP.materials["plywood-3"]
FRAME = Polygon(box(0, 0, 190, 190).exterior, [box(12, 12, 178, 178).exterior])
RING = Polygon(box(0, 0, 120, 120).exterior, [Point(60, 60).buffer(50).exterior])


def _piece(line: int, shape: Polygon) -> Piece:
    return Piece(line, 1, {}, shape, (), Proof(1, 5.0, None, 1.5, 0, None), ())


def _sheets(*shapes: Polygon) -> tuple[Sheet, ...]:
    page = board_page((200.0, 200.0), PLY)
    stock = Stock("board", page, PLY, ("board",), (0.0, 90.0), 3.0)
    pieces = [_piece(line, shape) for line, shape in enumerate(shapes, start=2)]
    return lay_out(pieces, stock, WORKSHOP, 90.0, "fast", Wishes()).sheets


def _turns(sheet: Sheet) -> dict[tuple[str, int], int]:
    """Owner and how many-eth of its lines from the last → turn in which it is cut."""
    found: dict[tuple[str, int], int] = {}
    for number, path in reversed(list(enumerate(sheet.cuts))):
        nth = sum(owner == path.owner for owner, _ in found)
        found[path.owner, nth] = number
    return found


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        (Point(0, 0).buffer(HOLLOW_MM / 2 + 0.1), True),
        (Point(0, 0).buffer(HOLLOW_MM / 2 - 0.1), False),
        (box(0, 0, 300, HOLLOW_MM - 1), False),
        (box(0, 0, 20, 30), True),
        (box(0, 0, 90, 16).union(box(0, 0, 16, 90)), True),
        (box(0, 0, 90, 12).union(box(0, 0, 12, 90)), False),
        (Point(0, 0).buffer(60).difference(Point(0, 0).buffer(44)), True),
    ],
)
def test_what_a_hollow_is(shape: Polygon, expected: bool) -> None:
    """A hole counts if it takes a disc of 15 mm, however long it is."""
    assert is_hollow(shapely.get_coordinates(shape)) is expected


def test_small_holes_count_as_full() -> None:
    """Of a frame with a ring's hole, the window stays and the hole goes."""
    holed = FRAME.difference(Point(6, 6).buffer(2.5))
    assert with_hollows(holed).equals(FRAME)


def test_ranks_from_within() -> None:
    """A piece in a ring in a frame: 0, 1 and 2; an empty hollow is not used."""
    outers = [box(0, 0, 100, 100), box(20, 20, 80, 80), box(40, 40, 60, 60), box(200, 0, 300, 99)]
    hollows = [(0, box(5, 5, 95, 95)), (1, box(30, 30, 70, 70)), (3, box(210, 9, 290, 90))]
    ranks, used = hosts(outers, hollows)
    assert ranks.tolist() == [2, 1, 0, 0]
    assert used == [True, True, False]


def test_a_hollow_is_filled_and_waits() -> None:
    """A ring lies in a frame and tags in the ring; each is cut before what it lies in is loose."""
    tag = box(0, 0, 30, 20)
    [sheet] = _sheets(FRAME, RING, tag, tag, tag)
    turns = _turns(sheet)
    for inner in ("L4-1.board", "L5-1.board", "L6-1.board"):
        assert turns[inner, 0] < max(turns["L3-1.board", 1], turns["L2-1.board", 1])
    assert turns["L3-1.board", 1] < turns["L3-1.board", 0] < turns["L2-1.board", 1]
    assert turns["L2-1.board", 1] < turns["L2-1.board", 0]
    assert {path.operation for path in sheet.cuts} == {"outer"}


def test_the_way_is_that_of_the_file() -> None:
    """Lines of an owner follow each other, as in a file's groups: the way told is the way cut."""
    [sheet] = _sheets(FRAME, RING, box(0, 0, 30, 20), box(0, 0, 20, 20))
    owners = [path.owner for path in sheet.cuts]
    runs = [owner for k, owner in enumerate(owners) if k == 0 or owners[k - 1] != owner]
    assert len(runs) == len(set(runs))
    starts = np.array([(0.0, 0.0), *(path.points[0] for path in sheet.cuts)])
    assert sheet.travel_mm == pytest.approx(np.hypot(*np.diff(starts, axis=0).T).sum())


def test_an_empty_hollow_is_an_inner_line() -> None:
    """Where nothing lies in it, a hollow is cut before all outlines, as every hole is."""
    [sheet] = _sheets(FRAME)
    assert [path.operation for path in sheet.cuts] == ["inner", "outer"]


def test_the_proof_knows_hollows() -> None:
    """A hollow that is cut loose before what lies in it is refused, and so is one too near."""
    [sheet] = _sheets(FRAME, box(0, 0, 60, 60))
    ordered = [("L2-1", "board"), ("L3-1", "board")]
    prove([sheet], ordered)
    hollow, tag, frame = sheet.cuts[1], sheet.cuts[0], sheet.cuts[2]
    with pytest.raises(SheetError, match="cut loose before what lies in it"):
        prove([replace(sheet, cuts=(hollow, tag, frame))], ordered)
    points = np.array(tag.points)
    near = replace(tag, points=tuple(map(tuple, points - points.min(axis=0) + (16.0, 16.0))))
    with pytest.raises(SheetError, match="nearer than 3 mm"):
        prove([replace(sheet, cuts=(near, hollow, frame))], ordered)

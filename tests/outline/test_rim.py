"""Boards that stand out of their prints: where the line comes to lie, and what is refused."""

import math
import re

import pytest
import shapely
from shapely import Point, Polygon, box

from namebatch.finding import is_held
from namebatch.outline import Limits
from namebatch.outline.rim import Rim, board_for, with_rim

PLY = Limits(1.5, 0.18)
HOLE = Point(8, 15).buffer(2.5, quad_segs=64)
TAG = box(0, 0, 60, 30).difference(HOLE)


def test_a_round_rim_has_the_area_of_the_steiner_formula() -> None:
    """A convex print of area A and perimeter P has a board of A + Pr + πr² (Steiner)."""
    moved = with_rim(box(0, 0, 60, 30), Rim(1.5, pointed=False))
    assert moved.area == pytest.approx(60 * 30 + 180 * 1.5 + math.pi * 1.5**2, abs=0.02)


@pytest.mark.parametrize(("rim_mm", "size"), [(1.5, (63, 33)), (-1.5, (57, 27))])
def test_a_pointed_rim_keeps_right_angles(rim_mm: float, size: tuple[float, float]) -> None:
    """The board of a rectangle is a rectangle, larger or smaller by the rim on every side."""
    moved = with_rim(box(0, 0, 60, 30), Rim(rim_mm, pointed=True))
    wanted = box(-rim_mm, -rim_mm, 60 + rim_mm, 30 + rim_mm)
    assert wanted.bounds[2] - wanted.bounds[0] == size[0]
    assert shapely.hausdorff_distance(moved, wanted) < 1e-6


def test_a_sharp_corner_is_cut_off_at_one_and_a_half_rims() -> None:
    """A spike of 20° would reach out 5.8 rims if it were kept; here it reaches 1.5."""
    tip = 30 * math.tan(math.radians(10))
    spike = Polygon([(0, -tip), (30, 0), (0, tip)])
    moved = with_rim(spike, Rim(2.0, pointed=True))
    assert moved.bounds[2] == pytest.approx(30 + 1.5 * 2.0, abs=0.01)


@pytest.mark.parametrize("rim_mm", [2.0, -2.0])
@pytest.mark.parametrize("pointed", [True, False])
def test_holes_stay_as_they_are(rim_mm: float, pointed: bool) -> None:
    """The hole of the board is that of the print, point by point."""
    moved = with_rim(TAG, Rim(rim_mm, pointed))
    assert isinstance(moved, Polygon)
    [hole] = moved.interiors
    assert shapely.hausdorff_distance(Polygon(hole), HOLE) < 1e-9


def test_bays_that_a_rim_closes_are_no_holes() -> None:
    """A bay with a mouth narrower than two rims is filled, not left as a hole of its own."""
    bay = box(0, 0, 40, 30).difference(box(10, 10, 30, 25)).difference(box(19, 20, 21, 30))
    moved = with_rim(bay, Rim(1.5, pointed=False))
    assert isinstance(moved, Polygon)
    assert not moved.interiors


def test_a_sound_board_is_measured() -> None:
    """The wall beside the hole, 5.5 mm in the print, is 7 mm in a board 1.5 mm larger."""
    board = board_for(TAG, Rim(1.5, pointed=True), PLY)
    assert not is_held(board.findings)
    assert board.neck.width_mm == pytest.approx(7.0, abs=0.03)


@pytest.mark.parametrize(
    ("rim_mm", "shape", "code", "said"),
    [
        (-4.5, TAG, "board-too-narrow", r"smaller all round than the print, is only 1\.0\d mm"),
        (-6.0, TAG, "board-hole-open", "6 mm smaller all round .* hole comes out at its edge"),
        (-16.0, TAG, "board-in-parts", "leaves nothing to cut"),
        (
            -1.1,
            box(0, 0, 20, 20).union(box(19, 9, 41, 11)).union(box(40, 0, 60, 20)),
            "board-in-parts",
            "1.1 mm smaller all round than the print, falls into 2 parts",
        ),
    ],
)
def test_what_cannot_be_is_held(rim_mm: float, shape: Polygon, code: str, said: str) -> None:
    """A board that is too thin, open at a hole or in parts is held, with the figure."""
    board = board_for(shape, Rim(rim_mm, pointed=True), PLY)
    assert is_held(board.findings)
    assert [finding.code for finding in board.findings] == [code]
    assert shapely.is_valid(board.shape)
    assert re.search(said, board.findings[0].message)

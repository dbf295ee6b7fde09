"""Convex pieces of a text."""

import pytest
import shapely
from shapely import Polygon

from namebatch.text.block import Block, block_of
from namebatch.text.catalogue import load_catalogue
from namebatch.text.hulls import PLAINER, anchor_of, hulls_of
from namebatch.text.setting import set_line


def _block(lines: tuple[str, ...]) -> Block:
    face = load_catalogue().open("Lilita One")
    placed = [(0, set_line(face, line, 20.0)) for line in lines]
    found = block_of(" ".join(lines), placed, "centre", 1.5, True)
    assert found is not None
    return found


@pytest.mark.parametrize("lines", [("Jgy",), ("Åsa Quagg",), ("Peggy", "Quagg")])
def test_pieces_cover_the_ink(lines: tuple[str, ...]) -> None:
    """The slices together, and the hull alone, leave nothing out, and reach hardly beyond it."""
    block = _block(lines)
    x, y = anchor_of(block)
    ink = block.ink(1.0, -x, -y)
    hulls = hulls_of(block)
    slices = shapely.union_all([Polygon(piece.corners) for piece in hulls.slices])
    whole = Polygon(hulls.whole.corners)
    assert slices.buffer(1e-5).covers(ink)
    assert whole.buffer(1e-9).covers(ink)
    assert ink.convex_hull.buffer(4 * PLAINER).covers(whole)
    assert slices.area < 0.9 * whole.area


def test_the_anchor_is_the_middle_of_the_capitals() -> None:
    """Half a capital above the baseline; of two lines, half way between top and lower baseline."""
    assert anchor_of(_block(("Jgy",)))[1] == 0.5
    assert anchor_of(_block(("Peggy", "Quagg")))[1] == pytest.approx((1 - 1.5) / 2)

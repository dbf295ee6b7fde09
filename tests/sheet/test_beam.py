"""What the beam leaves: sound lines pass at every kerf, each kind of fault is found and said."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
import shapely
from shapely import Point, Polygon, affinity, box

from namebatch.finding import is_held
from namebatch.job import Job
from namebatch.outline import offset_for_kerf
from namebatch.piece import Piece, Proof
from namebatch.sheet import beam
from namebatch.sheet.beam import left_by_beam, spoiled_by_cut, wrong_with

PLATE = box(0, 0, 60, 20) - Point(8, 10).buffer(2.5, quad_segs=64)
WAIST = PLATE - box(30, -1, 33, 9) - box(30, 11, 33, 21)
"""2 mm are left in its middle."""
KERF = (0.2, 0.2)


def wrong(lines: Polygon, outline: Polygon = WAIST, narrowest: float = 2.0) -> str | None:
    """The proof at a kerf of 0.2 mm in a material that needs what is there."""
    fault = wrong_with(lines, outline, KERF, narrowest, narrowest - 0.01)
    return fault.said(KERF, fault.at) if fault else None


@pytest.mark.parametrize("kerf", [(0.1, 0.1), (0.2, 0.2), (0.5, 0.5), (0.1, 0.3), (0.3, 0.0)])
@pytest.mark.parametrize("turn", [0, 17, 90])
def test_a_line_moved_for_the_kerf_leaves_the_piece(kerf: tuple[float, float], turn: float) -> None:
    """Taking the kerf off again gives size and holes back, whatever it is in x and y."""
    outline = affinity.rotate(WAIST, turn, origin=(0, 0))
    lines = offset_for_kerf(outline, kerf)
    left = left_by_beam(lines, kerf)
    assert left is not None
    assert left.bounds == pytest.approx(outline.bounds, abs=0.002)
    # a beam rounds the corners of the notches
    lost = outline.difference(left.buffer(0.002))
    assert lost.area < 1e-9
    assert wrong_with(lines, outline, kerf, 2.0, 1.99) is None


def test_a_line_too_far_in_is_found() -> None:
    """0.04 mm lost at a waist of the least width is told with what is left."""
    lines = offset_for_kerf(WAIST - box(32, 8, 33.5, 9.04), KERF)
    assert wrong(lines) == (
        "the cut leaves only 1.96 mm near x 32.1, y 10.0 mm, where this material needs 1.99 mm, "
        f"with a kerf of 0.2 × 0.2 mm. {beam.WIDER}"
    )


def test_a_loss_that_does_not_matter_passes() -> None:
    """Where the piece is wide enough a line 0.03 mm too far in is measured and let through."""
    lines = offset_for_kerf(WAIST - box(50, -1, 52, 0.03), KERF)
    left = left_by_beam(lines, KERF)
    assert left is not None
    assert beam._loses(shapely.get_rings(left), shapely.get_rings(WAIST), WAIST)
    assert wrong(lines) is None


def test_two_parts_are_found() -> None:
    """A waist that the beam cuts through leaves two parts."""
    assert wrong(WAIST - box(31, 9, 32, 10.9)) == (
        f"the cut leaves no single part with a kerf of 0.2 × 0.2 mm. {beam.WIDER}"
    )


def test_lost_and_new_holes_are_found() -> None:
    """As many holes as before are not enough: each must be one of those before."""
    lines = offset_for_kerf(WAIST, KERF)
    filled = Polygon(lines.exterior)
    end = f"mm with a kerf of 0.2 × 0.2 mm. {beam.ROOMIER}"
    assert wrong(filled) == f"the cut closes a hole near x 8.0, y 10.0 {end}"
    opened = f"the cut opens a hole near x 50.0, y 10.0 {end}"
    assert wrong(lines - Point(50, 10).buffer(1)) == opened
    moved = wrong(filled - Point(50, 10).buffer(2.4))
    assert moved == f"the cut closes a hole near x 8.0, y 10.0 {end}"


def test_wrong_sizes_are_found() -> None:
    """A piece and a round hole must have their size within 0.02 mm."""
    narrower = affinity.scale(WAIST, 0.999, 1.0, origin=(0, 0))
    assert wrong(offset_for_kerf(narrower, KERF)) == (
        f"the cut leaves the piece 0.06 mm off its size with a kerf of 0.2 × 0.2 mm. {beam.REDRAWN}"
    )
    small = Polygon(WAIST.exterior) - Point(8, 10).buffer(2.46, quad_segs=64)
    assert wrong(offset_for_kerf(small, KERF)) == (
        "the cut leaves the hole near x 8.0, y 10.0 mm 0.08 mm off its size, with a kerf of "
        f"0.2 × 0.2 mm. {beam.ROOMIER}"
    )


def test_a_counter_that_the_beam_cannot_follow_need_not_have_its_size() -> None:
    """An egg with a tip sharper than the beam is no fault; a round hole of that size is one."""
    egg = affinity.scale(Point(0, 0).buffer(0.3, quad_segs=32), 1.0, 1.6)
    for hole, faulty in ((egg, False), (Point(0, 0).buffer(0.36, quad_segs=32), True)):
        outline = WAIST - affinity.translate(hole, 50, 10)
        small = affinity.scale(hole, 1.0, 1.0 - 0.05 / hole.bounds[3])
        lines = offset_for_kerf(WAIST - affinity.translate(small, 50, 10), (0.5, 0.5))
        assert (wrong_with(lines, outline, (0.5, 0.5), 2.0, 1.5) is not None) is faulty


def test_holes_are_matched_by_where_they_are() -> None:
    """A hole that ends in a slit has another box when the beam leaves the slit's end out."""
    slit = box(44, 2, 48, 6) | box(48, 3.9, 57, 4.1)
    outline = PLATE - slit - box(44, 7, 49, 9.5)
    lines = offset_for_kerf(PLATE - box(44, 2, 48, 6) - box(44, 7, 49, 9.5), (0.5, 0.5))
    assert wrong_with(lines, outline, (0.5, 0.5), 2.0, 1.5) is None


def test_what_hangs_at_a_tail_is_not_cut_off() -> None:
    """A line that leaves the end of a tail 0.05 mm wider makes no neck of it: it was thin."""
    outline = PLATE | box(59, 9.5, 66, 10.5)
    wider = outline | box(63, 9.475, 66, 10.525)
    assert wrong_with(offset_for_kerf(wider, KERF), outline, KERF, 2.0, 2.0) is None


def test_the_place_is_told_as_the_piece_has_it() -> None:
    """Turned or mirrored, with another kerf in y: the neck is where the drawing has it."""
    piece = _piece(WAIST, 2.0, 2.1)
    for mirrored in (False, True):
        for turn in (0.0, 90.0, 180.0, 270.0):
            said = spoiled_by_cut(piece, mirrored, turn, (0.1, 0.2))
            place = said and re.search(r"near x ([\d.-]+), y ([\d.-]+) mm", said)
            assert place
            assert 29.9 <= float(place[1]) <= 33.1
            assert float(place[2]) == 10.0


def test_a_hole_with_corners_need_not_have_its_box() -> None:
    """No beam comes into the tips of a lens, and that is no fault of the line."""
    lens = Point(40, 0).buffer(20).intersection(Point(40, 34).buffer(20))
    outline = affinity.translate(box(20, 0, 60, 34) - lens, 0, 0)
    lines = offset_for_kerf(outline, (0.5, 0.5))
    left = left_by_beam(lines, (0.5, 0.5))
    assert left is not None
    hole, drawn = Polygon(left.interiors[0]), Polygon(outline.interiors[0])
    assert drawn.bounds[2] - hole.bounds[2] > 0.02
    assert wrong_with(lines, outline, (0.5, 0.5), 3.0, 1.5) is None


def test_lines_that_cross_are_found() -> None:
    """A bow-tie is no line of a piece."""
    bow = Polygon([(0, 0), (60, 20), (60, 0), (0, 20)])
    assert wrong(bow) == (
        f"its cut lines cross each other with a kerf of 0.2 × 0.2 mm. {beam.REDRAWN}"
    )


def test_far_places_are_those_of_shapely() -> None:
    """The places that the search calls far are those beyond the distance by shapely."""
    outline = WAIST.union(Point(60, 10).buffer(7))
    left = left_by_beam(offset_for_kerf(outline, (0.5, 0.5)), (0.5, 0.5))
    assert left is not None
    here = beam._vertices(shapely.get_rings(outline))
    there = beam._vertices(shapely.get_rings(left))
    far = beam._far_from(*here, *there, 0.0135, 100.0)
    vertices = shapely.get_coordinates(left)
    distance = shapely.distance(shapely.points(vertices), outline.boundary)
    expected = {tuple(v) for v in vertices[distance > 0.0135].tolist()}
    assert expected
    assert {tuple(v) for v in far.tolist()} == expected


def _piece(outline: Polygon, narrowest: float, required: float) -> Piece:
    proof = Proof(1, narrowest, (31.0, 10.0), required, 0, None)
    return Piece(2, 1, {"name": "Kite"}, outline, (), proof, ())


def test_a_piece_is_told_with_its_kerf() -> None:
    """The sentence says what is wrong, at which kerf, and what to do."""
    assert spoiled_by_cut(_piece(WAIST, 2.0, 2.0), False, 0.0, KERF) is None
    said = spoiled_by_cut(_piece(WAIST, 2.0, 2.1), False, 0.0, KERF)
    assert said == (
        "the cut leaves only 2.00 mm near x 32.9, y 10.0 mm, where this material needs 2.1 mm, "
        f"with a kerf of 0.2 × 0.2 mm. {beam.WIDER}"
    )


def test_a_spoiled_piece_is_held(
    job_of: Callable[..., Job], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault at the cutter holds that row with the reason and makes all others."""
    from namebatch import cuttable

    def bad(piece: Piece, stock: object) -> str | None:
        return "the cut leaves no single part" if "Wren" in piece.text.values() else None

    monkeypatch.setattr(cuttable, "spoiled", bad)
    job = job_of("name\nMarlo\nWren\nTeasel\n", "key-fob")
    assert [is_held(row.findings) for row in job.rows] == [False, True, False]
    assert job.rows[1].findings[-1].code == "spoiled-by-cut"
    assert job.rows[1].findings[-1].message == "Line 3: the cut leaves no single part"
    assert {p.piece for sheet in job.sheets for p in sheet.placements} == {"L2-1", "L4-1"}


def test_all_bundled_pieces_pass_when_turned(job_of: Callable[..., Job]) -> None:
    """Welded names pass at every quarter turn with unequal kerfs."""
    job = job_of("name\nMarlo\nJiří\n", "name-sign")
    for piece in job.pieces:
        for turn in (0.0, 90.0, 180.0, 270.0):
            for mirrored in (False, True):
                assert spoiled_by_cut(piece, mirrored, turn, (0.1, 0.18)) is None
    narrow = replace(job.pieces[0].proof, required_mm=job.pieces[0].proof.narrowest_mm + 0.2)
    thin = replace(job.pieces[0], proof=narrow)
    assert spoiled_by_cut(thin, False, 90.0, (0.1, 0.18)) is not None

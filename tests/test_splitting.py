"""Pieces larger than a sheet: split where the template says how, held with a remedy where not."""

import itertools
from pathlib import Path

import pytest
import shapely

from namebatch.errors import SheetError
from namebatch.finding import Severity
from namebatch.job import Job
from tests.outside.joined import board

FOUND = '\n[joint]\nkind = "keyed"\nfit_mm = 0.1\n'


def _codes(job: Job) -> list[str]:
    return [finding.code for row in job.rows for finding in row.findings]


def test_without_the_table_the_piece_is_held_and_the_remedy_named(tmp_path: Path) -> None:
    """A board that no sheet takes is refused, and the table that helps is named."""
    with pytest.raises(SheetError, match=r"a template with a \[joint\] table cuts it in parts"):
        board(tmp_path, "")


def test_a_board_is_split_into_the_fewest_parts(tmp_path: Path) -> None:
    """600 mm on A4 and boards of 300 × 200 mm are three parts, each on one face and one board."""
    job = board(tmp_path, FOUND)
    [piece] = job.pieces
    assert len(piece.parts) == 3
    assert _codes(job) == ["cut-in-parts"]
    placed = sorted(f"{p.piece}.{p.face}" for sheet in job.sheets for p in sheet.placements)
    assert placed == sorted(f"L2-1-{k}.{face}" for k in (1, 2, 3) for face in ("front", "board"))
    ink = piece.letterings[0].shape
    assert shapely.distance(shapely.union_all(list(piece.joints)), ink) >= 1.55
    assert job.totals.pieces == 1
    assert any("1 piece is put together from 3 parts" in note for note in job.notes)


def test_a_piece_that_fits_is_left_whole(tmp_path: Path) -> None:
    """Found joints split only what does not fit a sheet."""
    job = board(tmp_path, FOUND, width=240)
    assert not job.pieces[0].parts
    assert _codes(job) == []


def test_copies_have_parts_of_their_own(tmp_path: Path) -> None:
    """Two copies of three parts are six parts, their ids by copy, then part."""
    job = board(tmp_path, FOUND, names="name,quantity\nLantern Walk,2\n")
    [piece] = job.pieces
    assert piece.cut_ids == ("L2-1-1", "L2-1-2", "L2-1-3", "L2-2-1", "L2-2-2", "L2-2-3")
    assert job.totals.pieces == 2
    assert sum(len(sheet.placements) for sheet in job.sheets) == 12


def test_given_lines_split_every_piece(tmp_path: Path) -> None:
    """Lines that are given split a piece that would fit, and crossed lettering is a warning."""
    job = board(tmp_path, "\n[joint]\nat_x_mm = [120]\n", width=240)
    [piece] = job.pieces
    assert [round(part.outline.bounds[0], 2) for part in piece.parts] == [0.0, 120.05]
    [crossed] = [f for f in piece.findings if f.code == "joint-crosses-text"]
    assert crossed.severity is Severity.WARN
    assert 'crosses "Saltmarsh Kite Day"' in crossed.message
    assert "Move the line" in crossed.message


def test_given_lines_beside_the_lettering_are_not_told(tmp_path: Path) -> None:
    """A line through plain ground needs no warning."""
    job = board(tmp_path, "\n[joint]\nat_x_mm = [30]\n", width=240)
    assert _codes(job) == ["cut-in-parts"]


def test_a_line_close_to_a_hole_holds_the_row(tmp_path: Path) -> None:
    """A given line that leaves a thin wall at a hole is held, with width, place and remedy."""
    job = board(tmp_path, "\n[joint]\nat_x_mm = [18.5]\n", width=240)
    [row] = job.rows
    assert row.held
    assert row.findings[-1].code == "joint-leaves-thin-part"
    assert "a place of 0.95 mm at x 18.0, y 60.0 mm" in row.findings[-1].message


def test_parts_that_are_still_too_large_are_told_by_number(tmp_path: Path) -> None:
    """Given lines that leave a part larger than a sheet: which part, and what to do."""
    with pytest.raises(SheetError, match=r"part 2 of 2 is 479.9 × 120.0 mm .* give more lines"):
        board(tmp_path, "\n[joint]\nat_x_mm = [120]\n")


def test_lettering_from_edge_to_edge_is_held(tmp_path: Path) -> None:
    """Where no line is clear the row is held: size, what a sheet takes, and three remedies."""
    wide = FOUND + '\n[[text]]\nname = "rule"\nline = "—————————"\nbox_mm = [5, 5, 590, 20]\n'
    wide += 'fonts = ["Fredoka SemiBold"]\nmin_height_mm = 5\nmax_height_mm = 60\n'
    job = board(tmp_path, wide)
    [row] = job.rows
    assert row.held
    message = row.findings[-1].message
    assert row.findings[-1].code == "joint-not-found"
    assert "600.0 × 120.0 mm" in message
    assert "Take a larger sheet, set the text smaller or apart, or give the lines" in message


@pytest.mark.parametrize("build", ["printed", "bare"])
def test_every_build_is_split(build: str, tmp_path: Path) -> None:
    """Prints that are cut themselves, and bare boards with engraved letters, are split too."""
    job = board(tmp_path, FOUND, build)
    [piece] = job.pieces
    assert len(piece.parts) == 3
    kind = "face" if build == "printed" else "board"
    assert {sheet.kind for sheet in job.sheets} == {kind}
    if build == "bare":
        owners = {cut.owner for sheet in job.sheets for cut in sheet.cuts
                  if cut.operation == "engrave"}  # fmt: skip
        assert owners == {f"L2-1-{k}.board" for k in (1, 2, 3)}


def test_back_and_front_are_split_along_one_line(tmp_path: Path) -> None:
    """Front and back of a part lie where they fit, and the joint keeps clear of both letterings.

    The letter on the back stands where the front alone would be split.
    """
    [plain] = board(tmp_path / "front", FOUND).pieces
    job = board(tmp_path / "both", FOUND, back=True)
    [piece] = job.pieces
    assert piece.joints[0].centroid.x < plain.joints[0].centroid.x - 5
    assert len(piece.parts) == 3
    inks = [text.shape for text in piece.letterings if text.face == "back"]
    joints = shapely.transform(
        shapely.union_all(list(piece.joints)), lambda xy: xy * (-1, 1) + (600, 0)
    )
    assert shapely.distance(shapely.union_all(inks), joints) >= 1.55
    placed = [p for sheet in job.sheets for p in sheet.placements if p.face == "back"]
    assert len(placed) == len(piece.parts)
    assert all(placement.mirrored for placement in placed)


@pytest.mark.parametrize("rim", [3.0, -2.0])
def test_a_board_with_a_rim_is_split_along_the_same_joints(rim: float, tmp_path: Path) -> None:
    """Boards larger or smaller than the print meet in the same lines, the same gap apart."""
    job = board(tmp_path, FOUND, rim=rim)
    [piece] = job.pieces
    assert piece.board is not None
    boards = [part.board.outline for part in piece.parts if part.board]
    assert len(boards) == 3
    for part, below in zip(piece.parts, boards, strict=True):
        inner = piece.outline if rim > 0 else piece.board.outline
        both = [shapely.intersection(shape, inner) for shape in (part.outline, below)]
        assert shapely.symmetric_difference(*both).area < 0.01
    for one, other in itertools.pairwise(boards):
        assert shapely.distance(one, other) == pytest.approx(0.1, abs=0.002)
    lost = piece.board.outline.area - sum(shape.area for shape in boards)
    assert lost == pytest.approx(0.1 * sum(joint.length for joint in piece.joints), rel=0.1)

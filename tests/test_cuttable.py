"""What was made is cut only if it has room and the cut leaves it as it was made."""

from pathlib import Path

import pytest

from namebatch import cuttable
from namebatch.piece import Piece
from namebatch.sheet import Stock
from tests.outside.joined import board

JOINT = '\n[joint]\nkind = "straight"\n'


def test_a_part_that_the_cut_spoils_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every part goes through the proof of the cut; the row is held for the one that fails."""

    def wrong(piece: Piece, stock: Stock) -> str | None:
        return "the cut leaves only 0.5 mm." if piece.part == 2 else None

    monkeypatch.setattr(cuttable, "spoiled", wrong)
    job = board(tmp_path, JOINT)
    [row] = job.rows
    assert row.held
    assert [finding.code for finding in row.findings] == ["spoiled-by-cut"]
    assert row.findings[0].message == "Line 2: part 2 of 3: the cut leaves only 0.5 mm."


def test_every_stock_is_asked_for_every_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Print and board of all three parts are proved."""
    asked: list[tuple[int, str]] = []

    def seen(piece: Piece, stock: Stock) -> str | None:
        asked.append((piece.part, stock.kind))
        return None

    monkeypatch.setattr(cuttable, "spoiled", seen)
    board(tmp_path, JOINT)
    assert asked == [(part, kind) for part in (1, 2, 3) for kind in ("face", "board")]


def test_what_was_found_stands_on_row_and_piece(tmp_path: Path) -> None:
    """The row and its piece tell the same findings, each with the line of the list."""
    job = board(tmp_path, JOINT, names="name\nFen\nReed\n")
    for row, piece in zip(job.rows, job.pieces, strict=True):
        assert row.findings == piece.findings
        assert row.findings[-1].message.startswith(f"Line {row.line}: The piece is cut in 3 parts")

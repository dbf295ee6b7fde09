"""Parts of a large piece, read back from the files and put together again."""

import json
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import affinity

from namebatch.job import Job
from namebatch.output.manifest import manifest
from namebatch.output.printpdf import print_pdf
from tests.outside.joined import board, cut_again, far_from, put_together

KEYED = '\n[joint]\nkind = "keyed"\nfit_mm = {fit}\n'
STRAIGHT = '\n[joint]\nkind = "straight"\nfit_mm = {fit}\n'


def _no_progress(done: int, total: int) -> None:
    pass


@pytest.mark.parametrize(
    ("table", "fit", "kerf"),
    [(KEYED, 0.1, 0.18), (KEYED, 0.3, 0.4), (KEYED, 0.0, 0.1), (STRAIGHT, 0.1, 0.18)],
)
def test_boards_as_cut_make_up_the_whole(
    table: str, fit: float, kerf: float, tmp_path: Path
) -> None:
    """Kerf and placement taken off, the parts differ from the whole board by the gap alone.

    The gap is the fit within 0.02 mm, measured every half millimetre of every joint.
    """
    job = board(tmp_path, table.format(fit=fit), kerf=str(kerf))
    [piece] = job.pieces
    parts = cut_again(job, "board", kerf)
    assert sorted(parts) == ["L2-1-1", "L2-1-2", "L2-1-3"]
    for one, other in combinations(parts.values(), 2):
        assert shapely.intersection(one, other).area <= 0.02 * piece.outline.length
    joints = shapely.union_all(list(piece.joints))
    whole = shapely.union_all(list(parts.values()))
    off = shapely.symmetric_difference(piece.outline, whole)
    rim = shapely.union(
        shapely.buffer(joints, fit / 2 + 0.02), shapely.buffer(piece.outline.boundary, 0.02)
    )
    assert rim.covers(off)
    inner = shapely.buffer(piece.outline, -1.0)
    for line in piece.joints:
        sides = [part for part in parts.values() if shapely.distance(part, line) < 1.0]
        assert len(sides) == 2
        for place in shapely.points(shapely.get_coordinates(shapely.segmentize(line, 0.5))):
            if inner.contains(place):
                gap = sum(float(shapely.distance(place, side)) for side in sides)
                assert gap == pytest.approx(fit, abs=0.02)


def _pictures(job: Job, whole: Job, face: str, least: float = 0.95) -> list[tuple[int, int]]:
    """At each joint: pixels of the parts laid together that are not those of the whole print."""
    one, other = print_pdf(job, _no_progress), print_pdf(whole, _no_progress)
    found = []
    for joint in job.pieces[0].joints:
        x0, _, x1, _ = joint.bounds
        if face == "back":
            x0, x1 = 600 - x1, 600 - x0
        window = (round(x0) - 4.0, round(x1) + 4.0)
        laid = put_together(job, one, "L2-1", face, window)
        plain = put_together(whole, other, "L2-1", face, window)
        edge = 3
        off = far_from(laid, plain, reach=2)[edge:-edge, edge:-edge]
        assert laid.any(axis=2).mean() > least
        moved = far_from(np.roll(laid, 4, axis=0), plain, reach=2)[edge:-edge, edge:-edge]
        assert moved.sum() > 100
        found.append((int(off.sum()), int(np.unique(laid.reshape(-1, 3), axis=0).shape[0])))
    return found


@pytest.mark.parametrize("back", [False, True])
def test_print_runs_on_over_the_joints(back: bool, tmp_path: Path) -> None:
    """Cut out and laid together, the prints are those of a whole one within 0.1 mm.

    Pixels of 0.05 mm; each has a colour that the whole print has within two pixels. A print that
    is moved by 0.2 mm does not pass.
    """
    job = board(tmp_path / "parts", KEYED.format(fit=0.1), back=back)
    whole = board(
        tmp_path / "whole", "", back=back, bed="1300, 700", sheet="1290x170", board_mm="660, 180"
    )
    for face in ("front", "back") if back else ("front",):
        found = _pictures(job, whole, face)
        assert len(found) == 2
        for off, colours in found:
            assert off == 0
            assert colours > 3


def test_welded_letters_run_on_over_the_joints(tmp_path: Path) -> None:
    """Letters that are cut with the board and stand across a joint keep colour and place."""
    lines = "\n[joint]\nfit_mm = 0.1\nat_x_mm = [210, 400]\n"
    job = board(tmp_path / "parts", lines, weld=True)
    codes = [finding.code for finding in job.pieces[0].findings]
    assert "joint-crosses-text" in codes
    assert "joint-leaves-small-part" in codes  # what the line cuts off an "a"
    whole = board(
        tmp_path / "whole", "", weld=True, bed="1300, 700", sheet="690x290", board_mm="690, 290"
    )
    for off, colours in _pictures(job, whole, "front", least=0.5):
        assert off == 0
        assert colours > 3


def test_manifest_tells_every_part(tmp_path: Path) -> None:
    """One entry a part with what it belongs to; rows and pieces are counted whole."""
    names = "name,quantity\nSaltmarsh Kite Day,2\nReed,1\nNope,two\n"
    job = board(tmp_path, KEYED.format(fit=0.1), names=names)
    told = json.loads(manifest(job, {}))
    ids = [piece["id"] for piece in told["pieces"]]
    assert ids[:6] == [f"L2-{copy}-{part}" for copy in (1, 2) for part in (1, 2, 3)]
    assert [piece["joined"] for piece in told["pieces"]][4] == {
        "piece": "L2-2",
        "part": 2,
        "of": 3,
    }
    totals = told["totals"]
    assert (totals["rows"], totals["made"], totals["held"]) == (3, 2, 1)
    assert totals["pieces"] == 3
    assert totals["cut_parts"] == len(ids)
    assert [piece for row in told["rows"] for piece in row["pieces"]] == ids
    placed = [p["piece"] for s in told["sheets"] if s["kind"] == "board" for p in s["placements"]]
    assert sorted(placed) == sorted(ids)
    for piece, part in zip(told["pieces"], job.pieces[0].cut, strict=False):
        assert piece["size_mm"] == pytest.approx(part.size_mm, abs=1e-3)
        assert piece["parts"] == 1
        assert piece["narrowest_mm"] >= piece["required_mm"]


def test_parts_cannot_be_pulled_apart(tmp_path: Path) -> None:
    """Boards as cut hold together in their plane: the play is below half a millimetre."""
    parts = cut_again(board(tmp_path, KEYED.format(fit=0.1)), "board", 0.18)
    pulled = affinity.translate(parts["L2-1-2"], 0.5, 0.0)
    assert shapely.intersection(parts["L2-1-1"], pulled).area > 0.0


def test_columns_and_rows_as_cut(tmp_path: Path) -> None:
    """A board too wide and too high: four parts or more, apart by the gap, in all the whole."""
    job = board(tmp_path, KEYED.format(fit=0.1), width=460, height=330)
    [piece] = job.pieces
    assert len(piece.parts) >= 4
    parts = list(cut_again(job, "board", 0.18).values())
    assert len(parts) == len(piece.parts)
    for k, part in enumerate(parts):
        rest = shapely.union_all(parts[:k] + parts[k + 1 :])
        assert shapely.distance(part, rest) == pytest.approx(0.1, abs=0.02)
    rim = shapely.union(
        shapely.buffer(shapely.union_all(list(piece.joints)), 0.07),
        shapely.buffer(piece.outline.boundary, 0.02),
    )
    off = shapely.symmetric_difference(piece.outline, shapely.union_all(parts))
    assert shapely.difference(off, rim).area < 0.02

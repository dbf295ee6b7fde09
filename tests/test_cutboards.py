"""What is gone of a board that was cut, read back from job folders."""

import json
import shutil
from pathlib import Path

import pytest
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.cutboards import cut_board
from namebatch.errors import MeasureError
from namebatch.outline.arc_shape import along_ring
from namebatch.sheet.model import Sheet
from tests.remake import jobs
from tests.remake.jobs import First

SMALL = "name,quantity\nTeal,3\nInka,1\n"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> First:
    """Fobs on one large board; nobody may change its own files."""
    return jobs.first_job(tmp_path_factory.mktemp("fobs"), SMALL, "key-fob")


def cut_lines(sheet: Sheet) -> MultiPolygon:
    """The inside of every outer line of a sheet."""
    rings = [along_ring(c.points, c.bulges) for c in sheet.cuts if c.operation == "outer"]
    return MultiPolygon([Polygon(ring) for ring in rings])


def test_everything_cut_is_gone(kept: First) -> None:
    """All outer lines of the cut file, holes full, on a board of the size that it had."""
    [sheet] = kept.job.sheets
    board = cut_board(kept.folder, sheet.id)
    assert (board.material, board.size_mm) == (sheet.material, sheet.size_mm)
    assert len(board.gone.geoms) == len(sheet.placements) == 4
    assert shapely.hausdorff_distance(board.gone, cut_lines(sheet)) < 0.0005
    assert not any(part.interiors for part in board.gone.geoms)


def test_what_remakes_cut_later_is_gone_too(tmp_path: Path) -> None:
    """Every remake onto the board counts, whichever of its names is given; other boards do not."""
    first = jobs.first_job(tmp_path, SMALL, "key-fob")
    one = jobs.written(first, 1, "L2-1", onto=("board-001",)).sheets[0]
    two = jobs.written(first, 2, "L2-2,L3", onto=("board-002",)).sheets[0]
    new = jobs.written(first, 3, "L2-3").sheets[0]
    assert [sheet.id for sheet in (one, two, new)] == ["board-002", "board-003", "board-004"]
    assert one.part_used == "board-001, already cut"
    assert two.part_used == "board-002, already cut"
    whole = cut_board(first.folder, "board-001").gone
    assert len(whole.geoms) == 7
    for name in ("board-002", "board-003"):
        assert shapely.equals(cut_board(first.folder, name).gone, whole)
    assert len(cut_board(first.folder, "board-004").gone.geoms) == 1
    gap = first.job.sheets[0].gap_mm
    for sheet, before in ((one, first.job.sheets[0]), (two, one), (two, first.job.sheets[0])):
        assert shapely.distance(cut_lines(sheet), cut_lines(before)) >= gap - 0.001


def test_remakes_of_a_job_that_was_replaced_do_not_count(tmp_path: Path) -> None:
    """What another job's remake cut is not gone from this job's boards, nor are its ids taken."""
    first = jobs.first_job(tmp_path, SMALL, "key-fob")
    jobs.written(first, 1, "L2-1", onto=("board-001",))
    place = tmp_path / "other"
    other = jobs.first_job(place, "name\nOdile\n", "key-fob")
    shutil.copytree(first.folder / "remakes", other.folder / "remakes")
    assert len(cut_board(other.folder, "board-001").gone.geoms) == 1
    assert [sheet.id for sheet in jobs.written(other, 2, "L2").sheets] == ["board-002"]


def test_a_board_that_was_never_cut_is_refused(kept: First) -> None:
    """An id that there is not is told with those that there are."""
    with pytest.raises(MeasureError, match=r'no board "board-009"\. It has: board-001\.'):
        cut_board(kept.folder, "board-009")


def test_a_printed_page_is_refused(tmp_path: Path) -> None:
    """A page cannot be printed again once it is cut."""
    first = jobs.first_job(tmp_path, jobs.CARDS, "place-card")
    with pytest.raises(MeasureError, match=r"is a printed page.* It has no boards"):
        cut_board(first.folder, "face-001")


def test_a_changed_cut_file_is_refused(tmp_path: Path) -> None:
    """Where the lines may not be those that were cut, nothing is laid between them."""
    first = jobs.first_job(tmp_path, SMALL, "key-fob")
    path = first.folder / "cut" / "board-001.svg"
    path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    with pytest.raises(MeasureError, match="not the file that the job was made with"):
        cut_board(first.folder, "board-001")


FAR = [[[[0, 0], [1e308, 0], [0, 1e308]]]] * 2
NOWHERE = [[[[0, 0], [float("nan"), 0], [1, 1]]]]
ENDLESS = [[[[0, 0], [10**400, 0], [1, 1]]]]


@pytest.mark.parametrize(
    "used", [3, [3], [[]], [[[[0, 0], [1, 1]]]], [[["a"]]], "x", None, [{}], FAR, NOWHERE, ENDLESS]
)
def test_a_board_whose_past_is_damaged_is_refused(tmp_path: Path, used: object) -> None:
    """What was gone before must be told properly, or the board is not cut again."""
    first = jobs.first_job(tmp_path, "name\nTeal\n", "key-fob")
    content = first.manifest
    content["sheets"][0]["used_mm"] = used
    (first.folder / "job.json").write_text(json.dumps(content), encoding="utf-8")
    with pytest.raises(MeasureError, match="does not tell what was gone of board-001"):
        cut_board(first.folder, "board-001")

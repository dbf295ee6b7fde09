"""A sheet of a job folder: what is read of it, and what is not trusted."""

import json
from pathlib import Path

import pytest

from namebatch.errors import MeasureError
from namebatch.measured.jobsheet import CORNERS, read_job_sheet
from tests.measured import jobfolder
from tests.output import jobs


def changed(job: Path, **entries: object) -> None:
    """The manifest with some of its entries replaced."""
    path = job / "job.json"
    content = json.loads(path.read_bytes())
    path.write_text(json.dumps({**content, **entries}), encoding="utf-8")


def test_a_sheet_is_read_with_its_frame_and_bed(tmp_path: Path) -> None:
    """Marks are the frame's corners, the bed is that of the workshop the job was made for."""
    sheet = read_job_sheet(jobfolder.write(tmp_path / "job"), "face-001")
    assert (sheet.size_mm, sheet.bed_mm) == (jobs.SHEET_MM, (600.0, 400.0))
    assert tuple(sheet.marks) == CORNERS
    assert sheet.marks["bottom-left"] == (6.0, 6.0)
    assert sheet.marks["top-right"] == (142.0, 204.0)
    assert (sheet.path, sheet.formats) == ("cut/face-001.svg", ("svg", "dxf"))
    assert sheet.drawing.colours["outer"] == jobs.COLOURS["outer"]


def test_marks_follow_cut_lines_that_follow_the_printer(tmp_path: Path) -> None:
    """In a job whose cut files are scaled the frame's corners are, too."""
    job = jobfolder.write(tmp_path / "job", scale=(1.002, 0.997))
    width, height = jobs.SHEET_MM
    x, y = read_job_sheet(job, "face-001").marks["bottom-left"]
    assert (x, y) == pytest.approx((width / 2 * -0.002 + 6 * 1.002, height / 2 * 0.003 + 6 * 0.997))


def test_a_job_for_a_cutter_without_svg_is_read_from_its_dxf(tmp_path: Path) -> None:
    """The DXF tells the same."""
    svg = read_job_sheet(jobfolder.write(tmp_path / "both"), "face-001")
    dxf = read_job_sheet(jobfolder.write(tmp_path / "dxf", ("dxf",)), "face-001")
    assert dxf.formats == ("dxf",)
    assert [c.owner for c in dxf.drawing.cuts] == [c.owner for c in svg.drawing.cuts]


def test_no_job_no_sheet_no_file(tmp_path: Path) -> None:
    """Each is told with what there is instead."""
    with pytest.raises(MeasureError, match=r"holds no finished job: there is no job\.json"):
        read_job_sheet(tmp_path, "face-001")
    job = jobfolder.write(tmp_path / "job")
    with pytest.raises(MeasureError, match=r'no sheet "face-009"\. It has: face-001, board-001'):
        read_job_sheet(job, "face-009")
    jobfolder.write(job / "remakes" / "001")
    changed(job / "remakes" / "001", sheets=[{"id": "face-009"}])
    with pytest.raises(MeasureError, match=r"remakes/001 has it: name that folder"):
        read_job_sheet(job, "face-009")
    (job / "cut" / "face-001.svg").unlink()
    (job / "cut" / "face-001.dxf").unlink()
    with pytest.raises(MeasureError, match=r"cut/face-001\.svg is missing"):
        read_job_sheet(job, "face-001")


def test_a_cut_file_that_was_changed_is_refused(tmp_path: Path) -> None:
    """What is not the proven drawing is not moved."""
    job = jobfolder.write(tmp_path / "job")
    path = job / "cut" / "face-001.svg"
    path.write_bytes(path.read_bytes().replace(b"op-inner", b"op-outer"))
    with pytest.raises(MeasureError, match="someone changed it"):
        read_job_sheet(job, "face-001")


@pytest.mark.parametrize(
    "sheets",
    [
        [{"id": "face-001"}],
        [{"id": "face-001", "size_mm": [1, 2], "frame_mm": "x"}],
        [{"id": "face-001", "size_mm": [1, 2], "frame_mm": [1, 2, 3, 1e9]}],
        [{"id": "face-001", "size_mm": [1, None], "frame_mm": [1, 2, 3, 4]}],
    ],
)
def test_a_manifest_that_makes_no_sense_is_refused(tmp_path: Path, sheets: object) -> None:
    """It may come from anywhere."""
    job = jobfolder.write(tmp_path / "job")
    changed(job, sheets=sheets)
    with pytest.raises(MeasureError, match=r"job\.json does not tell the sheet's sizes"):
        read_job_sheet(job, "face-001")


@pytest.mark.parametrize("sheets", [None, 3, [], [7]])
def test_a_manifest_without_sheets_has_none(tmp_path: Path, sheets: object) -> None:
    """No entry, no list, a list of nothing."""
    job = jobfolder.write(tmp_path / "job")
    changed(job, sheets=sheets)
    with pytest.raises(MeasureError, match=r'no sheet "face-001"\. It has: none'):
        read_job_sheet(job, "face-001")

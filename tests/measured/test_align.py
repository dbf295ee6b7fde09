"""A sheet's cut files moved onto its print."""

import json
import re
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import LineString, Point

from namebatch.curves import Affine, apply
from namebatch.errors import MeasureError, RegistrationError
from namebatch.job import Job
from namebatch.measured.align import align, write_aligned
from namebatch.measured.jobsheet import read_job_sheet
from namebatch.output.atomic import write_job
from namebatch.output.target import read_manifest, unchanged_files
from tests.measured import jobfolder
from tests.output import jobs
from tests.output.readers import Ring, svg_rings
from tests.registration.sheets import laid

BED = (600.0, 400.0)
ASKEW = laid(0.7, (0.997, 1.002), 0.0, (37.0, 52.0))
TURNED = laid(-1.3, (1.001, 1.001), 0.0, (80.0, 90.0))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The tags' job, written."""
    return jobfolder.write(tmp_path / "job")


def written(job: Path, lies: Affine, **options: object) -> dict[str, object]:
    """Align the first sheet to a print and give the report."""
    sheet = read_job_sheet(job, "face-001")
    marks = jobfolder.read_by(sheet, lies)
    write_aligned(job, sheet, align(sheet, marks, BED, **options))  # type: ignore[arg-type]
    found: dict[str, object] = json.loads((job / "aligned" / "face-001.json").read_bytes())
    return found


def upright(data: bytes, height: float) -> dict[tuple[str, str], list[Ring]]:
    """Rings of a cut SVG, y up."""
    return {
        key: [[(x, height - y) for x, y in ring] for ring in rings]
        for key, rings in svg_rings(data).items()
    }


@pytest.mark.parametrize("lies", [ASKEW, TURNED])
def test_every_line_lies_where_the_print_has_it(job: Path, lies: Affine) -> None:
    """Groups and ids are the same; every line, arcs too, is the map's image within 0.01 mm."""
    written(job, lies)
    before = upright((job / "cut/face-001.svg").read_bytes(), jobs.SHEET_MM[1])
    after = upright((job / "aligned/face-001.svg").read_bytes(), BED[1])
    assert list(after) == list(before)
    for key, rings in before.items():
        for ring, moved in zip(rings, after[key], strict=True):
            wanted = LineString([apply(lies, point) for point in [*ring, ring[0]]])
            found = LineString([*moved, moved[0]])
            assert wanted.hausdorff_distance(found) < 0.01


def test_the_dxf_says_the_same(job: Path) -> None:
    """Layers, owners and corners of the DXF are those of the SVG, y up on the bed."""
    written(job, ASKEW)
    svg = upright((job / "aligned/face-001.svg").read_bytes(), BED[1])
    document = ezdxf.readfile(job / "aligned/face-001.dxf")  # type: ignore[attr-defined]
    assert not document.audit().has_errors
    assert document.header["$EXTMAX"] == (600.0, 400.0, 0.0)
    for line in document.modelspace():
        assert isinstance(line, LWPolyline)
        owner = line.get_xdata("NAMEBATCH")[0].value
        rings = [LineString([*ring, ring[0]]) for ring in svg[line.dxf.layer, owner]]
        for x, y, *_ in line.get_points():
            assert min(ring.distance(Point(x, y)) for ring in rings) < 0.0005


def test_under_a_similarity_the_arcs_are_as_many_as_before(job: Path) -> None:
    """A print that was only turned keeps its arcs; a stretched circle needs more."""
    count = re.compile(rb"A[\d.]+,")
    before = len(count.findall((job / "cut/face-001.svg").read_bytes()))
    assert before >= 4
    written(job, TURNED)
    assert len(count.findall((job / "aligned/face-001.svg").read_bytes())) == before
    written(job, ASKEW)
    assert len(count.findall((job / "aligned/face-001.svg").read_bytes())) >= before


def test_the_report_tells_how_the_print_lies(job: Path) -> None:
    """Keys and figures of the contract, and digests of what was written and read."""
    report = written(job, ASKEW)
    assert report["model"] == "affine"
    assert (report["scale_x"], report["scale_y"]) == pytest.approx((0.997, 1.002), abs=1e-6)
    assert report["rotation_deg"] == pytest.approx(0.7, abs=1e-4)
    assert report["shift_mm"] == pytest.approx([37.0, 52.0], abs=1e-3)
    assert set(report["residual_mm"]) == {  # type: ignore[call-overload]
        "bottom-left", "bottom-right", "top-right", "top-left"
    }  # fmt: skip
    assert report["worst_mm"] == pytest.approx(0.0, abs=1e-4)
    assert report["cut_sha256"] == sha256((job / "cut/face-001.svg").read_bytes()).hexdigest()
    assert report["files"] == {
        f"aligned/face-001.{kind}": sha256(
            (job / f"aligned/face-001.{kind}").read_bytes()
        ).hexdigest()
        for kind in ("svg", "dxf")
    }
    assert written(job, TURNED)["model"] == "similarity"


def test_the_job_can_still_be_checked_against_its_manifest(job: Path) -> None:
    """Its own files and its manifest are untouched, whatever is aligned."""
    before = (job / "job.json").read_bytes()
    written(job, ASKEW)
    assert (job / "job.json").read_bytes() == before
    manifest = read_manifest(job)
    files = manifest["files"]
    assert isinstance(files, dict)
    assert set(unchanged_files(job, manifest)) == set(files)


def test_the_same_readings_give_the_same_bytes(job: Path, tmp_path: Path) -> None:
    """No clock in any of the three files."""
    other = jobfolder.write(tmp_path / "other")
    written(job, ASKEW)
    written(other, ASKEW)
    for path in sorted((job / "aligned").iterdir()):
        assert path.read_bytes() == (other / "aligned" / path.name).read_bytes()


def test_a_print_near_the_beds_edge_is_refused(job: Path) -> None:
    """Lines that would leave the bed are told with how far, and nothing is written."""
    with pytest.raises(MeasureError, match=r"bed of 600 × 400 mm: \d+\.\d mm beyond the left edge"):
        written(job, laid(0.0, shift=(-30.0, 50.0)))
    with pytest.raises(MeasureError, match=r"mm beyond the right edge, \d+\.\d mm beyond the back"):
        written(job, laid(0.0, shift=(500.0, 300.0)))
    assert not (job / "aligned").exists()


def test_a_turned_print_must_be_meant(job: Path) -> None:
    """Half a turn is how swapped marks look, too: it is taken only when it is said."""
    lies = laid(180.0, shift=(300.0, 300.0))
    with pytest.raises(MeasureError, match=r"turned by 180°\. If it does, say --turned"):
        written(job, lies)
    assert written(job, lies, turned=True)["rotation_deg"] == pytest.approx(180.0)


@pytest.mark.parametrize("angle", [6.0, -20.9])
def test_two_marks_alone_do_not_lay_a_print_far_askew(job: Path, angle: float) -> None:
    """On A5 x and y that were exchanged look like a turn of 21°; a third mark settles it."""
    sheet, lies = read_job_sheet(job, "face-001"), laid(angle, shift=(200.0, 100.0))
    said = r"turned by -21°; x and y that were exchanged" if angle < 0 else r"turned by 6°\. If"
    with pytest.raises(MeasureError, match=said):
        align(sheet, jobfolder.read_by(sheet, lies, (0, 2)), BED)
    for marks, turned in (((0, 2), True), ((0, 1, 2), False)):
        found = align(sheet, jobfolder.read_by(sheet, lies, marks), BED, turned=turned)
        assert found.fit.rotation_deg == pytest.approx(angle)


def test_a_ruler_alone_scales_about_the_frames_corner(job: Path) -> None:
    """Width and height of the frame: x and y scales, the bottom left corner stays."""
    sheet = read_job_sheet(job, "face-001")
    found = align(sheet, (), BED, (136.0 * 0.997, 198.0 * 1.002))
    assert found.fit.scales == pytest.approx((0.997, 1.002))
    assert apply(found.fit.affine, (6.0, 6.0)) == pytest.approx((6.0, 6.0))
    assert found.size_mm == sheet.size_mm
    assert found.fit.residual_mm == {}


def test_a_ruler_and_two_marks_lay_an_uneven_print(job: Path) -> None:
    """The ruler gives the scales, the marks turn and shift."""
    sheet = read_job_sheet(job, "face-001")
    marks = jobfolder.read_by(sheet, ASKEW, (0, 2))
    found = align(sheet, marks, BED, (136.0 * 0.997, 198.0 * 1.002))
    assert found.fit.affine == pytest.approx(ASKEW, abs=1e-9)


def test_a_frame_that_cannot_be_is_refused(job: Path) -> None:
    """Height written first is far off."""
    sheet = read_job_sheet(job, "face-001")
    with pytest.raises(MeasureError, match=r"off its 136\.0 × 198\.0 mm\. Was it measured width"):
        align(sheet, (), BED, (198.0, 136.0))


def test_marks_that_do_not_fit_write_nothing(job: Path) -> None:
    """The refusal of the registration room comes through."""
    sheet = read_job_sheet(job, "face-001")
    left, right, *others = jobfolder.read_by(sheet, ASKEW)
    swapped = (replace(left, read=right.read), replace(right, read=left.read), *others)
    with pytest.raises(RegistrationError, match="bottom-left and bottom-right swapped"):
        align(sheet, swapped, BED)


def test_aligned_files_of_another_job_leave_with_it(job: Path) -> None:
    """Made again they stay; replaced by another job they would be cut by mistake, so they go."""
    written(job, ASKEW)
    (job / "aligned" / "mine.svg").write_text("mine", encoding="utf-8")
    same = jobfolder.write(job)
    assert (same / "aligned" / "face-001.svg").is_file()
    other: Job = jobs.faced_job()
    write_job(other, job, replace=True, progress=jobfolder.silent)
    assert sorted(path.name for path in (job / "aligned").iterdir()) == ["mine.svg"]


def test_an_aligned_file_that_was_worked_on_is_kept(job: Path) -> None:
    """Someone's own change is never removed."""
    written(job, ASKEW)
    (job / "aligned" / "face-001.dxf").write_text("mine", encoding="utf-8")
    write_job(jobs.faced_job(), job, replace=True, progress=jobfolder.silent)
    assert [path.name for path in (job / "aligned").iterdir()] == ["face-001.dxf"]


def test_kerf_turned_by_two_degrees_is_off_by_a_thousandth() -> None:
    """The figure in the docstring: the line's distance for an elliptic beam, turned and not."""
    angles = np.linspace(0, np.pi, 100_000)
    turn = np.radians(2)

    square, turned = (
        0.5 * np.hypot(0.20 * np.cos(angle), 0.15 * np.sin(angle))
        for angle in (angles, angles + turn)
    )
    assert float(np.abs(square - turned).max()) == pytest.approx(0.001, abs=5e-4)

"""`jig.svg` and `jig.dxf` of sheets larger than the page, and of printers that are off."""

from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from ezdxf.entities.lwpolyline import LWPolyline

from namebatch.job import Job
from namebatch.output import jig
from namebatch.sheet import jig_of, printed_page
from tests.output import jobs
from tests.output.pages import nothing
from tests.output.readers import svg_bounds

PAGE = printed_page((210.0, 297.0), (5.0, 5.0, 7.0, 5.0), 1.5)
SIZE = (430.0, 330.0)


def _job(scale: tuple[float, float] = (1.0, 1.0)) -> Job:
    job = jobs.faced_job()
    printer = replace(job.workshop.printer, scale=scale)
    workshop = replace(job.workshop, printer=printer)
    return replace(job, workshop=workshop, jig=jig_of(PAGE, SIZE))


def test_a_larger_jig_keeps_the_coordinates_of_the_page(tmp_path: Path) -> None:
    """Its file is as large as its sheet; the frame is where the page has it."""
    jig.write(_job(), tmp_path, nothing)
    svg = (tmp_path / "jig.svg").read_bytes()
    assert b'viewBox="0 0 430 330"' in svg
    bounds = svg_bounds(svg, SIZE[1])
    x, y, width, height = PAGE.frame_mm
    level, upright = bounds["op-mark", "frame-level"], bounds["op-mark", "frame-upright"]
    assert level == pytest.approx((2, y, 428, y + height), abs=0.001)
    assert upright == pytest.approx((x, 2, x + width, 328), abs=0.001)


def test_svg_and_dxf_of_a_larger_jig_agree(tmp_path: Path) -> None:
    """The same marks and windows, read by an independent library."""
    jig.write(_job(), tmp_path, nothing)
    bounds = svg_bounds((tmp_path / "jig.svg").read_bytes(), SIZE[1])
    document = ezdxf.filemanagement.readfile(tmp_path / "jig.dxf")
    found = []
    for line in document.modelspace():
        assert isinstance(line, LWPolyline)
        xs, ys = zip(*[point[:2] for point in line.get_points()], strict=True)
        assert line.closed
        found.append((line.dxf.layer, min(xs), min(ys), max(xs), max(ys)))
    expected = [(operation, *box) for (operation, _), box in bounds.items()]
    for (layer, *values), (operation, *box) in zip(sorted(found), sorted(expected), strict=True):
        assert layer == operation
        assert values == pytest.approx(box, abs=0.001)


def test_a_printer_that_is_off_moves_the_frame_about_the_middle_of_the_page(tmp_path: Path) -> None:
    """Not about that of the larger sheet: the printed frame knows nothing of it."""
    sx, sy = 1.004, 0.997
    jig.write(_job((sx, sy)), tmp_path, nothing)
    bounds = svg_bounds((tmp_path / "jig.svg").read_bytes(), SIZE[1])
    x, y, width, height = PAGE.frame_mm
    left, right = bounds["op-mark", "frame-upright"][0::2]
    low, high = bounds["op-mark", "frame-level"][1::2]
    assert left == pytest.approx(105 + sx * (x - 105), abs=0.001)
    assert right == pytest.approx(105 + sx * (x + width - 105), abs=0.001)
    assert low == pytest.approx(148.5 + sy * (y - 148.5), abs=0.001)
    assert high == pytest.approx(148.5 + sy * (y + height - 148.5), abs=0.001)


def test_no_line_leaves_the_sheet(tmp_path: Path) -> None:
    """A printer off by 3 % would carry the far ends of the marked lines past the edge."""
    jig.write(_job((1.03, 1.03)), tmp_path, nothing)
    bounds = svg_bounds((tmp_path / "jig.svg").read_bytes(), SIZE[1])
    assert bounds["op-mark", "frame-level"][0::2] == pytest.approx((0.5, 429.5))
    assert bounds["op-mark", "frame-upright"][1::2] == pytest.approx((0.5, 329.5))
    low = bounds["op-mark", "frame-level"][1]
    assert low == pytest.approx(148.5 + 1.03 * (PAGE.frame_mm[1] - 148.5), abs=0.001)

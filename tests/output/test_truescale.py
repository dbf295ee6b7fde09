"""A printer that is off: the print as it would come out, laid over the cut files."""

from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.output import cutfiles, jig
from namebatch.output.cutsvg import cut_svg
from namebatch.output.printpdf import print_pdf
from namebatch.output.truescale import (
    about_middle,
    cut_scale,
    page_scale,
    scaled_cuts,
)
from namebatch.output.worksteps import bar_lengths
from namebatch.template.workshop import Corrected, Printer
from tests.output import jobs
from tests.output.pdfreader import Bounds, Window
from tests.output.readers import svg_bounds

SCALE = (1.002, 0.997)
JOB = jobs.faced_job()
SIZE = JOB.sheets[0].size_mm


def quiet(done: int, total: int) -> None:
    """Progress that nobody looks at."""


def with_printer(correct: Corrected, scale: tuple[float, float] = SCALE) -> Job:
    """The tags' job on a printer that is off."""
    printer = replace(JOB.workshop.printer, scale=scale, correct=correct)
    return replace(JOB, workshop=replace(JOB.workshop, printer=printer))


def printed_bounds(pdf: bytes, room: Bounds, threshold: int = 250) -> Bounds:
    """Bounds of the ink in a part of the print as it comes out of the printer.

    The printer stretches the page about its middle; where on the paper that middle lands, the
    frame tells, and here it is where it should be.
    """

    def there(bounds: Bounds, scale: tuple[float, float]) -> Bounds:
        x, y = (side / 2 for side in SIZE)
        x0, y0, x1, y1 = bounds
        return (
            x + (x0 - x) * scale[0],
            y + (y0 - y) * scale[1],
            x + (x1 - x) * scale[0],
            y + (y1 - y) * scale[1],
        )

    on_page = there(room, (1 / SCALE[0], 1 / SCALE[1]))
    return there(Window(pdf, on_page, 1200).ink_bounds(threshold), SCALE)


@pytest.mark.parametrize("correct", ["cut", "print"])
@pytest.mark.parametrize("piece", ["L2-1", "L2-2", "L5-1"])
def test_the_stretched_print_is_cut_where_it_is(
    correct: Corrected, piece: str, tmp_path: Path
) -> None:
    """Whichever gives way, print and cut agree to 0.05 mm on a printer off by 0.2 and −0.3 %."""
    job = with_printer(correct)
    cutfiles.write(job, tmp_path, quiet)
    cut = svg_bounds((tmp_path / "cut" / "face-001.svg").read_bytes(), SIZE[1])
    x0, y0, x1, y1 = cut["op-outer", f"{piece}.front"]
    grow = jobs.BLEED_MM - jobs.KERF_MM / 2
    expected = (x0 - grow, y0 - grow, x1 + grow, y1 + grow)
    room = (expected[0] - 0.4, expected[1] - 0.4, expected[2] + 0.4, expected[3] + 0.4)
    assert printed_bounds(print_pdf(job, quiet), room) == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize("correct", ["cut", "print"])
def test_the_jig_marks_the_frame_as_it_is_printed(correct: Corrected, tmp_path: Path) -> None:
    """The middle of each side of the stretched frame is within 0.05 mm of the marked line."""
    job = with_printer(correct)
    jig.write(job, tmp_path, quiet)
    marked = svg_bounds((tmp_path / "jig.svg").read_bytes(), SIZE[1])["op-mark", "frame"]
    pdf = print_pdf(job, quiet)
    x0, y0, x1, y1 = marked
    sides = {
        "left": printed_bounds(pdf, (x0 - 1, 20, x0 + 1, 22), 128)[0::2],
        "right": printed_bounds(pdf, (x1 - 1, 20, x1 + 1, 22), 128)[0::2],
        "bottom": printed_bounds(pdf, (120, y0 - 1, 122, y0 + 1), 128)[1::2],
        "top": printed_bounds(pdf, (20, y1 - 1, 22, y1 + 1), 128)[1::2],
    }
    middles = [sum(edges) / 2 for edges in sides.values()]
    assert middles == pytest.approx([x0, x1, y0, y1], abs=0.05)


def test_without_the_correction_the_print_would_be_missed() -> None:
    """The nominal cut lines are 0.05 mm off and more: the tests above can fail."""
    job = with_printer("cut")
    nominal = svg_bounds(
        cut_svg(job.sheets[0].cuts, SIZE, jobs.COLOURS), SIZE[1]
    )["op-outer", "L5-1.front"]  # fmt: skip
    grow = jobs.BLEED_MM - jobs.KERF_MM / 2
    x0, y0, x1, y1 = nominal
    room = (x0 - grow - 0.4, y0 - grow - 0.4, x1 + grow + 0.4, y1 + grow + 0.4)
    found = printed_bounds(print_pdf(job, quiet), room)
    expected = (x0 - grow, y0 - grow, x1 + grow, y1 + grow)
    assert max(abs(a - b) for a, b in zip(found, expected, strict=True)) > 0.1


def test_boards_are_never_scaled(tmp_path: Path) -> None:
    """A board is not printed."""
    cutfiles.write(with_printer("cut"), tmp_path, quiet)
    board = JOB.sheets[1]
    there = (tmp_path / "cut" / "board-001.svg").read_bytes()
    assert there == cut_svg(board.cuts, board.size_mm, jobs.COLOURS)


def test_a_stretched_print_leaves_the_cut_files_as_they_are(tmp_path: Path) -> None:
    """With correct = "print" the cutter's files are those of a true printer."""
    cutfiles.write(with_printer("print"), tmp_path, quiet)
    face = JOB.sheets[0]
    there = (tmp_path / "cut" / "face-001.svg").read_bytes()
    assert there == cut_svg(face.cuts, face.size_mm, jobs.COLOURS)


@pytest.mark.parametrize("correct", ["cut", "print"])
def test_a_true_printer_changes_nothing(correct: Corrected) -> None:
    """The print is the same to the byte, and the lines are the very same."""
    job = with_printer(correct, (1.0, 1.0))
    assert print_pdf(job, quiet) == print_pdf(JOB, quiet)
    cuts = JOB.sheets[0].cuts
    assert scaled_cuts(cuts, SIZE, cut_scale(job.workshop.printer, "face")) == cuts


def test_the_middle_stays_and_lengths_are_scaled() -> None:
    """Scaled about the sheet's middle, by the printer's factors or by their inverse."""
    printer = Printer("p", "a5", (4, 4, 4, 4), SCALE, "print")
    assert cut_scale(printer, "face") == (1.0, 1.0)
    assert page_scale(printer) == pytest.approx((1 / 1.002, 1 / 0.997))
    a, b, c, d, e, f = about_middle((200.0, 100.0), SCALE)
    assert (a * 100 + c * 50 + e, b * 100 + d * 50 + f) == pytest.approx((100.0, 50.0))
    assert (e, d * 100 + f) == pytest.approx((-0.2, 99.85))


def test_the_bars_are_told_as_they_will_be_measured() -> None:
    """Where the cut follows, the rule must show the printer's own lengths; else the true ones."""
    assert bar_lengths(with_printer("cut")) == "100.2 mm across and 99.7 mm up"
    assert bar_lengths(with_printer("print")) == "100 mm across and up"

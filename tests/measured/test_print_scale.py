"""The printer's scale from measured bars, and the page they stand on."""

from pathlib import Path

import pypdfium2 as pdfium
import pytest

from namebatch.errors import MeasureError
from namebatch.measured.bars import print_form, print_test, print_test_pdf
from namebatch.measured.print_scale import read_print_scale
from namebatch.template.workshop import Printer
from tests.output.pdfreader import Window

PRINTER = Printer("Colour printer", "a4", (5.0, 5.0, 7.0, 5.0))
NOMINAL = (170.0, 250.0)


def read(tmp_path: Path, lines: str, head: str = "bar,mm\n") -> tuple[float, float]:
    """Both scales from the lines of a table."""
    path = tmp_path / "print-test.csv"
    path.write_text(head + lines, encoding="utf-8")
    x, y = read_print_scale(path, NOMINAL)
    return x.scale, y.scale


def test_scale_is_measured_over_nominal(tmp_path: Path) -> None:
    """170.34 of 170 mm and 249.25 of 250 mm."""
    assert read(tmp_path, "x,170.34\ny,249.25\n") == (1.002, 0.997)


def test_several_readings_are_averaged(tmp_path: Path) -> None:
    """One line a page and bar; the uncertainty shrinks with their agreement."""
    path = tmp_path / "t.csv"
    path.write_text("bar;mm\nx;170,2\nx;170,4\ny;249,2\ny;249,2\ny;249,2\n", encoding="utf-8")
    x, y = read_print_scale(path, NOMINAL)
    assert (x.scale, x.count) == (round(170.3 / 170, 5), 2)
    assert x.uncertainty == pytest.approx((0.1**2 / 3 + 0.1**2) ** 0.5 / 170)
    assert y.uncertainty == pytest.approx(0.1 / 3**0.5 / 250)


def test_the_form_tells_how_long_the_bars_were(tmp_path: Path) -> None:
    """A page of another size than the workshop file's is read by its own lengths."""
    head = "bar,nominal_mm,mm\n"
    assert read(tmp_path, "x,100,100.1\ny,150,149.7\n", head) == (1.001, 0.998)


def test_the_form_has_lines_for_three_pages() -> None:
    """To be filled in as far as somebody measured."""
    lines = print_form(print_test(PRINTER)).decode().splitlines()
    assert lines == ["bar,nominal_mm,mm", *["x,170,"] * 3, *["y,250,"] * 3]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("x,170\n", "has no length of the bar y"),
        ("x,170\ny,250\nz,3\n", "cannot be used yet"),
        ("x,164\ny,250\n", r"Line 2: the bar x of 170 mm was measured 164 mm long, 96\.5 %"),
        ("x,170\nx,171.6\ny,250\n", "bar x are more than 1.5 mm apart"),
    ],
)
def test_what_cannot_be_right_is_refused(tmp_path: Path, lines: str, words: str) -> None:
    """A bar missing or unknown, a page printed to fit, a slip."""
    with pytest.raises(MeasureError, match=words):
        read(tmp_path, lines)


def test_a_bar_without_length_is_refused(tmp_path: Path) -> None:
    """A form that was tampered with is no reason to divide by nothing."""
    with pytest.raises(MeasureError, match="cannot be 0 mm long"):
        read(tmp_path, "x,0,100\ny,150,150\n", "bar,nominal_mm,mm\n")


@pytest.mark.parametrize("sheet", ["a4", "a5", "a3", "letter", "100x90"])
def test_the_bars_are_as_long_as_they_say(sheet: str) -> None:
    """From middle to middle of the end ticks, as PDFium draws them; 0.05 mm."""
    printer = Printer("Colour printer", sheet, (5.0, 5.0, 7.0, 5.0))
    test = print_test(printer)
    pdf = print_test_pdf(test, printer)
    document = pdfium.PdfDocument(pdf)
    assert len(document) == 1
    size = document[0].get_size()
    assert size == pytest.approx(tuple(side * 72 / 25.4 for side in test.size_mm), abs=0.001)
    (long, (x, y)), (tall, (u, v)) = test.x, test.y
    # the lower half of a level bar's ticks, the left half of an upright one's: no words there
    left, _, right, _ = Window(pdf, (x - 1, y - 3.5, x + long + 1, y - 1), 1200).ink_bounds(128)
    _, low, _, high = Window(pdf, (u - 3.5, v - 1, u - 1, v + tall + 1), 1200).ink_bounds(128)
    assert right - left - 0.15 == pytest.approx(long, abs=0.05)
    assert high - low - 0.15 == pytest.approx(tall, abs=0.05)


def test_a_known_scale_is_not_applied_to_the_test() -> None:
    """Measured again, the printer shows the same error as before."""
    known = Printer("Colour printer", "a4", (5.0, 5.0, 7.0, 5.0), (1.01, 0.99), "print")
    assert print_test_pdf(print_test(known), known) == print_test_pdf(print_test(PRINTER), PRINTER)


def test_a_sheet_too_small_is_refused() -> None:
    """A bar of a few millimetres tells nothing."""
    with pytest.raises(MeasureError, match="60 × 60 mm is too small"):
        print_test(Printer("Label printer", "60x60", (2.0, 2.0, 2.0, 2.0)))

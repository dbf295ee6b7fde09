"""The printer's test page: two long bars of known length, and how to measure them."""

from dataclasses import dataclass
from io import BytesIO
from typing import Any, Final

from reportlab.pdfgen.canvas import Canvas

from namebatch import __version__
from namebatch.errors import MeasureError
from namebatch.output.lettering import MM, draw_text, text_width, wrap
from namebatch.template import sheet_size
from namebatch.template.workshop import Printer

PDF: Final = "print-test.pdf"
FORM: Final = "print-test.csv"
LINES: Final = 3
"""Lines of the form for each bar: as many prints as are worth while."""

_EDGE_MM: Final = 10.0
_ASIDE_MM: Final = 20.0
_STEP_MM: Final = 10.0
_LEAST_MM: Final = 40.0
_LINE_MM: Final = 0.15
_TICK_MM: Final = 8.0
_STEPS: Final = (
    "Print this page at 100 % or “actual size”, never “fit to page”, on the paper and with the "
    "settings that jobs are printed with. Three pages are better than one.",
    "Let the pages lie until they have the moisture of the room.",
    "Lay a steel rule along each bar and read its length from the middle of one end tick to the "
    "middle of the other, to a tenth of a millimetre as well as you can.",
    f"Write what you read into {FORM}, column mm, one line a page and bar. Then, with the name of "
    f"your workshop file: namebatch calibrate print --measured {FORM} --workshop FILE. Or type it "
    "in under Workshop in the browser (namebatch serve).",
    "A bar more than 3 % off was scaled by a setting: find that first.",
)


@dataclass(frozen=True, slots=True)
class PrintTest:
    """A page and the bars on it.

    Attributes:
        size_mm: of the page.
        x: length of the level bar, and where it starts.
        y: length of the upright bar, and where it starts.
    """

    size_mm: tuple[float, float]
    x: tuple[float, tuple[float, float]]
    y: tuple[float, tuple[float, float]]

    @property
    def lengths_mm(self) -> tuple[float, float]:
        """As drawn."""
        return self.x[0], self.y[0]


def print_test(printer: Printer) -> PrintTest:
    """The longest bars of full centimetres on the printer's own sheet, clear of each other.

    Raises:
        MeasureError: the sheet is too small to measure on.
    """
    width, height = sheet_size(printer.sheet)
    top, right, bottom, left = printer.margins_mm
    along = width - left - right - _EDGE_MM - _ASIDE_MM
    up = height - bottom - top - _EDGE_MM - _ASIDE_MM
    if min(along, up) < _LEAST_MM:
        raise MeasureError(
            f"A sheet of {width:g} × {height:g} mm is too small to measure the printer by. Name a "
            "larger sheet in the workshop file."
        )
    x = along // _STEP_MM * _STEP_MM
    y = up // _STEP_MM * _STEP_MM
    return PrintTest(
        (width, height),
        (x, (left + _ASIDE_MM, bottom + _EDGE_MM)),
        (y, (left + _EDGE_MM, bottom + _ASIDE_MM)),
    )


def print_test_pdf(test: PrintTest, printer: Printer) -> bytes:
    """The page as PDF, at its size and true: no scale that is known already is applied."""
    stream = BytesIO()
    width, height = (side * MM for side in test.size_mm)
    text_width("0", 1.0)  # registers the page face
    canvas = Canvas(
        stream,
        pagesize=(width, height),
        pageCompression=1,
        invariant=1,
        pdfVersion=(1, 6),  # the first that knows PrintScaling
        initialFontName="namebatch-page-400",
    )
    canvas.setTitle("Printer test")
    canvas.setAuthor("namebatch")
    canvas.setCreator(f"namebatch {__version__}")
    canvas.setProducer(f"namebatch {__version__}")
    canvas.setViewerPreference("PrintScaling", "None")
    _bar(canvas, test.x, "x", upright=False)
    _bar(canvas, test.y, "y", upright=True)
    _words(canvas, test, printer)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def print_form(test: PrintTest) -> bytes:
    """The table to fill in, as CSV."""
    lines = ["bar,nominal_mm,mm"]
    for bar, length in zip("xy", test.lengths_mm, strict=True):
        lines += [f"{bar},{length:g},"] * LINES
    return ("\r\n".join(lines) + "\r\n").encode()


def _bar(canvas: Any, bar: tuple[float, tuple[float, float]], name: str, *, upright: bool) -> None:
    """A fine line with ticks across its ends, and its length above its middle."""
    length, (x, y) = bar
    canvas.saveState()
    canvas.translate(x * MM, y * MM)
    if upright:
        canvas.rotate(90)
    canvas.setLineWidth(_LINE_MM * MM)
    canvas.line(0, 0, length * MM, 0)
    for at in (0.0, length):
        canvas.line(at * MM, -_TICK_MM / 2 * MM, at * MM, _TICK_MM / 2 * MM)
    label = f"{name}: {length:g} mm"
    middle = (length * MM - text_width(label, 10, 700)) / 2
    # the upright bar's words stand to its right, inside the two bars
    draw_text(canvas, middle, (-5.5 if upright else 2.0) * MM, label, 10, 700)
    canvas.restoreState()


def _words(canvas: Any, test: PrintTest, printer: Printer) -> None:
    """Title and steps between the bars, in the largest size that has room."""
    left = (test.y[1][0] + 12) * MM
    right = (test.x[1][0] + test.x[0]) * MM
    top = (test.y[1][1] + test.y[0]) * MM
    bottom = (test.x[1][1] + 10) * MM
    for size in (11.0, 9.0, 7.5, 6.0, 5.0):
        title = wrap(f"Printer test · {printer.name}", size * 1.8, 700, right - left, most=2)
        steps = [wrap(step, size, 400, right - left - 2 * size) for step in _STEPS]
        lines = sum(map(len, steps))
        high = len(title) * size * 2.3 + lines * size * 1.4 + len(steps) * size * 0.7
        if high <= top - bottom:
            break
    else:
        return
    y = top - size * 1.8
    for line in title:
        draw_text(canvas, left, y, line, size * 1.8, 700)
        y -= size * 2.3
    for number, step in enumerate(steps, start=1):
        draw_text(canvas, left, y, str(number), size, 700)
        for line in step:
            draw_text(canvas, left + 2 * size, y, line, size)
            y -= size * 1.4
        y -= size * 0.7

"""Gradients in a PDF: one shading for two colours, laid along any axis by the matrix.

Axial shading (type 2) over an exponential function with N = 1, which is a straight mixture:
ISO 32000-1, 8.7.4.5.3 and 7.10.3. It is painted with ``sh`` inside the ink as a clip and not as a
pattern, because a pattern's axis would stay with the page while the piece is turned on it.
"""

from typing import Any

from reportlab.pdfbase.pdfdoc import (
    PDFArrayCompact,
    PDFAxialShading,
    PDFExponentialFunction,
    PDFResourceDictionary,
)

from namebatch.output.coats import Blend
from namebatch.output.numbers import rgb

_BEYOND = PDFArrayCompact(("true", "true"))
"""The end colours go on beyond the ends of the axis."""
_FAR = 1000
"""The form reaches so many lengths of the gradient to every side; the clip is what bounds it."""


def fill_blend(canvas: Any, operators: str, blend: Blend) -> None:
    """Fill a path with a gradient, by the even-odd rule.

    Args:
        canvas: a reportlab canvas in mm; its state is left as it was.
        operators: the path.
        blend: colours and axis in the canvas's present coordinates.
    """
    (x0, y0), (x1, y1) = blend.start_mm, blend.end_mm
    dx, dy = x1 - x0, y1 - y0
    canvas.saveState()
    canvas.addLiteral(operators)
    canvas.addLiteral("W* n")
    canvas.transform(dx, dy, -dy, dx, x0, y0)  # the form's x runs from 0 at start to 1 at end
    canvas.doForm(_form(canvas, blend.start, blend.end))
    canvas.restoreState()


def _form(canvas: Any, start: str, end: str) -> str:
    """The form that holds the shading of two colours, made on first use; its name."""
    name = f"blend-{start[1:]}-{end[1:]}"
    if not canvas.hasForm(name):
        mix = PDFExponentialFunction(_unit(start), _unit(end), 1)
        shading = PDFAxialShading(0, 0, 1, 0, Function=mix, ColorSpace="DeviceRGB", Extend=_BEYOND)
        canvas.beginForm(name, -_FAR, -_FAR, _FAR, _FAR)
        canvas.addLiteral("/blend sh")
        # given by hand: the library leaves shadings out of a form's own resources
        canvas.endForm(Resources=PDFResourceDictionary(Shading={"blend": shading}))
    return name


def _unit(colour: str) -> tuple[float, float, float]:
    red, green, blue = (round(value / 255, 4) for value in rgb(colour))
    return red, green, blue

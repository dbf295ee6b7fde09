"""A printer whose page lies the other way round than in the workshop file."""

from dataclasses import replace

from namebatch.template.paper import sheet_size
from namebatch.template.workshop import Printer


def printer_for(printer: Printer, size_mm: tuple[float, float]) -> Printer:
    """The printer as a page of this size sees it.

    Margins and scale in the workshop file are those of the printer's own sheet. A page that lies
    the other way round goes through the printer as ever, and only the drawing on it is turned:
    x and y of the scale change places. To the left or to the right, that differs from printer to
    printer, so of two margins that may lie on a side the larger counts.

    Args:
        printer: of the workshop file, or what this gave for the same page.
        size_mm: width and height of the page.
    """
    width, height = sheet_size(printer.sheet)
    if (width - height) * (size_mm[0] - size_mm[1]) >= 0:
        return printer
    top, right, bottom, left = printer.margins_mm
    level, upright = max(right, left), max(top, bottom)
    return replace(
        printer,
        sheet=f"{height:g}x{width:g}",
        margins_mm=(level, upright, level, upright),
        scale=printer.scale[::-1],
        is_turned=True,
    )

"""A printer that prints a little too large or too small, and what gives way to it.

Sheets, placements and everything that is reckoned stay in the sheet's own coordinates. What the
printer does with a page is known from a ruler: lengths in x and y times `Printer.scale`. Either
the cut lines of printed sheets and the jig are drawn to that scale, so that the cut follows the
print, or the page is drawn to its inverse, so that the print comes out true and the cut stays as
it is. Both are scaled about the sheet's middle, which moves no line off the page where a corner
would move the far side by the whole error.
"""

from collections.abc import Sequence
from dataclasses import replace

from namebatch.curves import Affine
from namebatch.registration import moved
from namebatch.sheet.model import CutPath
from namebatch.template.workshop import Printer

TRUE = (1.0, 1.0)


def cut_scale(printer: Printer, kind: str) -> tuple[float, float]:
    """Scale of the cut lines of a sheet of a kind, ``face`` or ``board``."""
    return printer.scale if kind == "face" and printer.correct == "cut" else TRUE


def page_scale(printer: Printer) -> tuple[float, float]:
    """Scale of the drawing on the pages of ``print.pdf``."""
    if printer.correct == "cut":
        return TRUE
    return 1 / printer.scale[0], 1 / printer.scale[1]


def about_middle(size_mm: tuple[float, float], scale: tuple[float, float]) -> Affine:
    """The map that scales a sheet about its middle."""
    (width, height), (x, y) = size_mm, scale
    return x, 0.0, 0.0, y, width / 2 * (1 - x), height / 2 * (1 - y)


def scaled_cuts(
    cuts: Sequence[CutPath], size_mm: tuple[float, float], scale: tuple[float, float]
) -> tuple[CutPath, ...]:
    """Cut lines scaled about the sheet's middle; the very same ones at a scale of 1.

    The kerf that the lines carry is scaled too: 0.2 mm by 0.5 % is 0.001 mm.
    """
    if scale == TRUE:
        return tuple(cuts)
    return moved_cuts(cuts, about_middle(size_mm, scale))


def moved_cuts(cuts: Sequence[CutPath], affine: Affine) -> tuple[CutPath, ...]:
    """Cut lines through a map that does not mirror, points on the grid of the cut files."""
    result = []
    for cut in cuts:
        points, bulges = moved(cut.points, cut.bulges, affine)
        grid = tuple((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in points)
        result.append(replace(cut, points=grid, bulges=bulges))
    return tuple(result)

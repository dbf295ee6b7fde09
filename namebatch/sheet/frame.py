"""What stands on a page besides the pieces: frame, scale bars, the area left for cutting. mm."""

from dataclasses import dataclass

from namebatch.errors import SheetError
from namebatch.sheet.model import Rect, ScaleBar
from namebatch.template.workshop import Material

FRAME_INSET_MM = 0.5
"""From the printer's margin to the frame, so that its line is printed at full width."""
BAND_MM = 5.0
"""Strip inside the frame, left and below, for scale bars and sheet id."""
BAR_INSET_MM = 2.5
BAR_LENGTHS_MM = (100.0, 50.0, 20.0, 10.0)
CLEAR_MM = 2.0
"""Least distance from the frame to a cut line on the sides without a band."""
LEAST_USABLE_MM = 10.0


@dataclass(frozen=True, slots=True)
class Page:
    """A page or board before anything lies on it.

    Attributes:
        size_mm: width and height.
        frame_mm: registration rectangle; a board's own edge.
        usable_mm: where cut lines may lie.
        scale_bars: on printed pages.
    """

    size_mm: tuple[float, float]
    frame_mm: Rect
    usable_mm: Rect
    scale_bars: tuple[ScaleBar, ...] = ()


def printed_page(
    size_mm: tuple[float, float],
    margins_mm: tuple[float, float, float, float],
    bleed_mm: float,
    turned_over: bool = False,
) -> Page:
    """Lay out a page that is printed and cut.

    Args:
        size_mm: of the paper.
        margins_mm: what the printer cannot print: top, right, bottom, left.
        bleed_mm: print outside of the cut lines, kept clear of bars and frame.
        turned_over: a second page is stuck to its back, so the frame stands in the middle of the
            width: turned over left to right, it falls onto itself.

    Raises:
        SheetError: nothing is left to cut from.
    """
    width, height = size_mm
    top, right, bottom, left = margins_mm
    if turned_over:
        right = left = max(right, left)
    x0, y0 = left + FRAME_INSET_MM, bottom + FRAME_INSET_MM
    x1, y1 = width - right - FRAME_INSET_MM, height - top - FRAME_INSET_MM
    clear = max(CLEAR_MM, bleed_mm + 0.5)
    band = BAND_MM + bleed_mm
    usable = _rect(x0 + band, y0 + band, x1 - clear, y1 - clear)
    _check(usable, size_mm)
    bars = (
        _bar((x0 + BAND_MM, y0 + BAR_INSET_MM), (1.0, 0.0), x1 - x0 - 2 * BAND_MM),
        _bar((x0 + BAR_INSET_MM, y0 + BAND_MM), (0.0, 1.0), y1 - y0 - 2 * BAND_MM),
    )
    return Page(size_mm, _rect(x0, y0, x1, y1), usable, bars)


def board_page(size_mm: tuple[float, float], material: Material) -> Page:
    """Lay out a board that is only cut; its edge is its frame.

    Raises:
        SheetError: nothing is left to cut from.
    """
    width, height = size_mm
    edge = material.edge_mm
    usable = _rect(edge, edge, width - edge, height - edge)
    _check(usable, size_mm)
    return Page(size_mm, (0.0, 0.0, width, height), usable)


def _bar(start: tuple[float, float], along: tuple[float, float], room_mm: float) -> ScaleBar:
    """The longest bar of a round length that has room."""
    length = next((bar for bar in BAR_LENGTHS_MM if bar <= room_mm), BAR_LENGTHS_MM[-1])
    end = (round(start[0] + along[0] * length, 4), round(start[1] + along[1] * length, 4))
    return ScaleBar((round(start[0], 4), round(start[1], 4)), end, length)


def _rect(x0: float, y0: float, x1: float, y1: float) -> Rect:
    return round(x0, 4), round(y0, 4), round(x1 - x0, 4), round(y1 - y0, 4)


def _check(usable: Rect, size_mm: tuple[float, float]) -> None:
    if min(usable[2], usable[3]) < LEAST_USABLE_MM:
        raise SheetError(
            f"A sheet of {size_mm[0]:g} × {size_mm[1]:g} mm leaves no room to cut from after "
            "its margins and frame. Take a larger sheet or correct the margins in the "
            "workshop file."
        )

"""The jig: a sheet on the cutter's bed with the frame marked and two corners cut out. mm."""

from namebatch.sheet.frame import Page
from namebatch.sheet.model import CutPath, Jig, Rect

WINDOW_MM = 30.0
"""How far a window reaches inwards from the frame's corner."""
BEYOND_MM = 2.0
"""How far it reaches outwards, so that the printed corner is seen whole."""


def jig_of(page: Page) -> Jig:
    """The jig for all printed sheets of one size.

    The frame is marked, then two windows are cut over its bottom left and top right corners.
    A print is slid under the sheet until its own frame continues the marked lines at the
    edges of both windows.
    """
    x, y, width, height = page.frame_mm
    reach = min(WINDOW_MM, width / 3, height / 3)
    beyond_left = min(BEYOND_MM, x / 2)
    beyond_bottom = min(BEYOND_MM, y / 2)
    beyond_right = min(BEYOND_MM, (page.size_mm[0] - x - width) / 2)
    beyond_top = min(BEYOND_MM, (page.size_mm[1] - y - height) / 2)
    low = (x - beyond_left, y - beyond_bottom, reach + beyond_left, reach + beyond_bottom)
    high = (
        x + width - reach,
        y + height - reach,
        reach + beyond_right,
        reach + beyond_top,
    )
    cuts = (
        CutPath("mark", "frame", _corners(page.frame_mm)),
        CutPath("window", "corner-1", _corners(low)),
        CutPath("window", "corner-2", _corners(high)),
    )
    return Jig(page.size_mm, page.frame_mm, cuts)


def _corners(rect: Rect) -> tuple[tuple[float, float], ...]:
    x, y, width, height = rect
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return tuple((round(px, 4), round(py, 4)) for px, py in corners)

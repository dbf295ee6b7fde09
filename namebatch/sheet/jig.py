"""The jig: a sheet on the cutter's bed with the frame marked and two corners cut out. mm."""

from namebatch.errors import SheetError
from namebatch.sheet.bed import Size, way_round
from namebatch.sheet.frame import Page
from namebatch.sheet.model import CutPath, Jig, Rect

WINDOW_MM = 30.0
"""How far a window reaches inwards from the frame's corner."""
BEYOND_MM = 2.0
"""How far it reaches outwards, so that the printed corner is seen whole."""
LEAST_BEYOND_MM = 0.8
"""At the least: the printed line is 0.2 mm wide."""
WEB_MM = 3.0
"""Strip that is left beside a window wherever there is room (common practice, no source)."""
FLAP_MM = 30.0
"""How far a jig reaches past what lies under it: there it is fixed to the bed."""
LEAST_FLAP_MM = 10.0
ARM_END_MM = 2.0
"""The marked lines of a larger jig end so far from its edges."""


def jig_size(page_mm: Size, board_mm: Size | None, jig_mm: Size | None, bed_mm: Size) -> Size:
    """How large the sheet for a jig is, lying as the page does.

    Args:
        page_mm: the printed page.
        board_mm: what the page is mounted on before it is cut; None for the page alone.
        jig_mm: what the workshop makes jigs of; None for one as large as the page or, with a
            board, so much larger than the board that it can be fixed to the bed beside it.
        bed_mm: of the cutter.

    Raises:
        SheetError: the page does not lie on the board, or the workshop's sheet does not cover it.
    """
    if jig_mm is not None:
        size = way_round(jig_mm, page_mm, bed_mm)
        if size is None:
            raise SheetError(
                f"The jig sheet of {jig_mm[0]:g} × {jig_mm[1]:g} mm does not cover a page of "
                f"{page_mm[0]:g} × {page_mm[1]:g} mm on this bed. Take another one (jig under "
                "[cutter] in the workshop file) or a smaller page."
            )
        return size
    if board_mm is None:
        return page_mm
    board = lying_board(board_mm, page_mm, bed_mm)
    return min(bed_mm[0], board[0] + FLAP_MM), min(bed_mm[1], board[1] + FLAP_MM)


def lying_board(board_mm: Size, page_mm: Size, bed_mm: Size) -> Size:
    """A board as it lies on the bed under the page that is mounted on it.

    Raises:
        SheetError: the page does not lie on it, or it does not lie on the bed.
    """
    board = way_round(board_mm, page_mm, bed_mm)
    if board is None:
        raise SheetError(
            f"A page of {page_mm[0]:g} × {page_mm[1]:g} mm is to be mounted on a sheet of "
            f"{board_mm[0]:g} × {board_mm[1]:g} mm, which is smaller or does not lie on the bed of "
            f"{bed_mm[0]:g} × {bed_mm[1]:g} mm. Take a smaller page (--sheet) or another size of "
            "the material (sheet_mm in the workshop file)."
        )
    return board


def flap_mm(jig_mm: Size, board_mm: Size) -> float:
    """How far a jig reaches past a board on the side where it does so most; not below 0."""
    return max(0.0, jig_mm[0] - board_mm[0], jig_mm[1] - board_mm[1])


def jig_of(page: Page, size_mm: Size | None = None) -> Jig:
    """The jig for all printed sheets of one size.

    The frame is marked, then two windows are cut over its bottom left and top right corners.
    A print is slid under the sheet until its own frame continues the marked lines at the
    edges of both windows. On a jig that is larger than the page the marked lines run on to its
    edges, so that they can be read beyond the edge of whatever the print is mounted on.

    Args:
        page: the printed page; its bottom left corner is the jig's.
        size_mm: of the jig (`jig_size`); None for the page's.
    """
    size = size_mm or page.size_mm
    x, y, width, height = page.frame_mm
    right, top = size[0] - x - width, size[1] - y - height
    reach = min(WINDOW_MM, width / 3, height / 3)
    low_x, low_y, high_x, high_y = (_beyond(inset) for inset in (x, y, right, top))
    low = (x - low_x, y - low_y, reach + low_x, reach + low_y)
    high = (x + width - reach, y + height - reach, reach + high_x, reach + high_y)
    web = min(x - low_x, y - low_y, right - high_x, top - high_y)
    cuts = (
        *_marks(page.frame_mm, size, page.size_mm),
        CutPath("window", "corner-1", _corners(low)),
        CutPath("window", "corner-2", _corners(high)),
    )
    return Jig(size, page.frame_mm, cuts, page.size_mm, round(web, 4))


def _beyond(inset: float) -> float:
    """How far a window reaches out over the frame, whose line lies so far from the edge."""
    return min(BEYOND_MM, max(LEAST_BEYOND_MM, inset - WEB_MM), inset / 2)


def _marks(frame: Rect, size: Size, page: Size) -> tuple[CutPath, ...]:
    """The frame; on a larger sheet as two bands that run across all of it.

    Where the bands cross is the frame: each of its lines is marked once.
    """
    if size == page:
        return (CutPath("mark", "frame", _corners(frame)),)
    x, y, width, height = frame
    left, low = min(ARM_END_MM, x / 2), min(ARM_END_MM, y / 2)
    level = (left, y, size[0] - ARM_END_MM - left, height)
    upright = (x, low, width, size[1] - ARM_END_MM - low)
    return (
        CutPath("mark", "frame-level", _corners(level)),
        CutPath("mark", "frame-upright", _corners(upright)),
    )


def _corners(rect: Rect) -> tuple[tuple[float, float], ...]:
    x, y, width, height = rect
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return tuple((round(px, 4), round(py, 4)) for px, py in corners)

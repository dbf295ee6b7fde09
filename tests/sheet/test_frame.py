"""Frame, scale bars and usable area."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.errors import SheetError
from namebatch.sheet import printed_page
from namebatch.sheet.model import Rect

MARGINS = (5.0, 5.0, 7.0, 5.0)


def _inside(inner: Rect, outer: Rect, by: float = 0.0) -> bool:
    return (
        inner[0] >= outer[0] + by - 1e-6
        and inner[1] >= outer[1] + by - 1e-6
        and inner[0] + inner[2] <= outer[0] + outer[2] - by + 1e-6
        and inner[1] + inner[3] <= outer[1] + outer[3] - by + 1e-6
    )


@given(st.floats(100, 900), st.floats(100, 900), st.floats(0, 5))
def test_each_lies_in_the_next(width: float, height: float, bleed: float) -> None:
    """Usable area in frame, frame in what can be printed, room for the bleed on all sides."""
    page = printed_page((width, height), MARGINS, bleed)
    assert _inside(page.usable_mm, page.frame_mm, bleed + 0.4)
    assert _inside(page.frame_mm, (5, 7, width - 10, height - 12), 0.1)


@pytest.mark.parametrize(
    ("size", "length"), [((210, 297), 100), ((148, 210), 100), ((100, 100), 50)]
)
def test_scale_bars(size: tuple[float, float], length: float) -> None:
    """Bars of 100 mm in x and y wherever the page has room, of a round length elsewhere.

    They lie in the frame's band, clear of the usable area.
    """
    page = printed_page(size, MARGINS, 1.5)
    along_x, along_y = page.scale_bars
    assert along_x.end[0] - along_x.start[0] == pytest.approx(length)
    assert along_x.end[1] == along_x.start[1]
    assert along_y.end[1] - along_y.start[1] == pytest.approx(length)
    assert along_y.end[0] == along_y.start[0]
    assert along_x.start[1] + 0.75 + 1.5 <= page.usable_mm[1]
    assert along_y.start[0] + 0.75 + 1.5 <= page.usable_mm[0]
    assert along_x.start[1] - 0.75 > page.frame_mm[1]


def test_sheet_without_room_is_refused() -> None:
    """Margins that leave nothing are said with the size."""
    with pytest.raises(SheetError, match="30 × 20 mm leaves no room"):
        printed_page((30, 20), MARGINS, 1.5)

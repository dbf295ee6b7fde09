"""What is printed around the pieces: frame, scale bars, and which sheet this is.

All in mm from the sheet's bottom left corner; everything but the frame stands in the band
between the frame and the usable area, outside of what the bleed may reach.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from namebatch.output.lettering import draw_text, shorten, text_width
from namebatch.sheet.model import Rect, ScaleBar, Sheet

LINE_MM = 0.2
TICK_MM = 1.5
_TEXT_MM = 2.4  # em; about 1.6 mm capitals, readable at arm's length
_LEAST_TEXT_MM = 1.2
_GAP_MM = 1.2
# of the page face, as shares of the em: height of capitals, reach below the baseline and of
# the tallest signs above it
_CAPITAL, _BELOW, _ABOVE = 0.668, 0.24, 0.86


@dataclass(frozen=True, slots=True)
class _Slot:
    """A stretch of the band for one line of text.

    Attributes:
        x, y: where the line begins, in the middle of its capitals.
        room: how long it may be.
        size: height of the em.
        upright: it runs up the page instead of along it.
    """

    x: float
    y: float
    room: float
    size: float
    upright: bool


def draw_surround(
    canvas: Canvas, sheet: Sheet, bars: Sequence[ScaleBar], title: str, bleed_mm: float
) -> None:
    """Draw frame, scale bars with their length, sheet id and title.

    Args:
        canvas: scaled to mm, origin at the sheet's bottom left corner.
        sheet: the printed sheet.
        bars: lines of known length; the words follow behind them.
        title: of the job, beside the id or, where that is too narrow, behind another bar.
        bleed_mm: how far print may reach out of the usable area.
    """
    canvas.setStrokeColorRGB(0, 0, 0)
    canvas.setFillColorRGB(0, 0, 0)
    canvas.setLineWidth(LINE_MM)
    canvas.rect(*sheet.frame_mm, stroke=1, fill=0)
    x, y, width, height = sheet.usable_mm
    print_mm = (x - bleed_mm, y - bleed_mm, width + 2 * bleed_mm, height + 2 * bleed_mm)
    slots = [_draw_bar(canvas, sheet, bar, print_mm) for bar in bars]
    _draw_names(canvas, sheet.id, title, slots or [_low_slot(sheet, print_mm)])


def _draw_bar(canvas: Canvas, sheet: Sheet, bar: ScaleBar, print_mm: Rect) -> _Slot:
    """A bar with its end ticks and its length written behind it; the room that is left there.

    An upright bar is drawn as a level one on a canvas turned by a quarter.
    """
    (x0, y0), (x1, y1) = bar.start, bar.end
    upright = x0 == x1
    along, across = (1, 0) if upright else (0, 1)
    start, end = bar.start[along], bar.end[along]
    size = _text_size(sheet.frame_mm, print_mm, bar.start[across], across)
    canvas.saveState()
    canvas.translate(x0, y0)
    if upright:
        canvas.rotate(90)
    canvas.line(0, 0, end - start, 0)
    for at in (0.0, end - start):
        canvas.line(at, -TICK_MM / 2, at, TICK_MM / 2)
    canvas.restoreState()
    far = sheet.frame_mm[along] + sheet.frame_mm[along + 2] - _GAP_MM
    label = f"{bar.length_mm:g} mm"
    begin = _Slot(
        x1 + (0 if upright else _GAP_MM), y1 + (_GAP_MM if upright else 0), far - end, size, upright
    )
    _write(canvas, begin, label)
    used = text_width(label, size) + 2 * _GAP_MM
    room = far - end - _GAP_MM - used
    if upright:
        return _Slot(begin.x, begin.y + used, room, size, upright)
    return _Slot(begin.x + used, begin.y, room, size, upright)


def _low_slot(sheet: Sheet, print_mm: Rect) -> _Slot:
    """The band below the usable area, where no bar stands."""
    middle = (sheet.frame_mm[1] + print_mm[1]) / 2
    size = _text_size(sheet.frame_mm, print_mm, middle, 1)
    return _Slot(sheet.usable_mm[0], middle, sheet.usable_mm[2], size, upright=False)


def _draw_names(canvas: Canvas, sheet_id: str, title: str, slots: Sequence[_Slot]) -> None:
    """Id and title behind the first bar with room for both, else apart, else shortened."""
    both = f"{sheet_id} · {title}"
    longest = max(slots, key=lambda slot: slot.room)
    if text_width(both, slots[0].size) <= slots[0].room or longest is slots[0]:
        _write(canvas, slots[0], both)
    elif text_width(sheet_id, slots[0].size) <= slots[0].room:
        _write(canvas, slots[0], sheet_id)
        _write(canvas, longest, title)
    else:
        _write(canvas, longest, both)


def _write(canvas: Canvas, slot: _Slot, text: str) -> None:
    """One line, shortened to its slot."""
    line = shorten(text, slot.size, 400, slot.room)
    canvas.saveState()
    canvas.translate(slot.x, slot.y)
    if slot.upright:
        canvas.rotate(90)
    draw_text(canvas, 0, -_CAPITAL / 2 * slot.size, line, slot.size)
    canvas.restoreState()


def _text_size(frame_mm: Rect, print_mm: Rect, middle: float, axis: int) -> float:
    """The largest em, up to the usual one, that stays between frame and print.

    Args:
        frame_mm: registration rectangle.
        print_mm: what pieces and their bleed may cover.
        middle: where the middle of the capitals stands.
        axis: 0 for text along an upright side, 1 for text along a level one.
    """
    low, high = frame_mm[axis], frame_mm[axis] + frame_mm[axis + 2]
    near, far = print_mm[axis], print_mm[axis] + print_mm[axis + 2]
    edges = (low, near) if middle <= near else (far, high)
    room = min(middle - edges[0], edges[1] - middle) - LINE_MM
    reach = max(_CAPITAL / 2 + _BELOW, _ABOVE - _CAPITAL / 2)
    return max(_LEAST_TEXT_MM, min(_TEXT_MM, room / reach))

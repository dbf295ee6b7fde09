"""A picture for the wall of pieces, from the one that shows everything.

On the wall a thousand pieces stand beside each other and are looked at for what they are: the
dimension line and the plumb line are for whoever opens one.
"""

import re

from namebatch.output.picture import Bounds

_NOTES = re.compile(rb'<g class="(?:narrowest|hang)".*?</g>', re.DOTALL)
_SIZE = re.compile(rb'width="[^"]*" height="[^"]*" viewBox="[^"]*"')


def without_notes(svg: bytes, box_mm: Bounds, height_mm: float) -> bytes:
    """A preview without dimension line and plumb line, and without the room that they took.

    Args:
        svg: from `preview.picture_svg`.
        box_mm: what is left to see, x0, y0, x1, y1 from the lower left corner of the picture.
        height_mm: of the whole picture.
    """
    x0, y0, x1, y1 = box_mm
    left, top, width, height = (
        f"{value:.3f}".rstrip("0").rstrip(".") for value in (x0, height_mm - y1, x1 - x0, y1 - y0)
    )
    size = f'width="{width}mm" height="{height}mm" viewBox="{left} {top} {width} {height}"'
    return _NOTES.sub(b"", _SIZE.sub(size.encode(), svg, count=1))

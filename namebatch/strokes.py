"""Whether the letters of a text can be cut as they are drawn: stroke against material."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from shapely import Polygon

from namebatch.outline import narrowest_neck
from namebatch.text.face import Face
from namebatch.text.setting import ink_of, set_line

DRAWN_MM = 50.0
"""Height of capitals at which strokes are measured; the measure is good to 0.01 mm."""
WIDEST_MM = 100.0
ROUNDED_MM = 0.1


@dataclass(frozen=True, slots=True)
class Stroke:
    """The thinnest stroke of a text in a face.

    Attributes:
        ratio: its width over the height of capitals.
    """

    ratio: float

    def at(self, height_mm: float) -> float:
        """Its width in mm with capitals of that height."""
        return self.ratio * height_mm

    def least_height(self, width_mm: float) -> float:
        """The height of capitals, to the next 0.1 mm, from which it is no thinner than that.

        Infinite where strokes touch in a point only.
        """
        if self.ratio <= 0:
            return float("inf")
        return ceil(width_mm / self.ratio / ROUNDED_MM - 1e-9) * ROUNDED_MM


def thinnest_stroke(face: Face | Sequence[Face], text: str) -> Stroke | None:
    """Measure the thinnest stroke of a text, dots and accents included.

    Args:
        face: the typeface, or a chain.
        text: one line.

    Returns:
        None if the text leaves no ink. Shapes without a neck count by their least width.
    """
    line = set_line(face, text, DRAWN_MM)
    ink = ink_of(line, DRAWN_MM / line.face.cap_height, 0.0, 0.0)
    widths = [_least_width(part) for part in ink.geoms]
    return Stroke(min(widths) / DRAWN_MM) if widths else None


def _least_width(part: Polygon) -> float:
    """The narrowest neck of a part; of one that shrinks evenly, the width at which it is gone."""
    return narrowest_neck(part, WIDEST_MM).width_mm

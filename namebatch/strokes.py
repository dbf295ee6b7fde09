"""Whether the letters of a text can be cut as they are drawn: stroke against material."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from shapely import Point, Polygon

from namebatch.outline import narrowest_neck
from namebatch.text.chain import Stretch
from namebatch.text.face import Face
from namebatch.text.setting import Letter, ink_and_letters, set_line

DRAWN_MM = 50.0
"""Height of capitals at which strokes are measured; the measure is good to 0.01 mm."""
WIDEST_MM = 100.0
ROUNDED_MM = 0.1


@dataclass(frozen=True, slots=True)
class Stroke:
    """The thinnest stroke of a text in its faces.

    Attributes:
        ratio: its width over the height of capitals.
        letter: the letter with its marks, or the sign, that has it.
        face: what sets that letter.
        font: names of all faces that set the text, the leading one first.
    """

    ratio: float
    letter: str = ""
    face: str = ""
    font: str = ""

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
    """Measure the thinnest stroke of a text, dots and accents included, and say where it is.

    Args:
        face: the typeface, or a chain; where several are needed they are sized to each other
            as on a piece.
        text: one line.

    Returns:
        None if the text leaves no ink. Shapes without a neck count by their least width.
    """
    line = set_line(face, text, DRAWN_MM)
    ink, letters = ink_and_letters(line, DRAWN_MM / line.face.cap_height, 0.0, 0.0)
    found = [_least_width(part) for part in ink.geoms]
    if not found:
        return None
    width, at = min(found, key=lambda pair: pair[0])
    letter = min(letters, key=lambda letter: letter.shape.distance(at))
    return Stroke(
        width / DRAWN_MM, letter.text.strip(), _face_of(letter, line.stretches), line.font
    )


def _least_width(part: Polygon) -> tuple[float, Point]:
    """The narrowest neck of a part; of one that shrinks evenly, the width at which it is gone."""
    neck = narrowest_neck(part, WIDEST_MM)
    return neck.width_mm, Point(neck.at) if neck.at else part.representative_point()


def _face_of(letter: Letter, stretches: Sequence[Stretch]) -> str:
    inside = (s for s in stretches if s.item.start <= letter.index < s.item.end)
    return next(inside).face.name

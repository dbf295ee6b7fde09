"""Whether the letters of a text can be cut as they are drawn: stroke against material."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
import shapely
from shapely import Point, Polygon

from namebatch.outline.edged import edged
from namebatch.outline.tails import thin_tips
from namebatch.outline.thickness import narrowest
from namebatch.text.chain import Stretch
from namebatch.text.face import Face
from namebatch.text.setting import Letter, ink_and_letters, set_line

DRAWN_MM = 50.0
"""Height of capitals at which strokes are measured; the measure is good to 0.02 mm."""
WIDEST_MM = 100.0
ROUNDED_MM = 0.1
FLARE_MM = 0.3
"""Ends of serifs that flare by less are no parts that hang at a neck."""
FIRST_MM, STEP, NEAR_MM = 0.25, 1.12, 0.02
"""Free ends are looked for from that width at least, up in such steps, then to that nearness."""
ALONG = -0.87
"""Sides of a stroke run alike: cosine of the least angle between the contacts of a disc in it."""
REACH, END_MM = 1.0, 4.0
"""A free end counts if it stands out by more than so many of its widths, and by more than that.

So the last of a stroke that runs out to a point, less than 8 % of the height, does not count.
"""
CORNER = 0.8
"""What an opening takes from a corner, over the square of its width, is less than this.

For an angle a that is (cot(a/2) − (π − a)/2)/4, the kite less the sector of the disc: 0.8 at
25°. A stroke as long as it is wide gives 1.
"""
HAIR_MM = 0.1
QUARTER = 12


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
        None if the text leaves no ink. Strokes with a free end (the bar of a T, a leg of a V)
        count by the width at which an opening takes them away; corners and the points of
        serifs do not. Shapes without either count by their least width.
    """
    line = set_line(face, text, DRAWN_MM)
    ink, letters = ink_and_letters(line, DRAWN_MM / line.face.cap_height, 0.0, 0.0)
    found = [least_width(part) for part in ink.geoms]
    if not found:
        return None
    width, at = min(found, key=lambda pair: pair[0])
    letter = min(letters, key=lambda letter: letter.shape.distance(at))
    return Stroke(
        width / DRAWN_MM, letter.text.strip(), _face_of(letter, line.stretches), line.font
    )


def least_width(part: Polygon) -> tuple[float, Point]:
    """The narrowest neck or the thinnest stroke with a free end, whichever is thinner.

    Args:
        part: a letter or a part of one, in mm with capitals `DRAWN_MM` high.

    Returns:
        The width, and a point in the neck or at the free end. Of a part that shrinks evenly
        the width at which it is gone.
    """
    neck = narrowest(part, WIDEST_MM, WIDEST_MM, FLARE_MM)
    end = _thinnest_end(part, neck.width_mm)
    if end is not None:
        return end
    return neck.width_mm, Point(neck.at) if neck.at else part.representative_point()


def _thinnest_end(part: Polygon, below_mm: float) -> tuple[float, Point] | None:
    """The thinnest stroke with a free end: its width and its tip; None if none is below a width.

    That is the least width at which an opening takes more than a corner.
    """
    first = _thinnest_place(part, below_mm) if below_mm > FIRST_MM else None
    if first is None:
        return None
    width = min(max(FIRST_MM, first), below_mm)
    low = 0.9 * width  # nothing below `first` has sides that run alike
    while (at := _end_below(part, width)) is None:
        if width >= below_mm:
            return None
        low, width = width, min(STEP * width, below_mm)
    while width - low > NEAR_MM:
        middle = (low + width) / 2
        found = _end_below(part, middle)
        low, width, at = (middle, width, at) if found is None else (low, middle, found)
    return low, at


def _thinnest_place(part: Polygon, below_mm: float) -> float | None:
    """The least width between sides that run alike; None if none is below a width."""
    s = edged(part).survey(below_mm / 2)
    centre = np.column_stack([s.x + s.radius * s.nx, s.y + s.radius * s.ny])
    other = np.column_stack([s.ox, s.oy]) - centre
    facing = -(other[:, 0] * s.nx + other[:, 1] * s.ny) < ALONG * s.radius
    widths = 2 * s.radius[(s.opposite >= 0) & facing]
    return float(widths.min()) if widths.size else None


def _end_below(part: Polygon, width_mm: float) -> Point | None:
    """The tip of a stroke with a free end that is thinner than a width."""
    tips = thin_tips(part, width_mm, max(REACH * width_mm, END_MM))
    if not tips:
        return None
    core = shapely.buffer(part, -width_mm / 2, quad_segs=QUARTER)
    kept = shapely.buffer(core, width_mm / 2 + HAIR_MM, quad_segs=QUARTER)
    lost = [
        piece
        for piece in shapely.get_parts(shapely.difference(part, kept))
        if piece.area > CORNER * width_mm**2
    ]
    points = [Point(tip) for tip in tips]
    return next((tip for tip in points if any(piece.dwithin(tip, HAIR_MM) for piece in lost)), None)


def _face_of(letter: Letter, stretches: Sequence[Stretch]) -> str:
    inside = (s for s in stretches if s.item.start <= letter.index < s.item.end)
    return next(inside).face.name

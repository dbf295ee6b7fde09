"""Marks, the map that was found for them, and what a person wants to know of it. mm, degrees."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, degrees, hypot
from typing import Literal, TypeAlias

from namebatch.curves import Affine, Point

Model: TypeAlias = Literal["similarity", "two-scales", "affine"]
"""Turn, shift and one scale; a scale each for x and y; also skew."""

PARAMETERS: Mapping[Model, int] = {"similarity": 4, "two-scales": 5, "affine": 6}


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark on the sheet and where it was found.

    Attributes:
        name: ``bottom-left`` …
        sheet: where the cut file has it.
        read: one reading or several, in the cutter's coordinates.
    """

    name: str
    sheet: Point
    read: tuple[Point, ...]

    @property
    def measured(self) -> Point:
        """The mean of the readings."""
        count = len(self.read)
        return sum(x for x, _ in self.read) / count, sum(y for _, y in self.read) / count


@dataclass(frozen=True, slots=True)
class Ruler:
    """The printed frame as it was measured with a ruler.

    Attributes:
        frame_mm: width and height that it has on the sheet.
        read_mm: what was read.
    """

    frame_mm: Point
    read_mm: Point

    @property
    def scale(self) -> Point:
        """How much longer the print is in x and in y."""
        return self.read_mm[0] / self.frame_mm[0], self.read_mm[1] / self.frame_mm[1]


@dataclass(frozen=True, slots=True)
class Fit:
    """The map from the cut file onto the print as it lies.

    Attributes:
        model: which kind of map the marks asked for.
        affine: the map.
        residual_mm: mark → distance from where the map puts it to where it was measured.
        expected_mm: at readings good to 0.1 mm, the cut stays that close to the print in 19 of 20
            sheets, anywhere between the marks' outermost places; where the marks lie farther from
            their places than such readings do, at readings as good as they seem. Never less than
            the largest residual.
        ruled: a ruler told the scales, too.
    """

    model: Model
    affine: Affine
    residual_mm: Mapping[str, float]
    expected_mm: float
    ruled: bool = False

    @property
    def worst_mm(self) -> float:
        """The largest residual."""
        return max(self.residual_mm.values(), default=0.0)

    @property
    def scales(self) -> tuple[float, float]:
        """How much longer a line along x, and one along y, becomes."""
        return scales(self.affine)

    @property
    def rotation_deg(self) -> float:
        """How far the sheet's x direction is turned, counter-clockwise, −180 to 180."""
        return rotation_deg(self.affine)

    @property
    def skew_deg(self) -> float:
        """By how much the angle from x to y is less than a right one."""
        a, b, c, d, _, _ = self.affine
        return degrees(atan2(a * c + b * d, a * d - b * c)) + 0.0

    @property
    def shift_mm(self) -> Point:
        """Where the sheet's bottom left corner comes to lie."""
        return self.affine[4], self.affine[5]


def scales(affine: Affine) -> tuple[float, float]:
    """Lengths of the images of the unit vectors along x and y."""
    a, b, c, d, _, _ = affine
    return hypot(a, b), hypot(c, d)


def rotation_deg(affine: Affine) -> float:
    """Direction of the image of the x axis."""
    return degrees(atan2(affine[1], affine[0])) + 0.0

"""How a piece hangs, for its picture: a plumb line through its centre of mass. Lengths in mm."""

from dataclasses import dataclass
from math import hypot

import shapely
from shapely import LineString, Polygon

from namebatch.curves import Point as Place
from namebatch.outline import Hang

PLUMB_COLOUR = "#4a5a63"
LEVEL_DEG = 0.5
"""Nobody sees that a piece leans by less."""
RING = 0.24
DOT = 0.08
"""Radius of the centre's ring and of the dot in it, in units of the figures."""
BELOW = 0.7
"""So far the line reaches beyond the outline, in units of the figures."""
DASH = 0.4
GAP = 0.45
"""Its dashes and the gaps between them, in units of the figures."""


@dataclass(frozen=True, slots=True)
class Plumb:
    """The line that is upright when a piece hangs.

    Attributes:
        start: the point that the piece hangs from.
        end: beyond the outline, below it as the piece hangs.
        mass: its centre of mass, on the line.
        ring_mm: radius of the ring round the centre.
        dot_mm: radius of the dot in it.
        dashes_mm: a dash, and the gap after it.
        told: how it hangs, in words.
    """

    start: Place
    end: Place
    mass: Place
    ring_mm: float
    dot_mm: float
    dashes_mm: tuple[float, float]
    told: str

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1 of it all."""
        xs, ys = (axis for axis in zip(self.start, self.end, strict=True))
        (x, y), r = self.mass, self.ring_mm
        return (min(*xs, x - r), min(*ys, y - r), max(*xs, x + r), max(*ys, y + r))


def plumb_line(hang: Hang | None, outline: Polygon, unit_mm: float) -> Plumb | None:
    """The plumb line of a piece; None where it does not hang, or by its very centre of mass.

    Args:
        hang: how it hangs.
        outline: the piece as its front is seen.
        unit_mm: height of figures in the picture.
    """
    if hang is None:
        return None
    (x, y), mass = hang.support, hang.mass
    dx, dy = mass[0] - x, mass[1] - y
    length = hypot(dx, dy)
    if length < RING * unit_mm:
        return None
    dx, dy = dx / length, dy / length
    x0, y0, x1, y1 = outline.bounds
    far = hypot(x1 - x0, y1 - y0) + length
    way = shapely.intersection(outline, LineString([(x, y), (x + far * dx, y + far * dy)]))
    ends = shapely.get_coordinates(way)
    reach = max([length, *((ends[:, 0] - x) * dx + (ends[:, 1] - y) * dy).tolist()])
    reach += BELOW * unit_mm
    return Plumb(
        hang.support,
        (x + reach * dx, y + reach * dy),
        mass,
        RING * unit_mm,
        DOT * unit_mm,
        (DASH * unit_mm, GAP * unit_mm),
        told(hang),
    )


def told(hang: Hang) -> str:
    """How a piece hangs, for example ``leans 3.2° to the left``; as seen from the front."""
    if hang.tilt_deg < LEVEL_DEG:
        return "hangs level"
    return f"leans {hang.tilt_deg:.1f}° to the {'left' if hang.turn_deg > 0 else 'right'}"

"""The holes of a piece that something goes through: rings, cords, ribbons."""

from itertools import pairwise
from math import dist
from typing import Final

from shapely import Polygon, oriented_envelope

from namebatch.template.model import Template

DRAWN_MM: Final = (2.5, 8.0)
"""Width of a drawn hole that takes a ring or a cord; 3 to 5 mm are usual (common practice)."""
LONGEST: Final = 4.0
"""A slot for a ribbon is at most so many times as long as wide."""
FULLEST: Final = 0.7
"""Of its upright or turned rectangle a hole fills so much: discs 0.785, slots more; stars less."""


def ring_widths_mm(template: Template) -> tuple[float, ...]:
    """Least widths of all holes of a piece that are to take something, places found included.

    Of holes that are lines of the base's drawing, those count that are as large and as plain as
    a ring's; others are windows or pictures.
    """
    given = [_width(hole) for hole in template.holes]
    drawn = [_width(hole) for hole in _drawn(template) if _takes_ring(hole)]
    return (*given, *drawn, *(hole.width_mm for hole in template.found_holes))


def _drawn(template: Template) -> list[Polygon]:
    """The holes of the base that the template does not list."""
    rings = [Polygon(ring) for ring in template.base.interiors]
    return [
        ring
        for ring in rings
        if not any(ring.intersects(hole.representative_point()) for hole in template.holes)
    ]


def _takes_ring(hole: Polygon) -> bool:
    least, most = sorted(_sides(hole))
    if not DRAWN_MM[0] <= least <= DRAWN_MM[1] or most > LONGEST * least:
        return False
    return bool(hole.area >= FULLEST * least * most)


def _width(hole: Polygon) -> float:
    return round(min(_sides(hole)), 1)


def _sides(hole: Polygon) -> tuple[float, float]:
    corners = list(oriented_envelope(hole).exterior.coords)
    one, other = [dist(a, b) for a, b in pairwise(corners[:3])]
    return one, other

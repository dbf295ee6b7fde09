"""Text boxes that overlap, so that two texts may be set over each other. Lengths in mm.

An overlap is told once, with the template, where both texts are seen and stand on one face. Two
kinds are meant and are not told: with a text that is optional (two places for one thing, of which
one is filled: what really runs into each other is told of the piece), and of letters that are
welded without a print of their own, whose inside is not seen.
"""

from collections.abc import Sequence
from itertools import combinations
from typing import Final

import shapely
from shapely import Polygon

from namebatch.finding import Finding, warn
from namebatch.template.regions import region_of
from namebatch.template.textbox import TextBox

LEAST_MM: Final = 0.1
"""Overlaps narrower than this are rounding."""

LEAST_SHARE: Final = 0.02
"""Of the smaller of two places: less is a corner, which centred letters hardly reach."""


def overlaps(boxes: Sequence[TextBox]) -> tuple[Finding, ...]:
    """A warning for each pair of text boxes that overlap on a face.

    Args:
        boxes: of a template, in painting order.
    """
    areas = [(box, region_of(box)) for box in boxes if not box.optional and is_seen(box)]
    found: list[Finding] = []
    for (one, first), (other, second) in combinations(areas, 2):
        if one.face == other.face and not (one.made == other.made == "outline"):
            parts = shapely.get_parts(shapely.intersection(first, second))
            both = max(parts, key=lambda part: float(part.area), default=Polygon())
            if both.area >= LEAST_SHARE * min(first.area, second.area):
                found += _told(one, other, both)
    return tuple(found)


def is_seen(box: TextBox) -> bool:
    """True unless its letters are welded into the piece and nothing is printed on them."""
    printed = box.colour or box.paint.gradient or box.paint.colour_field
    return box.made != "outline" or bool(printed)


def _told(one: TextBox, other: TextBox, both: shapely.Geometry) -> list[Finding]:
    """A warning, if the overlap has any width."""
    x0, y0, x1, y1 = both.bounds
    if min(x1 - x0, y1 - y0) < LEAST_MM:
        return []
    return [
        warn(
            "boxes-overlap",
            f'The places of the texts "{one.name}" and "{other.name}" overlap on the {one.face} '
            f"by {x1 - x0:.1f} × {y1 - y0:.1f} mm (from x {x0:.1f}, y {y0:.1f} mm), so that they "
            "may be set over each other. Move one or draw it smaller; if never both are filled, "
            "make one optional.",
        )
    ]

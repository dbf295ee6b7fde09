"""How wide a shape is at its narrowest place, and where that is. Lengths in mm."""

import shapely
from shapely import Polygon

from namebatch.outline.chords import BULGE_MM, holds_circle, necks_below
from namebatch.outline.edged import edged
from namebatch.outline.necks import Neck

QUARTER = 32
FIRST_LOOK = 1.3
"""Most finished names have a neck little wider than required: looked for first."""


def narrowest(
    shape: Polygon, required_mm: float, look_up_to_mm: float, bulge_mm: float = BULGE_MM
) -> Neck:
    """Find the narrowest neck.

    Args:
        shape: a valid polygon.
        required_mm: a width near which the neck is likely; only for speed.
        look_up_to_mm: stop looking beyond this width and report it.
        bulge_mm: how much wider than the neck a part is that hangs at it.

    Returns:
        Its width, exact for the polygon, and its middle. Without a neck the width of the
        widest circle inside (never more than the limit) and no place.
    """
    sides = edged(shape)
    b, first = sides.inside, min(FIRST_LOOK * required_mm, look_up_to_mm)
    for width in sorted({first, look_up_to_mm}):
        if bulge_mm == BULGE_MM and width == first and sides.has_necks(width):
            found = sides.necks(width)
        else:
            found = necks_below(b, width, only_first=True, bulge_mm=bulge_mm)
        if found.shape[0]:
            return Neck(float(found[0, 0]), (float(found[0, 1]), float(found[0, 2])))
    if holds_circle(b, look_up_to_mm / 2):
        return Neck(look_up_to_mm, None)
    radius = float(shapely.maximum_inscribed_circle(shape, tolerance=0.002).length)
    return Neck(min(2 * radius, look_up_to_mm), None)


def holds_together(shape: Polygon, width_mm: float) -> bool:
    """True if an erosion by half a width keeps one part and all holes: no neck is narrower.

    Parts that are nowhere so wide vanish and do not count, however they hang.
    """
    left = shapely.buffer(shape, -width_mm / 2, quad_segs=QUARTER)
    holes = len(shape.interiors)
    return isinstance(left, Polygon) and not left.is_empty and len(left.interiors) == holes

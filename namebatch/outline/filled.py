"""What thickening and bridges fill of the gaps in welded letters, and whether they can be read."""

import numpy as np
import shapely
from shapely import Polygon

from namebatch.finding import Finding, hold, warn
from namebatch.outline.arrays import Flags, Floats
from namebatch.outline.model import Order
from namebatch.outline.naming import with_shares

ASKED = 0.05
"""Less than this share of the letters' ink fills no letter that must be looked at."""
LOOK_AT = 0.4
"""A letter of whose gaps more than this share is filled must be looked at."""
LOOK_AT_ALL = 0.25
"""The same for all letters of a name together."""
LOST = 0.75
"""A letter with more filled than this cannot be read.

Measured on 46 letters and digits in four faces, capitals 4 to 12 mm high, strokes of 1.5 mm: the
outline was nearer in shape to another letter or digit in 1 % of cases where less than 0.4 was
filled, 16 % from there to 0.6, 38 % from 0.6 to 0.75, 67 % above.
"""
GAPS = 0.15
"""Letters whose gaps are smaller than this share of their ink are read by their outside."""
REMEDY = (
    "Choose a larger size, a simpler or a heavier typeface, or a material that allows narrower "
    "strokes."
)


def what_is_filled(order: Order, shape: Polygon, added_mm2: float) -> list[Finding]:
    """Hold letters whose counters and bays are gone, and tell those that have lost much.

    Args:
        order: an order for welded letters.
        shape: the finished outline.
        added_mm2: what thickening added to it.
    """
    if not order.letters or added_mm2 < ASKED * order.text.area:
        return []
    gaps, filled = _gaps(order, shape)
    shares = filled / np.maximum(gaps, 1e-9)
    width = order.limits.required_mm
    gone = shares > LOST
    if gone.any():
        lost = with_shares(order.letters, shares, gone, "in")
        return [
            hold(
                "letters-unreadable",
                f"Strokes of at least {width:g} mm fill {lost} of "
                f"the gaps in and between the strokes, which cannot be read then. {REMEDY}",
            )
        ]
    total = float(filled.sum() / max(gaps.sum(), 1e-9))
    much = shares > LOOK_AT
    if not much.any() and total <= LOOK_AT_ALL:
        return []
    what = with_shares(order.letters, shares, much, "in") if much.any() else f"{100 * total:.0f} %"
    return [
        warn(
            "letters-filled",
            f"Strokes of at least {width:g} mm fill {what} of the gaps in and between the strokes "
            f"of the letters: look whether the name can still be read. {REMEDY}",
        )
    ]


def _gaps(order: Order, shape: Polygon) -> tuple[Floats, Floats]:
    """Counters and bays of each letter outside the base, and what of them is filled, mm².

    Bays are what lies within the convex hull of a part; a letter with next to none has 0.
    """
    inks = np.array([letter.shape for letter in order.letters], dtype=object)
    parts, owner = shapely.get_parts(inks, return_index=True)
    hulls = shapely.convex_hull(parts)
    solid = shapely.union(order.text, order.base)
    free = shapely.area(hulls) - shapely.area(shapely.intersection(hulls, solid))
    both = shapely.union(shape, solid)  # a hole cut through them fills nothing
    left = shapely.area(hulls) - shapely.area(shapely.intersection(hulls, both))
    gaps = np.bincount(owner, weights=np.maximum(free, 0.0), minlength=len(inks))
    filled = np.bincount(owner, weights=np.maximum(free - left, 0.0), minlength=len(inks))
    large: Flags = np.asarray(gaps > GAPS * shapely.area(inks))
    return np.where(large, gaps, 0.0), np.where(large, filled, 0.0)

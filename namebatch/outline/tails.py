"""Parts of an outline that hang by one end and are thin over a long way. Lengths in mm."""

import numpy as np
from shapely import Polygon

from namebatch.curves import Point
from namebatch.outline.edged import edged
from namebatch.outline.tips import distances, farthest


def thin_tips(shape: Polygon, width_mm: float, reach_mm: float) -> list[Point]:
    """Find parts that hang by one end and are thinner than a width over more than a reach.

    Args:
        shape: a valid polygon.
        width_mm: the width.
        reach_mm: how far a corner or a short end may stand out of what is wide enough.

    Returns:
        The far end of each such part, in order along the boundary.
    """
    b, s = edged(shape).inside, edged(shape).survey(width_mm / 2)
    far = distances(b, s, width_mm / 2, reach_mm, np.empty((0, 2)))
    return [(float(s.x[k]), float(s.y[k])) for k in farthest(s, far, width_mm / 2 + reach_mm)]

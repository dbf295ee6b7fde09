"""What lies beyond the edge of a base: webs beside open letters must not grow out into it. mm."""

from functools import lru_cache

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.model import Order
from namebatch.outline.same import Same

REACH = 2.0
"""As far as this many of the least widths; nothing that is added is wider."""


def not_to_grow_into(order: Order) -> MultiPolygon:
    """Holes of the template; for open letters all that is not the base, so that it keeps its edge.

    A web between a letter and the edge is then made wide at the letter's cost.
    """
    if order.rule != "open" or order.base.is_empty:
        return MultiPolygon(list(order.holes))
    return _beyond(Same(order.base), REACH * order.limits.required_mm)


@lru_cache(maxsize=4)
def _beyond(base: Same[Polygon], reach: float) -> MultiPolygon:
    """The surroundings of a base, its holes and windows; the same for every name."""
    box = shapely.box(*base.shape.bounds)
    around = shapely.difference(shapely.buffer(box, reach, join_style="mitre"), base.shape)
    return MultiPolygon([part for part in shapely.get_parts(around) if isinstance(part, Polygon)])

"""Bridges that are to be wider than the material asks for. Lengths in mm."""

from dataclasses import replace

import numpy as np
import shapely
from shapely import MultiPolygon

from namebatch.outline.bars import add_bars, bridges_of
from namebatch.outline.model import Order
from namebatch.outline.rules import Made


def with_wide_bridges(order: Order, made: Made) -> Made:
    """Every bridge where it is, as wide as is asked for; holes stay open.

    Args:
        order: its `bridge_mm`; nothing is done up to the least width.
        made: by its outline rule.
    """
    if order.bridge_mm <= order.limits.required_mm or not made.bridges:
        return made
    ends = np.array([[*bridge.start, *bridge.end] for bridge in made.bridges])
    bridges = bridges_of(ends, order.bridge_mm)
    shape = add_bars(made.shape, [bridge.shape for bridge in bridges])
    if order.holes:
        shape = shapely.difference(shape, MultiPolygon(list(order.holes)))
    if order.rule == "open":  # a bar may be wide enough to reach out of the plate
        shape = shapely.intersection(shape, shapely.union(order.base, made.shape))
    added = shape.area - made.shape.area
    return replace(made, shape=shape, bridges=bridges, plain_mm2=made.plain_mm2 + added)

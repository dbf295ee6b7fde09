"""A joined outline becomes one that can be cut: gaps filled, what is thin made wide. mm."""

from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.beyond import not_to_grow_into
from namebatch.outline.gaps import fill_gaps, keep_rings
from namebatch.outline.join import join_parts
from namebatch.outline.model import Order
from namebatch.outline.thicken import Thickened, thicken

ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Mended:
    """A mended shape.

    Attributes:
        shape: the shape, normalised if all is known to be well.
        is_open: known to survive the kerf.
        is_firm: known to have neither necks nor tails thinner than the least width.
    """

    shape: Polygon
    is_open: bool = False
    is_firm: bool = False


def mended(order: Order, shape: Polygon) -> Mended:
    """Fill what the kerf would swallow and thicken what is thin, until both hold.

    A step that changes nothing gives back the very same object, so that nothing is measured
    twice on an outline that needs no mending.

    Args:
        order: what was asked for.
        shape: base and text, joined to one part.
    """
    kerf = order.limits.kerf_mm
    firm: Polygon | None = None
    for _ in range(ROUNDS):
        tidy = shape if shape is firm else shapely.normalize(shape)
        shape = fill_gaps(tidy, kerf)
        if shape is not firm:
            grown = _thickened(order, shape)
            thicker = grown.added_mm2 > 0.0
            shape = shapely.normalize(grown.shape) if thicker else shape
            firm = shape if grown.is_firm else None
            if thicker:
                shape = _joined_again(order, shape)
                continue
        kept, is_open = keep_rings(shape, kerf)
        if kept is shape:
            whole = shape if shape is tidy else shapely.normalize(shape)
            return Mended(whole, is_open, firm is not None)
        shape = kept
    return Mended(shape)


def _thickened(order: Order, shape: Polygon) -> Thickened:
    limits = order.limits
    return thicken(
        shape,
        limits.required_mm,
        not_to_grow_into(order),
        open_mm=limits.open_mm,
    )


def _joined_again(order: Order, shape: Polygon) -> Polygon:
    """The shape with bars where thickening was not enough."""
    again = join_parts(shape, order.limits.required_mm, order.letters, _kept_open(order))
    return again.shape if isinstance(again.shape, Polygon) else shape


def _kept_open(order: Order) -> MultiPolygon:
    return MultiPolygon(list(order.holes))

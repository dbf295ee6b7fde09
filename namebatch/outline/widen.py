"""Thin strokes and webs made wide before anything is joined, so that bars are short. mm."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.beyond import not_to_grow_into
from namebatch.outline.cores import areas_of, side_by_side
from namebatch.outline.gaps import fill_gaps
from namebatch.outline.islands import plate_index
from namebatch.outline.model import Order
from namebatch.outline.thicken import REACH, thicken
from namebatch.outline.thin import find_thin


def widened(order: Order, shape: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """The shape with thin strokes made wide, where it is in several parts.

    Bars are then as short as the gaps: a stroke too thin to have a core could only be met
    somewhere else, across whatever lies between.
    """
    if isinstance(shape, Polygon):
        return shape
    width, parts = order.limits.required_mm, areas_of(shape)
    thin = [i for i, part in enumerate(parts) if find_thin(part, width, REACH * width, width / 2)]
    if not thin:
        return shape
    holes = MultiPolygon(list(order.holes))
    for index in thin:
        filled = fill_gaps(parts[index], order.limits.kerf_mm)
        parts[index] = thicken(filled, width, holes, open_mm=order.limits.open_mm).shape
    return side_by_side(parts) or shapely.union_all(parts)


def with_wide_webs(order: Order, plate: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """The plate with its webs between letters made wide, the islands as they were.

    A bar can then end between a letter and its mark, and need not cross both.
    """
    parts = areas_of(plate)
    if len(parts) <= 1:
        return plate
    rim = plate_index(parts, order.base)
    grown = thicken(
        parts[rim], order.limits.required_mm, not_to_grow_into(order), open_mm=order.limits.open_mm
    )
    if grown.added_mm2 == 0.0:
        return plate
    parts[rim] = grown.shape
    return shapely.union_all(parts)

"""Thin strokes and webs made wide before anything is joined, so that bars are short. mm."""

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.cores import Cores, areas_of, cores_of
from namebatch.outline.gaps import fill_gaps
from namebatch.outline.islands import plate_index
from namebatch.outline.model import Order
from namebatch.outline.thicken import thicken

OPEN_BEYOND_KERF_MM = 0.1
"""Thickening leaves gaps this much wider than the kerf."""
PLAINLY = 0.8
"""A part whose core comes so near to its sides, in widths, has no long thin strokes."""


def widened(order: Order, shape: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """The shape with thin strokes made wide, where it is in several parts.

    Bars are then as short as the gaps: a stroke too thin to have a core could only be met
    somewhere else, across whatever lies between.
    """
    parts = areas_of(shape)
    if len(parts) <= 1:
        return shape
    width = order.limits.required_mm
    wide = _plainly_wide(cores_of(shape, width), width)
    if wide.all():
        return shape
    holes = MultiPolygon(list(order.holes))
    gap = order.limits.kerf_mm + OPEN_BEYOND_KERF_MM
    for index in np.flatnonzero(~wide):
        filled = fill_gaps(parts[index], order.limits.kerf_mm)
        parts[index] = thicken(filled, width, holes, open_mm=gap).shape
    return shapely.union_all(parts)


def _plainly_wide(cores: Cores, width_mm: float) -> npt.NDArray[np.bool_]:
    """Which parts have one core only, one that comes near all four sides of the part."""
    one = np.bincount(cores.part[~cores.seeded], minlength=len(cores.parts)) == 1
    single = cores.cores[np.unique(cores.part, return_index=True)[1]]
    away = np.abs(shapely.bounds(cores.parts) - shapely.bounds(single)).max(axis=1)
    return np.asarray(one & (away <= PLAINLY * width_mm))


def with_wide_webs(order: Order, plate: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """The plate with its webs between letters made wide, the islands as they were.

    A bar can then end between a letter and its mark, and need not cross both.
    """
    parts = areas_of(plate)
    if len(parts) <= 1:
        return plate
    rim = plate_index(parts, order.base)
    holes, gap = MultiPolygon(list(order.holes)), order.limits.kerf_mm + OPEN_BEYOND_KERF_MM
    grown = thicken(parts[rim], order.limits.required_mm, holes, open_mm=gap)
    if grown.added_mm2 == 0.0:
        return plate
    parts[rim] = grown.shape
    return shapely.union_all(parts)

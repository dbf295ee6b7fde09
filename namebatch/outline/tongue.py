"""How an ear that carries a hole is drawn out to the edge it stands on. Lengths in mm."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import Polygon, affinity

from namebatch.curves import Point as At
from namebatch.outline.arrays import Floats
from namebatch.outline.contour import quarter_chords

UNSEEN = 0.01
"""Lettering filled over no more than this share of a half width's square is not seen."""

FEET = 4
"""A slim foot is tried at so many places to either side in each half width."""

ASIDE = 2.0
"""And so many half widths away from below the hole at most."""

SLANT_COST = 0.01
"""A foot that stands aside by a half width counts like this share of its square filled."""


@dataclass(frozen=True, slots=True)
class Ear:
    """What a tab is for, about the origin.

    Attributes:
        cut: the hole.
        ring: the hole grown by its wall.
        half_mm: half the height of the ring.
        feet_mm: radii of the slim feet by which it may stand on a letter, widest first.
    """

    cut: Polygon
    ring: Polygon
    half_mm: float
    feet_mm: tuple[float, ...] = ()


def tongue_of(
    near: shapely.Geometry, field: shapely.Geometry, ear: Ear, edge: At, at: At
) -> Polygon:
    """The ear drawn out to the edge: at full width, or to the slim foot that fills least."""
    ring = affinity.translate(ear.ring, *at)
    full = shapely.convex_hull(shapely.union(ring, affinity.translate(ear.ring, *edge)))
    if field.is_empty or not ear.feet_mm:
        return full
    enough = UNSEEN * ear.half_mm**2
    if shapely.intersection(full, field).area <= enough:
        return full
    steps = np.arange(-round(ASIDE * FEET), round(ASIDE * FEET) + 1) / FEET * ear.half_mm
    tongues, costs = [np.array([full])], [np.zeros(1)]
    for radius in ear.feet_mm:
        feet, aside = _feet(near, at[0] + steps, radius, at[1])
        if len(feet):
            tongues.append(shapely.convex_hull(shapely.union(ring, feet)))
            costs.append(np.abs(aside - at[0]) * SLANT_COST * ear.half_mm)
    every = np.concatenate(tongues)
    filled = shapely.area(shapely.intersection(every, field))
    cost = np.maximum(filled, enough) + np.concatenate(costs)
    return every[int(np.argmin(cost.round(6)))]


def _feet(near: shapely.Geometry, columns: Floats, radius: float, top: float) -> tuple[Any, Floats]:
    """Discs that stand in the upper edge at columns where it is solid, and their columns."""
    x0, y0, x1, y1 = near.bounds
    columns = columns[(columns > x0) & (columns < x1)]
    low, high = np.full(len(columns), y0 - 1), np.full(len(columns), y1 + 1)
    ends = np.stack([np.stack([columns, low], 1), np.stack([columns, high], 1)], 1)
    edges = shapely.bounds(shapely.intersection(near, shapely.linestrings(ends)))[:, 3]
    known = ~np.isnan(edges) & (edges < top)
    columns, edges = columns[known], edges[known]
    discs = shapely.buffer(
        shapely.points(columns, edges - radius), radius, quad_segs=quarter_chords(radius)
    )
    solid = shapely.area(shapely.intersection(discs, near)) >= 0.6 * shapely.area(discs)
    return discs[solid], columns[solid]

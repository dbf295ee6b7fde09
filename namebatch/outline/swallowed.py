"""What a closing fills: looked for only where the boundary has narrow places. Lengths in mm."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Floats
from namebatch.outline.kerf import MITRE_LIMIT

ROUND_IT = 10.0
"""A window reaches so many times the closing's reach beyond the places in it."""
CLEAR = 4.0
"""What is filled nearer than this to a window's edge, in reaches, may go on beyond it."""


def swallowed(shape: Polygon, reach_mm: float, places: Floats) -> list[Polygon]:
    """What a closing fills, fillets of corners left out.

    Args:
        shape: a valid polygon.
        reach_mm: half the width of what is closed.
        places: rows of x and y; whatever is filled lies near one of them.
    """
    if reach_mm <= 0:
        return []
    found: list[Polygon] = []
    for bounds in _windows(places, ROUND_IT * reach_mm):
        window = shapely.box(*bounds)
        filled = _filled(shapely.intersection(shape, window), reach_mm)
        if not _inside(filled, shapely.buffer(window, -CLEAR * reach_mm, join_style="mitre")):
            return _filled(shape, reach_mm)
        found += filled
    return found


def _filled(shape: shapely.Geometry, reach: float) -> list[Polygon]:
    grown = shapely.buffer(shape, reach, join_style="mitre", mitre_limit=MITRE_LIMIT)
    closed = shapely.buffer(grown, -reach, join_style="mitre", mitre_limit=MITRE_LIMIT)
    added = polygons_of(shapely.difference(closed, shape))
    return [part for part in added if part.area > reach * reach]


def _windows(places: Floats, beyond: float) -> Iterator[Floats]:
    """Bounds of boxes round the places, from left to right; none meets another."""
    order = np.lexsort(places.T[::-1])
    x, y = places[order].T
    starts = np.concatenate([[0], np.flatnonzero(np.diff(x) > 2 * beyond) + 1])
    low, high = np.minimum.reduceat(y, starts) - beyond, np.maximum.reduceat(y, starts) + beyond
    ends = np.append(starts[1:], x.size) - 1
    yield from np.column_stack([x[starts] - beyond, low, x[ends] + beyond, high])


def _inside(parts: list[Polygon], window: Polygon) -> bool:
    return bool(shapely.covers(window, parts).all()) if parts else True


def polygons_of(shape: shapely.Geometry) -> list[Polygon]:
    """The polygons of any geometry, in its order."""
    return [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]

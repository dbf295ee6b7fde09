"""Gaps that the cutter's own kerf would swallow: filled before the line is drawn. mm."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.errors import OutlineError
from namebatch.outline.kerf import MITRE_LIMIT, offset_for_kerf

MARGIN_MM = 0.02
"""Filled up to a little more than the kerf, so that the two lines do not touch."""

NOTCH = 4.0
"""Gaps up to this many squares of the kerf are ends of notches."""


def close_gaps(shape: Polygon, kerf_mm: float) -> Polygon:
    """Fill slits and pinholes that are narrower than the kerf, and only those.

    Corners stay as they are: what a closing adds in them is left out again, because only
    fillings that a cut could not part are kept.

    Args:
        shape: a valid polygon.
        kerf_mm: width of the cut, the larger of x and y.
    """
    if kerf_mm <= 0:
        return shape
    kept = _swallowed(shape, kerf_mm)
    if kept:
        shape = _without_pinholes(shapely.union_all([shape, *kept]), kerf_mm)
    return shape if survives_kerf(shape, kerf_mm) else _without_pinholes(shape, kerf_mm)


def survives_kerf(shape: Polygon, kerf_mm: float) -> bool:
    """True if moving the line for the kerf closes no gap and no hole.

    The last bit of an acute notch between two strokes cannot be cut by any beam and does not
    count.
    """
    if kerf_mm <= 0:
        return True
    try:
        offset_for_kerf(shape, (kerf_mm, kerf_mm))
    except OutlineError:
        return False
    lost = _swallowed(shape, kerf_mm - 2 * MARGIN_MM)
    return all(part.area <= NOTCH * kerf_mm * kerf_mm for part in lost)


def _swallowed(shape: Polygon, kerf_mm: float) -> list[Polygon]:
    """What a closing by the kerf and the margin fills, fillets of corners left out."""
    reach = kerf_mm / 2 + MARGIN_MM
    if reach <= 0:
        return []
    grown = shapely.buffer(shape, reach, join_style="mitre", mitre_limit=MITRE_LIMIT)
    closed = shapely.buffer(grown, -reach, join_style="mitre", mitre_limit=MITRE_LIMIT)
    added = _polygons(shapely.difference(closed, shape))
    return [part for part in added if part.area > reach * reach]


def _without_pinholes(shape: shapely.Geometry, kerf_mm: float) -> Polygon:
    """The largest part, without holes that vanish when half the kerf is taken off them."""
    part = max(shapely.get_parts(MultiPolygon(_polygons(shape))), key=lambda p: p.area)
    holes = [
        ring
        for ring in part.interiors
        if not shapely.buffer(Polygon(ring), -kerf_mm / 2 - MARGIN_MM / 4).is_empty
    ]
    return Polygon(part.exterior, holes)


def _polygons(shape: shapely.Geometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]

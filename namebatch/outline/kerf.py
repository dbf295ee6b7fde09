"""Kerf: the cut line moved into the waste so that the piece comes out at its size."""

from functools import lru_cache

import shapely
from shapely import Polygon, affinity

from namebatch.errors import OutlineError
from namebatch.outline.edged import edged
from namebatch.outline.parallel import mitred
from namebatch.outline.same import Same

MITRE_LIMIT = 4.0
LEAST_MM = 0.001
"""Stands for no kerf at all in one of two directions."""


def offset_for_kerf(outline: Polygon, kerf_mm: tuple[float, float]) -> Polygon:
    """Move outer contours out and inner contours in by half the kerf.

    Corners stay corners (mitre join). Where the kerf differs in x and y the offset is made
    in a frame in which it does not, and scaled back.

    Args:
        outline: the finished piece.
        kerf_mm: width of the cut in x and in y, 0 or more.

    Raises:
        OutlineError: a contour closes up, because a hole is no wider than the kerf.
    """
    kx, ky = kerf_mm
    if kx == 0 and ky == 0:
        return outline
    return _offset(Same(outline), kx, ky)


@lru_cache(maxsize=64)
def _offset(same: Same[Polygon], kx: float, ky: float) -> Polygon:
    """The line of the last outlines: asked for by their proof, then by the sheet."""
    outline = same.shape
    if kx == ky and not outline.is_empty:
        moved = mitred(edged(outline).outside, kx / 2, MITRE_LIMIT)
        if moved is not None:
            return moved
    kx, ky = max(kx, LEAST_MM), max(ky, LEAST_MM)
    stretched = affinity.scale(outline, 1.0, kx / ky, origin=(0, 0)) if kx != ky else outline
    # the mitre of a very acute corner may reach across a gap that the kerf itself leaves open
    for join, limit in (("mitre", MITRE_LIMIT), ("mitre", 2.0), ("round", 1.0)):
        grown = shapely.buffer(stretched, kx / 2, join_style=join, mitre_limit=limit)
        if isinstance(grown, Polygon) and _same_rings(stretched, grown):
            break
    else:
        raise OutlineError(
            f"A hole or slot of the piece is narrower than the kerf ({kx:g} × {ky:g} mm) and "
            "would close up. Make it wider or correct the kerf in the workshop file."
        )
    return affinity.scale(grown, 1.0, ky / kx, origin=(0, 0)) if kx != ky else grown


def _same_rings(before: Polygon, after: Polygon) -> bool:
    """True if every hole is still there and none has come: counts alone would not tell.

    A pinhole may vanish while the mouth of a bay closes and makes a new one.
    """
    if len(before.interiors) != len(after.interiors):
        return False
    if not before.interiors:
        return True
    holes = shapely.polygons(shapely.get_rings(before)[1:])
    rings = shapely.polygons(shapely.get_rings(after)[1:])
    shapely.prepare(holes)
    inside = shapely.contains_properly(holes[:, None], shapely.point_on_surface(rings)[None, :])
    return bool((inside.sum(axis=0) == 1).all() and (inside.sum(axis=1) == 1).all())

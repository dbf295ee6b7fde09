"""Kerf: the cut line moved into the waste so that the piece comes out at its size."""

import shapely
from shapely import Polygon, affinity

from namebatch.errors import OutlineError

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
    kx, ky = max(kx, LEAST_MM), max(ky, LEAST_MM)
    stretched = affinity.scale(outline, 1.0, kx / ky, origin=(0, 0)) if kx != ky else outline
    # the mitre of a very acute corner may reach across a gap that the kerf itself leaves open
    for join, limit in (("mitre", MITRE_LIMIT), ("mitre", 2.0), ("round", 1.0)):
        grown = shapely.buffer(stretched, kx / 2, join_style=join, mitre_limit=limit)
        if isinstance(grown, Polygon) and len(grown.interiors) == len(outline.interiors):
            break
    else:
        raise OutlineError(
            f"A hole or slot of the piece is narrower than the kerf ({kx:g} × {ky:g} mm) and "
            "would close up. Make it wider or correct the kerf in the workshop file."
        )
    return affinity.scale(grown, 1.0, ky / kx, origin=(0, 0)) if kx != ky else grown

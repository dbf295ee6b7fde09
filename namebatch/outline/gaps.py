"""Gaps that the cutter's own kerf would swallow: filled before the line is drawn. mm."""

from typing import Any

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.errors import OutlineError
from namebatch.outline.boundary import boundary_of
from namebatch.outline.compiled import compiled
from namebatch.outline.kerf import MITRE_LIMIT, offset_for_kerf
from namebatch.outline.thickness import necks_below
from namebatch.outline.tips import Survey, survey

MARGIN_MM = 0.02
"""Filled up to a little more than the kerf, so that the two lines do not touch."""

PLUG_MM = 0.1
"""How far the plug of a bay's mouth reaches into either side."""

SPACING_MM = 0.12
"""Gaps are looked for at places that are so far apart along the outline."""

FLARE = -0.86
"""Cosine of 150°: a mitred offset comes to the bottom of notches wider than 30°."""

NOTCH = 4.0
"""Gaps up to this many squares of the kerf are ends of notches."""

SURELY_NOTCH = 3.2
"""The same where the area is estimated from places along the outline."""


def close_gaps(shape: Polygon, kerf_mm: float) -> tuple[Polygon, bool]:
    """Fill slits and pinholes that are narrower than the kerf, and only those.

    Corners stay as they are: what a closing adds in them is left out again, because only
    fillings that a cut could not part are kept.

    Args:
        shape: a valid polygon.
        kerf_mm: width of the cut, the larger of x and y.

    Returns:
        The shape, the very same object if nothing was filled; and whether it survives the
        kerf now.
    """
    if kerf_mm <= 0:
        return shape, True
    notch = SURELY_NOTCH * kerf_mm * kerf_mm
    if not _plainly_open(shape, kerf_mm + 2 * MARGIN_MM, notch):
        kept = [part for part in _swallowed(shape, kerf_mm) if part.area > notch]
        if kept:
            shape = _without_pinholes(shapely.union_all([shape, *kept]), kerf_mm)
    if _keeps_its_rings(shape, kerf_mm):
        return shape, True
    shape = _without_pinholes(shape, kerf_mm)
    if _keeps_its_rings(shape, kerf_mm):
        return shape, True
    shape = _without_pinholes(_with_mouths_closed(shape, kerf_mm), kerf_mm)
    return shape, survives_kerf(shape, kerf_mm)


def _keeps_its_rings(shape: Polygon, kerf_mm: float) -> bool:
    """True if the line moved for the kerf has as many rings as the shape.

    Corners of a mitred line may meet over a gap wider than the kerf.
    """
    try:
        offset_for_kerf(shape, (kerf_mm, kerf_mm))
    except OutlineError:
        return False
    return True


def _with_mouths_closed(shape: Polygon, kerf_mm: float) -> shapely.Geometry:
    """Stop up the mouths of bays: the cut would close them over next to no area."""
    mouths = necks_below(boundary_of(shape, outside=True), kerf_mm + 2 * MARGIN_MM)
    plugs = shapely.buffer(shapely.points(mouths[:, 1:3]), mouths[:, 0] / 2 + PLUG_MM)
    return shapely.union_all([shape, *plugs])


def survives_kerf(shape: Polygon, kerf_mm: float) -> bool:
    """True if moving the line for the kerf closes no gap and no hole.

    The last bit of an acute notch between two strokes cannot be cut by any beam and does not
    count.
    """
    if kerf_mm <= 0:
        return True
    if not _keeps_its_rings(shape, kerf_mm):
        return False
    if _plainly_open(shape, kerf_mm, SURELY_NOTCH * kerf_mm**2):
        return True
    lost = _swallowed(shape, kerf_mm - 2 * MARGIN_MM)
    return all(part.area <= NOTCH * kerf_mm * kerf_mm for part in lost)


def _plainly_open(shape: Polygon, width_mm: float, ignored_mm2: float) -> bool:
    """True if plainly no gap and no hole is narrower than a width; False: look closely.

    A gap is a neck or a tail of what is not the shape. Notches that flare by more than 30°
    are neither, nor what encloses no more than the ignored area.
    """
    b = boundary_of(shape, outside=True)
    if necks_below(b, width_mm).shape[0]:
        return False
    s = survey(b, width_mm / 2, SPACING_MM)
    x, y = s.x + s.radius * s.nx, s.y + s.radius * s.ny
    facing = -(s.nx * (s.ox - x) + s.ny * (s.oy - y)) < FLARE * s.radius
    runs = np.unique(s.run[(s.run >= 0) & facing])
    if runs.size and _run_areas(s)[runs].max() > ignored_mm2:
        return False
    rings = zip(s.first[1:-1], s.first[2:], strict=True)
    return all(bool(np.any(s.run[start:end] < 0)) for start, end in rings)


@compiled
def _run_areas(s: Survey) -> Any:
    """Area between each run of thin places and the line that joins its ends."""
    area = np.zeros(s.run.max() + 1)
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        for k in range(low, high):
            if s.run[k] < 0 or s.run[k - 1 if k > low else high - 1] == s.run[k]:
                continue
            i = k  # a run begins here
            while True:
                j = i + 1 if i + 1 < high else low
                if s.run[j] != s.run[k] or j == k:
                    break
                across = (s.x[i] - s.x[k]) * (s.y[j] - s.y[k])
                across -= (s.x[j] - s.x[k]) * (s.y[i] - s.y[k])
                area[s.run[k]] += across / 2
                i = j
    return np.abs(area)


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

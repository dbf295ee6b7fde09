"""Gaps that the cutter's own kerf would swallow: filled before the line is drawn. mm."""

from typing import Any

import numpy as np
import shapely
from shapely import Polygon

from namebatch.errors import OutlineError
from namebatch.outline.arrays import Floats
from namebatch.outline.chords import necks_below
from namebatch.outline.compiled import compiled
from namebatch.outline.edged import edged
from namebatch.outline.kerf import NOTCH, offset_for_kerf
from namebatch.outline.swallowed import polygons_of, swallowed
from namebatch.outline.tips import Survey, survey

MARGIN_MM = 0.02
"""Filled up to a little more than the kerf, so that the two lines do not touch."""

PLUG_MM = 0.1
"""How far the plug of a bay's mouth reaches into either side."""

SPACING_MM = 0.12
"""Gaps are looked for at places that are so far apart along the outline."""

FLARE = -0.86
"""Cosine of 150°: a mitred offset comes to the bottom of notches wider than 30°."""

SURELY_NOTCH = 3.2
"""As `NOTCH`, where the area is estimated from places along the outline."""


def close_gaps(shape: Polygon, kerf_mm: float) -> tuple[Polygon, bool]:
    """Fill slits and pinholes that are narrower than the kerf, and only those.

    Args:
        shape: a valid polygon.
        kerf_mm: width of the cut, the larger of x and y.

    Returns:
        The shape, the very same object if nothing was filled; and whether it survives the
        kerf now.
    """
    return keep_rings(fill_gaps(shape, kerf_mm), kerf_mm)


def fill_gaps(shape: Polygon, kerf_mm: float) -> Polygon:
    """Fill what is narrower than the kerf, as far as widths along the boundary tell.

    Corners stay as they are: what a closing adds in them is left out again, because only
    fillings that a cut could not part are kept. Where gaps are wide enough, mitred corners may
    still close a bay: `keep_rings` tells.

    Returns:
        The shape, the very same object if nothing was filled.
    """
    if kerf_mm <= 0:
        return shape
    notch = SURELY_NOTCH * kerf_mm * kerf_mm
    places = _narrow_places(shape, kerf_mm + 2 * MARGIN_MM, notch)
    if not places.size:
        return shape
    kept = [part for part in swallowed(shape, kerf_mm / 2 + MARGIN_MM, places) if part.area > notch]
    filled = shapely.union_all([shape, *kept]) if kept else shape
    filled = _without_pinholes(filled, kerf_mm)
    # a mouth of a bay may be closed over next to no area
    has_mouths = necks_below(edged(filled).outside, kerf_mm + 2 * MARGIN_MM).shape[0] > 0
    return keep_rings(filled, kerf_mm)[0] if has_mouths else filled


def keep_rings(shape: Polygon, kerf_mm: float) -> tuple[Polygon, bool]:
    """Mend a shape whose line, moved for the kerf, loses a hole or closes a bay.

    Args:
        shape: a valid polygon, its gaps filled.
        kerf_mm: width of the cut.

    Returns:
        The shape, the very same object if nothing had to be mended; and whether it survives the
        kerf now.
    """
    if kerf_mm <= 0 or _keeps_its_rings(shape, kerf_mm):
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
        offset_for_kerf(shape, (kerf_mm, kerf_mm), every_gap=True)
    except OutlineError:
        return False
    return True


def _with_mouths_closed(shape: Polygon, kerf_mm: float) -> shapely.Geometry:
    """Stop up the mouths of bays: the cut would close them over next to no area."""
    mouths = necks_below(edged(shape).outside, kerf_mm + 2 * MARGIN_MM)
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
    places = _narrow_places(shape, kerf_mm, SURELY_NOTCH * kerf_mm**2)
    if not places.size:
        return True
    lost = swallowed(shape, kerf_mm / 2, places)
    return all(part.area <= NOTCH * kerf_mm * kerf_mm for part in lost)


def _narrow_places(shape: Polygon, width_mm: float, ignored_mm2: float) -> Floats:
    """Places at gaps and holes that may be narrower than a width: look closely there.

    A gap is a neck or a tail of what is not the shape. Notches that flare by more than 30°
    are neither, nor what encloses no more than the ignored area.

    Returns:
        Rows of x and y, none if plainly nothing is so narrow.
    """
    b = edged(shape).outside
    necks = necks_below(b, width_mm)
    s = survey(b, width_mm / 2, SPACING_MM)
    asked = _in_gaps(s, ignored_mm2)
    if not necks.size and not asked.any():
        return np.empty((0, 2))
    return np.concatenate([necks[:, 1:3], np.column_stack([s.x, s.y])[asked]])


@compiled
def _in_gaps(s: Survey, ignored: float) -> Any:
    """Which places are of runs with opposite sides and some area, or of rings that are all thin."""
    asked = np.zeros(s.x.size, np.bool_)
    last = -1
    for k in range(s.x.size):
        last = max(last, s.run[k])
    if last < 0:
        return asked
    area, facing = _run_areas(s, last + 1), np.zeros(last + 1, np.bool_)
    for k in range(s.x.size):
        if s.run[k] >= 0:
            x, y = s.x[k] + s.radius[k] * s.nx[k], s.y[k] + s.radius[k] * s.ny[k]
            flare = -(s.nx[k] * (s.ox[k] - x) + s.ny[k] * (s.oy[k] - y))
            facing[s.run[k]] = facing[s.run[k]] or flare < FLARE * s.radius[k]
    for r in range(s.first.size - 1):
        low, high = s.first[r], s.first[r + 1]
        whole = r > 0
        for k in range(low, high):
            whole = whole and s.run[k] >= 0
        for k in range(low, high):
            run = s.run[k]
            asked[k] = whole or (run >= 0 and facing[run] and area[run] > ignored)
    return asked


@compiled
def _run_areas(s: Survey, runs: int) -> Any:
    """Area between each run of thin places and the line that joins its ends."""
    area = np.zeros(runs)
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


def _without_pinholes(shape: shapely.Geometry, kerf_mm: float) -> Polygon:
    """The largest part, without holes that vanish when half the kerf is taken off them.

    Returns:
        The very same object if it is a polygon without such holes.
    """
    part = shape
    if not isinstance(part, Polygon):
        part = max(polygons_of(shape), key=lambda p: p.area)
    rings = np.array(part.interiors, dtype=object)
    if not rings.size:
        return part
    holes, reach = shapely.polygons(rings), kerf_mm / 2 + MARGIN_MM / 4
    stays = shapely.distance(shapely.point_on_surface(holes), rings) > reach
    for k in np.flatnonzero(~stays):
        stays[k] = not shapely.buffer(holes[k], -reach).is_empty
    return part if stays.all() else Polygon(part.exterior, list(rings[stays]))

"""After a tab has grown: what is thin or slit where it meets the piece is mended. Lengths in mm."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.gaps import close_gaps
from namebatch.outline.mend import Mended
from namebatch.outline.model import Limits
from namebatch.outline.thicken import thicken

ROUNDS = 6

REACH = 2.0
"""What is mended lies within this many least widths and kerfs of the tab."""


def mend_at_tab(
    shape: Polygon, tab: Polygon | MultiPolygon, limits: Limits, keep_open: MultiPolygon
) -> tuple[Mended, bool]:
    """Fill slits that the kerf would swallow and thicken what is thin, beside a tab only.

    Args:
        shape: the piece with the tab.
        tab: the tab.
        limits: least width and kerf.
        keep_open: its holes, into which nothing may grow.

    Returns:
        The shape as far as it came, the very same object if nothing was mended, with what is
        known of all of it then; and whether nothing was left to mend beside the tab.
    """
    reach = REACH * (limits.required_mm + limits.kerf_mm)
    for _ in range(ROUNDS):
        closed, is_open = close_gaps(shape, limits.kerf_mm)
        thick = thicken(closed, limits.required_mm, keep_open, open_mm=limits.open_mm)
        grown = thick.shape
        if grown is shape:
            return Mended(shape, is_open, thick.is_firm), True
        added = [
            part
            for part in shapely.get_parts(shapely.difference(grown, shape))
            if isinstance(part, Polygon)
        ]
        far = [part for part in added if not shapely.dwithin(part, tab, reach)]
        if len(far) == len(added):
            return Mended(shape), True
        # taken from what was grown: parts put onto the old shape would leave hairlines
        shape = grown if not far else _largest(shapely.difference(grown, shapely.union_all(far)))
    return Mended(shape), False


def _largest(shape: shapely.Geometry) -> Polygon:
    return max(shapely.get_parts(shape), key=lambda part: part.area)

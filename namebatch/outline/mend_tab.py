"""After a tab has grown: what is thin or slit where it meets the piece is mended. Lengths in mm."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.gaps import close_gaps
from namebatch.outline.model import Limits
from namebatch.outline.thicken import thicken

ROUNDS = 6

REACH = 2.0
"""What is mended lies within this many least widths and kerfs of the tab."""


def mend_at_tab(
    shape: Polygon, tab: Polygon | MultiPolygon, limits: Limits, keep_open: MultiPolygon
) -> tuple[Polygon, bool]:
    """Fill slits that the kerf would swallow and thicken what is thin, beside a tab only.

    Args:
        shape: the piece with the tab, the hole not yet cut.
        tab: the tab.
        limits: least width and kerf.
        keep_open: the template's own holes.

    Returns:
        The shape as far as it came, and whether nothing was left to mend beside the tab.
    """
    reach = REACH * (limits.required_mm + limits.kerf_mm)
    for _ in range(ROUNDS):
        closed, _ = close_gaps(shape, limits.kerf_mm)
        grown = thicken(closed, limits.required_mm, keep_open, open_mm=limits.open_mm).shape
        if grown is shape:
            return shape, True
        added = [
            part
            for part in shapely.get_parts(shapely.difference(grown, shape))
            if isinstance(part, Polygon)
        ]
        far = [part for part in added if not shapely.dwithin(part, tab, reach)]
        if len(far) == len(added):
            return shape, True
        # taken from what was grown: parts put onto the old shape would leave hairlines
        shape = grown if not far else _largest(shapely.difference(grown, shapely.union_all(far)))
    return shape, False


def _largest(shape: shapely.Geometry) -> Polygon:
    return max(shapely.get_parts(shape), key=lambda part: part.area)

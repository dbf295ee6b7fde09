"""Hairs and steps in a line, too thin to be seen or cut. Lengths in mm.

A hair runs out and back along itself; at a step a line leaves its way by a few thousandths and
goes on beside it. They come about where two shapes are joined whose edges run along each other
and differ by a rounding. A cutter would follow them, and lines moved for the kerf may cross there.
"""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

HAIR_MM = 0.004
"""What is thinner and leads out and back is a hair."""

STEP_MM = 0.003
"""Corners nearer to each other than this become one."""

LEAST_CORNERS = 3


def without_hairs(shape: Polygon) -> Polygon:
    """A shape without hairs, be they of material or of air, and without steps.

    Args:
        shape: valid.

    Returns:
        Valid; the very same shape where there is nothing to take away. The rest of its line
        does not move.
    """
    level = shapely.remove_repeated_points(shape, STEP_MM)
    fewer = shapely.get_num_coordinates(level) < shapely.get_num_coordinates(shape)
    if fewer and level.is_valid and not level.is_empty:
        shape = level
    rings = [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_rings(shape)]
    plain = [_plain(ring) for ring in rings]
    if all(one is other for one, other in zip(plain, rings, strict=True)):
        return shape
    found = Polygon(plain[0], plain[1:])
    if found.is_valid:
        return found
    mended = shapely.make_valid(found, method="structure", keep_collapsed=False)
    parts = [part for part in shapely.get_parts(mended) if isinstance(part, Polygon)]
    return max(parts, key=lambda part: part.area) if parts else shape


def _plain(ring: NDArray[np.float64]) -> NDArray[np.float64]:
    """A ring, its first point not repeated, without the tips of hairs."""
    while len(ring) > LEAST_CORNERS:
        back, on = np.roll(ring, 1, axis=0) - ring, np.roll(ring, -1, axis=0) - ring
        along = (back * on).sum(axis=1)
        across = np.abs(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0])
        longer = np.sqrt(np.maximum((back**2).sum(axis=1), (on**2).sum(axis=1)))
        tips = np.flatnonzero((along > 0) & (across < HAIR_MM * longer))
        if tips.size == 0:
            return ring
        ring = np.delete(ring, tips[0], axis=0)
    return ring

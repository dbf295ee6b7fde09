"""Letters that lie in the base cannot be seen on a welded piece."""

import numpy as np
import numpy.typing as npt
import shapely

from namebatch.outline.model import Letter, Order

LEAST_SEEN = 0.02
"""Share of its ink that a welded letter must show outside the base."""


def is_drowned(order: Order) -> bool:
    """True if next to nothing of the text stands out of the base: the piece would be a blank."""
    return bool(_sunk(order, np.array([order.text], dtype=object))[0])


def drowned_letters(order: Order) -> list[Letter]:
    """The letters of which next to nothing stands out of the base."""
    if not order.letters:
        return []
    sunk = _sunk(order, np.array([letter.shape for letter in order.letters], dtype=object))
    return [letter for letter, gone in zip(order.letters, sunk, strict=True) if gone]


def _sunk(order: Order, inks: npt.NDArray[np.object_]) -> npt.NDArray[np.bool_]:
    """Which inks show less than they must; what leaves the base's bounds decides most at once."""
    if order.base.is_empty:  # a name that stands free
        return np.zeros(len(inks), dtype=bool)
    wanted = LEAST_SEEN * shapely.area(inks)
    bounds = shapely.bounds(order.base)
    sunk = shapely.area(inks) - shapely.area(shapely.clip_by_rect(inks, *bounds)) < wanted
    if sunk.any():
        ground = shapely.union_all([order.base, *order.holes])
        sunk[sunk] = shapely.area(shapely.difference(inks[sunk], ground)) < wanted[sunk]
    return np.asarray(sunk)

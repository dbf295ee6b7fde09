"""Letters that lie in the base cannot be seen on a welded piece."""

from collections.abc import Sequence
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold, warn
from namebatch.outline.arrays import Flags, Floats
from namebatch.outline.model import Letter, Order

SUNK = 0.6
"""A letter or a mark with more of its ink than this in the base is not seen."""
MOST = 0.5
"""A name with more of its ink than this in the base, or of its letters, cannot be read.

Both by looking at 385 welds of invented bases: at 0.36 to 0.44 heads were enough to read by, from
0.5 on no name could be read.
"""
BLANK = 0.98
"""Beyond this share the piece would be a blank."""
REMEDY = "Move the text box so that the letters stand out of the base, or engrave the name."

Shapes = npt.NDArray[np.object_]


class Ground:
    """What hides ink on a welded piece: the base and the holes that stay open in it.

    Ink in a window of the base's own drawing is seen, ink in a hole of the template is cut away.
    """

    def __init__(self, order: Order) -> None:
        self._base, self._holes = order.base, order.holes
        self.bounds: tuple[float, float, float, float] = order.base.bounds

    @cached_property
    def shape(self) -> Polygon | MultiPolygon:
        """As one shape, mm."""
        return shapely.union_all([self._base, *self._holes]) if self._holes else self._base

    def hides(self, inks: Shapes, more_than: float) -> Floats:
        """The share of each ink that is hidden; 0 where it plainly is not more than so much."""
        return self.of_those_near(inks, self.near(inks), more_than)

    def near(self, inks: Shapes) -> Floats:
        """The area of each ink within the bounds of the base: no more than that is hidden, mm²."""
        return np.asarray(shapely.area(shapely.clip_by_rect(inks, *self.bounds)))

    def of_those_near(self, inks: Shapes, near: Floats, more_than: float) -> Floats:
        """As `hides`, from what is `near`."""
        areas = np.maximum(shapely.area(inks), 1e-9)
        shares = near / areas
        close = shares > more_than
        if close.any():
            shares[close] = shapely.area(shapely.intersection(inks[close], self.shape))
            shares[close] /= areas[close]
        return np.where(shares > more_than, shares, 0.0)


def what_is_hidden(order: Order) -> list[Finding]:
    """Hold a welded name that cannot be read, and tell letters that lie in the base."""
    if order.base.is_empty or order.text.is_empty:  # a name that stands free
        return []
    ground = Ground(order)
    inks = np.array([letter.shape for letter in order.letters], dtype=object)
    near = ground.near(inks)
    sunk = ground.of_those_near(inks, near, SUNK) > SUNK
    text = np.array([order.text], dtype=object)
    hidden = 0.0
    if not len(inks) or near.sum() > MOST * order.text.area:
        hidden = float(ground.hides(text, MOST)[0])
    if hidden > BLANK:
        return [_blank()]
    if hidden > MOST or (sunk.any() and sunk.mean() > MOST):
        return [_unreadable(order.letters, sunk, hidden)]
    if not sunk.any():
        return []
    return [
        warn(
            "letters-in-base",
            f"{_lying(order.letters, sunk)} inside the base, wholly or for the most part, and "
            "hardly seen. Move the text box up, or look whether the name can still be read.",
        )
    ]


def sunk_letters(order: Order, ground: Ground) -> Flags:
    """Which letters lie in the base for the most part."""
    inks = np.array([letter.shape for letter in order.letters], dtype=object)
    return ground.hides(inks, SUNK) > SUNK


def _blank() -> Finding:
    return hold(
        "text-in-base",
        f"The name lies inside the base and would not be seen on the piece. {REMEDY}",
    )


def _unreadable(letters: Sequence[Letter], sunk: Flags, hidden: float) -> Finding:
    if hidden > MOST:
        head = f"{100 * hidden:.0f} % of the name's ink lies inside the base"
    else:
        head = f"{_lying(letters, sunk)} inside the base"
    return hold("text-in-base", f"{head}: what is left cannot be read. {REMEDY}")


def _lying(letters: Sequence[Letter], which: Flags) -> str:
    """The letters, each named once, with a verb that fits their number."""
    texts = [letter.text for letter, one in zip(letters, which, strict=True) if one]
    named = ", ".join(f'"{text}"' for text in dict.fromkeys(texts))
    return f"{named} of the name {'lies' if len(texts) == 1 else 'lie'}"

"""A printed A4 sheet under a cutter: its frame's corners, laid anyhow, read with errors."""

from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from namebatch.curves import Affine, apply, compose
from namebatch.registration import Mark

NAMES = ("bottom-left", "bottom-right", "top-right", "top-left")
CORNERS = ((5.5, 7.5), (204.5, 7.5), (204.5, 291.5), (5.5, 291.5))
"""Of the frame on A4 with margins of 5, 5, 7 and 5 mm."""


def laid(
    angle_deg: float = 0.7,
    scale: tuple[float, float] = (1.0, 1.0),
    skew: float = 0.0,
    shift: tuple[float, float] = (37.0, 52.0),
) -> Affine:
    """How a print lies: stretched by the printer, skewed, turned and moved."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    stretch = (scale[0], 0.0, skew * scale[1], scale[1], 0.0, 0.0)
    return compose((c, s, -s, c, *shift), stretch)


def marks(affine: Affine, only: tuple[int, ...] = (0, 1, 2, 3)) -> tuple[Mark, ...]:
    """The corners read without error."""
    return tuple(Mark(NAMES[i], CORNERS[i], (apply(affine, CORNERS[i]),)) for i in only)


def noisy(affine: Affine, errors: NDArray[np.float64]) -> tuple[Mark, ...]:
    """The corners read with errors, readings × 4 × 2."""
    true = np.array([apply(affine, corner) for corner in CORNERS])
    read = (true + errors).tolist()
    return tuple(
        Mark(NAMES[i], CORNERS[i], tuple((one[i][0], one[i][1]) for one in read)) for i in range(4)
    )


def error_mm(found: Affine, true: Affine) -> float:
    """The largest distance of the two maps over the frame: at a corner, as both are affine."""
    return max(
        float(np.hypot(*np.subtract(apply(found, corner), apply(true, corner))))
        for corner in CORNERS
    )

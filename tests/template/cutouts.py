"""Helpers: pictures of shapes that are known exactly, for traces of them."""

from collections.abc import Callable
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image
from shapely import Polygon

Cover: TypeAlias = npt.NDArray[np.float64]
Inside: TypeAlias = Callable[[Cover, Cover], npt.NDArray[np.bool_]]
FINE = 8
"""Samples a pixel and direction."""

RED, WHITE = (200, 40, 30), (255, 255, 255)


def cover(inside: Inside, size_mm: tuple[float, float], dpi: float) -> Cover:
    """The share of each pixel that is inside; x and y in mm, y up, first row on top."""
    width, height = (round(side / 25.4 * dpi) for side in size_mm)
    x = (np.arange(width * FINE) + 0.5) / (width * FINE) * size_mm[0]
    y = size_mm[1] - (np.arange(height * FINE) + 0.5) / (height * FINE) * size_mm[1]
    flags = inside(*np.meshgrid(x, y))
    return np.asarray(flags.reshape(height, FINE, width, FINE).mean(axis=(1, 3)))


def disc(x0: float, y0: float, radius: float) -> Inside:
    """A circle."""
    return lambda x, y: (x - x0) ** 2 + (y - y0) ** 2 <= radius**2


def square(x0: float, y0: float, side: float, angle_deg: float) -> Inside:
    """A square about a point, turned."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))

    def inside(x: Cover, y: Cover) -> npt.NDArray[np.bool_]:
        u, v = c * (x - x0) + s * (y - y0), c * (y - y0) - s * (x - x0)
        return np.asarray(np.maximum(np.abs(u), np.abs(v)) <= side / 2)

    return inside


def cut_out(share: Cover, colour: tuple[int, int, int] = RED) -> Image.Image:
    """A picture whose alpha is the share."""
    flat = [np.full(share.shape, channel, dtype=np.float64) for channel in colour]
    return Image.fromarray(np.rint(np.dstack([*flat, share * 255])).astype(np.uint8))


def on_ground(
    share: Cover,
    colour: tuple[int, int, int] = RED,
    ground: tuple[int, int, int] = WHITE,
) -> Image.Image:
    """A picture on a plain background."""
    mixed = share[..., None] * np.array(colour) + (1 - share[..., None]) * np.array(ground)
    return Image.fromarray(np.rint(mixed).astype(np.uint8))


def points_of(shape: Polygon, step: float = 0.05) -> Cover:
    """Points all along a shape's outer ring."""
    return np.asarray(shapely.get_coordinates(shapely.segmentize(shape.exterior, step)))

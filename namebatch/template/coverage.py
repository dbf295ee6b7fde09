"""How much of each pixel belongs to the artwork: from its alpha, or from a plain background."""

from dataclasses import dataclass
from io import BytesIO
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
from PIL import Image

from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem

Grid: TypeAlias = npt.NDArray[np.float32]

MOST_PIXELS = 6_000_000
"""Larger pictures are traced scaled down; this is 500 dpi on a postcard."""

SEE_THROUGH = 0.002
"""A picture is cut out by its alpha if at least this share of its pixels is see-through."""

PLAIN = 0.6
"""The background is plain if at least this share of the border has its colour."""

SAME = 12.0
"""Colours nearer than this (of 442, from black to white) look the same."""

NOISE = 3.0
"""A colour differs from the background beyond this many times the border's own unrest."""

REACH = 2
"""The artwork's own colour is looked for so many pixels around."""


@dataclass(frozen=True, slots=True)
class Coverage:
    """The artwork on its pixels.

    Attributes:
        grid: 0 to 1, first row on top.
        by: what it was found by.
        scale: pixels of the grid for one of the picture, at most 1.
    """

    grid: Grid
    by: str
    scale: float


def coverage(picture: RasterPicture, place: str) -> Coverage:
    """The share of each pixel that belongs to the artwork.

    Raises:
        FileProblem: the picture has neither transparency nor a plain background.
    """
    with Image.open(BytesIO(picture.data), formats=["PNG", "JPEG"]) as opened:
        image, scale = _scaled(opened)
        if "A" in image.getbands():
            alpha = np.asarray(image.getchannel("A"), dtype=np.float32) / np.float32(255)
            if float((alpha < 0.5).mean()) >= SEE_THROUGH:
                return Coverage(alpha, "alpha", scale)
        plain = image.convert("RGB")
    return Coverage(_from_background(plain, place), "background", scale)


def _scaled(image: Image.Image) -> tuple[Image.Image, float]:
    """The picture, no larger than is of use; averaged, so that edges keep their place."""
    width, height = image.size
    if width * height <= MOST_PIXELS:
        return image, 1.0
    scale = (MOST_PIXELS / (width * height)) ** 0.5
    size = max(1, round(width * scale)), max(1, round(height * scale))
    return image.resize(size, Image.Resampling.BOX), scale


def _from_background(image: Image.Image, place: str) -> Grid:
    """Distance from the border's colour as a share of that of the artwork close by.

    A pixel on the edge mixes both colours, so the share is how much of it is covered.
    """
    pixels = np.asarray(image, dtype=np.float32)
    border = np.concatenate([pixels[0], pixels[-1], pixels[1:-1, 0], pixels[1:-1, -1]])
    colour = _commonest(border)
    away = np.linalg.norm(border - colour, axis=1)
    like = away <= 2 * SAME
    if like.mean() < PLAIN:
        raise FileProblem(
            place,
            "has no plain background that reaches its border, and nothing in it is see-through; "
            "save the artwork as PNG with a transparent background.",
        )
    unrest = float(np.sqrt(np.mean(away[like] ** 2)))
    floor = max(2 * SAME, 2 * NOISE * unrest)
    distance = np.sqrt(np.sum((pixels - colour) ** 2, axis=2))
    own = np.maximum(_largest_near(distance), floor)
    return np.asarray(np.minimum(distance / own, 1.0), dtype=np.float32)


def _largest_near(grid: Grid) -> Grid:
    """The largest value in the square of `REACH` pixels around each; rows, then columns."""
    for axis in (0, 1):
        found = grid.copy()
        for step in range(1, REACH + 1):
            ahead, behind = (slice(step, None), slice(None, -step))
            if axis == 1:
                np.maximum(found[:, behind], grid[:, ahead], out=found[:, behind])
                np.maximum(found[:, ahead], grid[:, behind], out=found[:, ahead])
            else:
                np.maximum(found[behind], grid[ahead], out=found[behind])
                np.maximum(found[ahead], grid[behind], out=found[ahead])
        grid = found
    return grid


def _commonest(colours: Grid) -> Grid:
    """The colour that most of the border has: the commonest of coarse steps, then their mean."""
    steps = (colours // 16).astype(np.int64)
    keys = steps[:, 0] * 256 + steps[:, 1] * 16 + steps[:, 2]
    values, counts = np.unique(keys, return_counts=True)
    colour = colours[keys == values[np.argmax(counts)]].mean(axis=0)
    # Once more around that, in case the colour lies at the rim of a step.
    close = np.linalg.norm(colours - colour, axis=1) <= SAME
    return np.asarray(colours[close].mean(axis=0) if close.any() else colour, dtype=np.float32)

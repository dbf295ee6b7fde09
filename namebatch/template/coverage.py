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

CLIMB = 0.05
"""An edge goes on, pixel by pixel inwards, while the colour differs by this share more."""

FARTHEST = 24
"""The artwork's own colour is looked for over so many pixels at most."""

REACH = 2
"""And at least so many, and so many past the end of the climb."""


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
    own, least = _around(distance, floor)
    share = np.minimum(distance / np.maximum(own, floor), 1.0)
    # Where no background is near, a pale part meets a dark one: that is no edge.
    share[least > floor] = 1.0
    return np.asarray(share, dtype=np.float32)


def _around(distance: Grid, floor: float) -> tuple[Grid, Grid]:
    """How far the artwork's own colour is from the background close to each pixel, and the least.

    From every pixel the edge is climbed until it levels out: two pixels where edges are sharp,
    and as far as they fade where they are soft. Looking far everywhere would take a dark part
    for the colour of a pale one beside it.
    """
    before, own, least = distance, distance, distance
    for _ in range(REACH):
        before, own, least = own, _widened(own), -_widened(-least)
    climbing = (own > floor) & (own > (1 + CLIMB) * before)
    past = np.zeros(distance.shape, dtype=np.uint8)
    largest, smallest = own, least
    for _ in range(FARTHEST - REACH):
        going = climbing | (past > 0)
        if not going.any():
            break
        before, largest, smallest = largest, _widened(largest), -_widened(-smallest)
        own, least = np.where(going, largest, own), np.where(going, smallest, least)
        past -= past > 0
        ends = climbing & (largest <= (1 + CLIMB) * before)
        past[ends] = REACH
        climbing &= ~ends
    return own, least


def _widened(grid: Grid) -> Grid:
    """The largest value of each pixel and the eight around it; rows, then columns."""
    for axis in (0, 1):
        found = grid.copy()
        ahead = (slice(1, None), slice(None)) if axis == 0 else (slice(None), slice(1, None))
        behind = (slice(None, -1), slice(None)) if axis == 0 else (slice(None), slice(None, -1))
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

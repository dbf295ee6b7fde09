"""A line that text follows, as points at even distances with normals that turn smoothly."""

from dataclasses import dataclass
from math import ceil, degrees

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon

Floats = NDArray[np.float64]

STEP_MM = 0.2
MOST_POINTS = 20_000
SHARPEST_DEG = 30.0
"""Letters would break over a sharper corner."""
SMOOTHED = 0.35
"""Over so much of the room's height, to each side, the direction of the line is averaged."""
LEAST_STRETCH = 0.2
"""Where the line turns, what lies on its inner side is pressed together no further than this."""


@dataclass(frozen=True, slots=True)
class Guide:
    """A line by its length.

    Attributes:
        step: distance of two points along the line, in mm.
        points: (n, 2) in mm.
        normals: (n, 2), of length 1, to the left of the line as it runs.
    """

    step: float
    points: Floats
    normals: Floats

    @property
    def length(self) -> float:
        """Of the whole line in mm."""
        return self.step * (len(self.points) - 1)

    def frames(self, at: Floats) -> tuple[Floats, Floats]:
        """Points and normals at lengths from the start; straight on beyond the ends."""
        place = np.clip(at / self.step, 0, len(self.points) - 1)
        index = np.minimum(place.astype(np.int64), len(self.points) - 2)
        share = (place - index)[:, None]
        points = self.points[index] * (1 - share) + self.points[index + 1] * share
        normals = self.normals[index] * (1 - share) + self.normals[index + 1] * share
        normals /= np.hypot(normals[:, 0], normals[:, 1])[:, None]
        beyond = at - place * self.step
        return points + beyond[:, None] * turned(normals, -1), normals

    def strip(self, below_mm: float, above_mm: float, longer_mm: float = 0.0) -> Polygon:
        """The area from so far below the line to so far above it, drawn out at both ends."""
        at: Floats = np.linspace(0.0, self.length, len(self.points))
        if longer_mm:
            at = np.concatenate(([-longer_mm], at, [self.length + longer_mm]), dtype=np.float64)
        points, normals = self.frames(at)
        low, high = points - below_mm * normals, points + above_mm * normals
        return Polygon(np.concatenate([low, high[::-1]]))

    def stretch(self, height_mm: float) -> Floats:
        """How much longer the line is so far to its left, step by step; below 0 it folds."""
        moved = self.points + height_mm * self.normals
        ahead = turned(self.normals, -1)
        ahead = ahead[:-1] + ahead[1:]
        ahead /= np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
        found: Floats = np.sum(np.diff(moved, axis=0) * ahead, axis=1) / self.step
        return found


def turned(vectors: Floats, quarters: int) -> Floats:
    """Vectors turned by a quarter, to the left (1) or to the right (-1)."""
    return np.column_stack([-quarters * vectors[:, 1], quarters * vectors[:, 0]])


def guide_along(line: LineString, room_mm: tuple[float, float]) -> Guide:
    """A line made ready for text.

    Args:
        line: of some length.
        room_mm: how far text reaches below and above it; corners are rounded over that much.
    """
    length = line.length
    count = min(max(ceil(length / STEP_MM), 8), MOST_POINTS)
    step = length / count
    points = shapely.get_coordinates(line.interpolate(np.arange(count + 1) * step))
    reach = max(1, min(round(SMOOTHED * max(room_mm) / step), count // 4))
    # the line goes straight on beyond its ends, unless it is closed
    closed = line.is_closed
    steps = np.diff(points, axis=0)
    steps = np.concatenate(
        [
            steps[-reach:] if closed else np.repeat(steps[:1], reach, axis=0),
            steps,
            steps[:reach] if closed else np.repeat(steps[-1:], reach, axis=0),
        ]
    )
    sums = np.concatenate([[[0.0, 0.0]], np.cumsum(steps, axis=0)])
    ahead = sums[2 * reach :] - sums[: -2 * reach]
    normals = turned(ahead, 1)
    sizes = np.hypot(normals[:, 0], normals[:, 1])
    normals /= np.maximum(sizes, 1e-9)[:, None]
    return Guide(step, points, normals)


def sharpest_corner(line: LineString) -> tuple[float, tuple[float, float]]:
    """The greatest turn of a line in degrees, and where."""
    points = shapely.get_coordinates(line)
    steps = np.diff(points, axis=0)
    if line.is_closed:
        steps = np.concatenate([steps, steps[:1]])
    directions = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    turns = np.abs(np.diff(directions))
    if len(turns) == 0:
        return 0.0, (float(points[0, 0]), float(points[0, 1]))
    worst = int(np.argmax(turns))
    return degrees(float(turns[worst])), (float(points[worst + 1, 0]), float(points[worst + 1, 1]))

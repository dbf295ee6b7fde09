"""Parallel lines laid over polygons: where each line enters and leaves them. Lengths in mm.

A bar in a given direction is a piece of such a line, so all bars of one direction are found in
one sweep, without one geometry operation a candidate.
"""

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np
import numpy.typing as npt
import shapely

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

FAR = 1e6
"""Longer than anything in mm; sorts lines apart in one array."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A direction: `along` runs with the bars, `across` tells them apart.

    Attributes:
        lean_deg: from upright, to the right; 90 is level.
    """

    lean_deg: float

    @property
    def along(self) -> tuple[float, float]:
        """Unit vector of the bars."""
        return sin(radians(self.lean_deg)), cos(radians(self.lean_deg))

    @property
    def across(self) -> tuple[float, float]:
        """Unit vector at right angles to the bars."""
        return cos(radians(self.lean_deg)), -sin(radians(self.lean_deg))

    def turn(self, xy: Floats) -> Floats:
        """Points as (across, along)."""
        return xy @ np.array([self.across, self.along]).T

    def back(self, at: Floats, height: Floats) -> Floats:
        """Points from across and along."""
        return np.column_stack([at, height]) @ np.array([self.across, self.along])


@dataclass(frozen=True, slots=True)
class Spans:
    """Where lines run inside polygons; sorted by line, then upwards.

    Attributes:
        line: index of the line.
        low: where it enters.
        high: where it leaves.
        owner: index of the polygon.
    """

    line: Ints
    low: Floats
    high: Floats
    owner: Ints

    def covered(self, line: Ints, low: Floats, high: Floats) -> Floats:
        """Length of each stretch of a line that lies inside the polygons."""
        if not len(self.line):
            return np.zeros(len(line))
        starts, ends = self.line * FAR + self.low, self.line * FAR + self.high
        total = np.concatenate([[0.0], np.cumsum(self.high - self.low)])

        def until(key: Floats) -> Floats:
            before = np.searchsorted(starts, key, side="right") - 1
            inside = np.minimum(key, ends[before]) - starts[before]
            return np.where(before < 0, 0.0, total[before] + inside)

        return until(line * FAR + high) - until(line * FAR + low)


def scan(polygons: npt.NDArray[np.object_], frame: Frame, lines: Floats) -> Spans:
    """Cross polygons that do not overlap with parallel lines.

    Args:
        polygons: polygons with their holes.
        frame: direction of the lines.
        lines: where they lie across, ascending.
    """
    rings, ring_owner = shapely.get_rings(polygons, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    if not len(xy) or not len(lines):
        none = np.zeros(0, dtype=np.intp)
        return Spans(none, np.zeros(0), np.zeros(0), none)
    turned = frame.turn(xy)
    same = ring[1:] == ring[:-1]
    u0, v0 = turned[:-1][same].T
    u1, v1 = turned[1:][same].T
    # half open, so that a corner that lies on a line counts once
    first = np.searchsorted(lines, np.minimum(u0, u1), side="left")
    count = np.searchsorted(lines, np.maximum(u0, u1), side="left") - first
    edge = np.repeat(np.arange(len(u0)), count)
    step = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    line = first[edge] + step
    share = (lines[line] - u0[edge]) / (u1[edge] - u0[edge])
    height = v0[edge] + share * (v1[edge] - v0[edge])
    owner = ring_owner[ring[:-1][same]][edge]
    order = np.lexsort((height, line))
    line, height, owner = line[order], height[order], owner[order]
    return Spans(line[::2], height[::2], height[1::2], owner[::2])

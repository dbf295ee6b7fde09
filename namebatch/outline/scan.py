"""Parallel lines laid over polygons: where each line enters and leaves them. Lengths in mm.

A bar in a given direction is a piece of such a line, so all bars of one direction are found in
one sweep, without one geometry operation a candidate.
"""

import itertools
from collections.abc import Sequence
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
        return np.asarray(xy @ np.array([self.across, self.along]).T)

    def back(self, at: Floats, height: Floats) -> Floats:
        """Points from across and along."""
        return np.asarray(np.column_stack([at, height]) @ np.array([self.across, self.along]))


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


@dataclass(frozen=True, slots=True)
class Edges:
    """Edges of several layers of polygons, ready to be crossed in any direction.

    Attributes:
        starts, ends: x, y of each edge.
        owner: index of its polygon within the layer.
        layer: index of its layer.
        layers: how many there are.
    """

    starts: Floats
    ends: Floats
    owner: Ints
    layer: Ints
    layers: int

    def scan(self, frame: Frame, lines: Floats) -> list[Spans]:
        """Cross the polygons of each layer, which do not overlap, with parallel lines.

        Args:
            frame: direction of the lines.
            lines: where they lie across, ascending.

        Returns:
            The spans of each layer.
        """
        u0, v0 = frame.turn(self.starts).T
        u1, v1 = frame.turn(self.ends).T
        # half open, so that a corner that lies on a line counts once
        first = np.searchsorted(lines, np.minimum(u0, u1), side="left")
        count = np.searchsorted(lines, np.maximum(u0, u1), side="left") - first
        edge = np.repeat(np.arange(len(u0)), count)
        line = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count - first, count)
        share = (lines[line] - u0[edge]) / (u1[edge] - u0[edge])
        height = v0[edge] + share * (v1[edge] - v0[edge])
        layer = self.layer[edge]
        order = np.lexsort((height, line, layer))
        line, height, owner = line[order], height[order], self.owner[edge[order]]
        bounds = np.searchsorted(layer[order], np.arange(self.layers + 1))
        return [
            Spans(line[a:b:2], height[a:b:2], height[a + 1 : b : 2], owner[a:b:2])
            for a, b in itertools.pairwise(bounds)
        ]

    def inside(self, layer: int, lines: Floats, starts_inside: bool) -> Floats:
        """The share of each line that lies inside the polygons of a layer.

        Args:
            layer: its index.
            lines: x, y of both ends of each line.
            starts_inside: whether lines start inside.
        """
        of = self.layer == layer
        p, e = self.starts[of], self.ends[of] - self.starts[of]
        a, d = lines[:, :2], lines[:, 2:] - lines[:, :2]
        off = p[None, :, :] - a[:, None, :]
        turn = d[:, None, 0] * e[None, :, 1] - d[:, None, 1] * e[None, :, 0]
        # which side of the line both ends of an edge lie on, half open as in `scan`
        side = off[..., 0] * d[:, None, 1] - off[..., 1] * d[:, None, 0]
        row, edge = np.nonzero((side > 0) != (side - turn > 0))
        share = off[row, edge, 0] * e[edge, 1] - off[row, edge, 1] * e[edge, 0]
        share = share / turn[row, edge]
        row, share = row[(share > 0) & (share < 1)], share[(share > 0) & (share < 1)]
        order = np.lexsort((share, row))
        row, share = row[order], share[order]
        count = np.bincount(row, minlength=len(lines))
        rank = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
        total = np.bincount(row, weights=share * (1 - 2 * (rank % 2)), minlength=len(lines))
        # a line that ends inside counts to its end
        share = total + (count % 2 == 0) if starts_inside else (count % 2 == 1) - total
        return np.asarray(share, dtype=np.float64)


def edges_of(layers: Sequence[npt.NDArray[np.object_]]) -> Edges:
    """Edges of polygons with their holes, layer by layer."""
    number = [len(layer) for layer in layers]
    polygons = np.concatenate(layers)
    rings, polygon = shapely.get_rings(polygons, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    of = polygon[ring[:-1][same]]
    layer = np.repeat(np.arange(len(layers)), number)
    within = np.concatenate([np.arange(n) for n in number])
    return Edges(xy[:-1][same], xy[1:][same], within[of], layer[of], len(layers))

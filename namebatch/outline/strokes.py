"""Bent middle lines of thin strokes: the shortest ways over a triangulation. Lengths in mm.

The triangles of a thin stroke lie across it, so a way through the middles of the edges that
they share runs along its middle (a chordal axis).
"""

import heapq
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, Polygon

from namebatch.outline.cores import Polygons

GROWN = 0.1
"""Cores are grown by this share of the width, so that they do not end in mere points."""
COARSE_MM = 0.05
"""A middle line need not follow every chord."""
SIMPLIFY_MM = 0.02
NODE_MM = 1e-7

Place = tuple[float, float]


@dataclass(slots=True)
class _Search:
    """A search that spreads from all cores at once.

    Attributes:
        came: triangle → the triangle before it, where it was entered, how far, and its core.
        queue: what is to be looked at next.
    """

    came: dict[int, tuple[int, Place, float, int]] = field(default_factory=dict)
    queue: list[tuple[float, int, int, Place, int]] = field(default_factory=list)

    def way(self, triangle: int) -> list[Place]:
        """Places from a triangle back to its core."""
        found: list[Place] = []
        while triangle >= 0:
            triangle, at, _, _ = self.came[triangle]
            found.append(at)
        return found


def strokes(
    part: Polygon,
    cores: Polygons,
    group: npt.NDArray[np.intp],
    width_mm: float,
    within: shapely.Geometry | None,
) -> tuple[list[LineString], npt.NDArray[np.intp]]:
    """The shortest ways within a part that join groups of its cores.

    Args:
        part: the part.
        cores: its cores.
        group: cores of the same number are joined already.
        width_mm: the least width.
        within: where to look; everywhere if None.

    Returns:
        The ways, and the groups after joining.
    """
    group = group.copy()
    found: list[LineString] = []
    coarse = shapely.simplify(cores, COARSE_MM)
    area = shapely.simplify(part, COARSE_MM)
    if within is not None:
        coarse, area = shapely.intersection(coarse, within), shapely.intersection(area, within)
    grown = shapely.buffer(coarse, width_mm * GROWN, quad_segs=1)
    thin = shapely.difference(area, shapely.union_all(grown))
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(thin))
    if not len(triangles):
        return found, group
    near = _shared_edges(triangles)
    core, triangle = shapely.STRtree(triangles).query(grown, predicate="intersects")
    search = _spread(triangles, near, core, triangle)
    for _, here, there, middle in _meetings(search, near):
        one, other = search.came[here][3], search.came[there][3]
        if group[one] != group[other]:
            group[group == group[other]] = group[one]
            path = [*search.way(here)[::-1], middle, *search.way(there)]
            found.append(_line(path, cores[one], cores[other]))
    return found, group


def _shared_edges(triangles: Polygons) -> list[list[tuple[int, Place]]]:
    """For each triangle its neighbours, with the middle of the edge between."""
    xy = shapely.get_coordinates(triangles).reshape(-1, 4, 2)
    keys = np.round(xy[:, :3] / NODE_MM).astype(np.int64).reshape(-1, 2)
    _, node = np.unique(keys, axis=0, return_inverse=True)
    node = node.reshape(-1, 3)
    ends = np.sort(np.stack([node, np.roll(node, -1, axis=1)], axis=2), axis=2).reshape(-1, 2)
    middles = ((xy[:, :3] + xy[:, 1:]) / 2).reshape(-1, 2)
    order = np.lexsort(ends.T)
    twin = np.flatnonzero((ends[order[1:]] == ends[order[:-1]]).all(axis=1))
    near: list[list[tuple[int, Place]]] = [[] for _ in range(len(xy))]
    for edge, other in zip(order[twin].tolist(), order[twin + 1].tolist(), strict=True):
        middle = (float(middles[edge, 0]), float(middles[edge, 1]))
        near[edge // 3].append((other // 3, middle))
        near[other // 3].append((edge // 3, middle))
    return near


def _spread(
    triangles: Polygons,
    near: list[list[tuple[int, Place]]],
    cores: npt.NDArray[np.intp],
    starts: npt.NDArray[np.intp],
) -> _Search:
    """Reach every triangle from the nearest core (Dijkstra from many sources)."""
    centres = shapely.get_coordinates(shapely.centroid(triangles[starts])).tolist()
    search = _Search()
    for core, start, (x, y) in zip(cores.tolist(), starts.tolist(), centres, strict=True):
        search.queue.append((0.0, start, core, (x, y), -1))
    heapq.heapify(search.queue)
    while search.queue:
        far, here, core, at, before = heapq.heappop(search.queue)
        if here in search.came:
            continue
        search.came[here] = (before, at, far, core)
        for there, middle in near[here]:
            if there not in search.came:
                length = far + _distance(at, middle)
                heapq.heappush(search.queue, (length, there, core, middle, here))
    return search


def _meetings(
    search: _Search, near: list[list[tuple[int, Place]]]
) -> list[tuple[float, int, int, Place]]:
    """Where the ways from two cores meet, shortest first."""
    found: list[tuple[float, int, int, Place]] = []
    for here, (_, at, far, core) in search.came.items():
        for there, middle in near[here]:
            if there > here and there in search.came and search.came[there][3] != core:
                _, other_at, other_far, _ = search.came[there]
                length = far + other_far + _distance(at, middle) + _distance(middle, other_at)
                found.append((length, here, there, middle))
    return sorted(found)


def _distance(one: Place, other: Place) -> float:
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5)


def _line(path: list[Place], one: Polygon, other: Polygon) -> LineString:
    """A path, made to start and end in the cores."""
    first = shapely.get_coordinates(shapely.shortest_line(one, shapely.Point(path[0])))[0]
    last = shapely.get_coordinates(shapely.shortest_line(other, shapely.Point(path[-1])))[0]
    return shapely.simplify(LineString([first, *path, last]), SIMPLIFY_MM)

"""The narrowest neck by the medial axis of boundary samples; shares nothing with the product."""

from math import hypot

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Voronoi
from shapely import Polygon

Floats = NDArray[np.float64]


def narrowest_by_samples(
    shape: Polygon, below_mm: float, step_mm: float = 0.1, bulge_mm: float = 0.01
) -> float:
    """Width of the narrowest neck or wall that is narrower than a width.

    Voronoi vertices of boundary samples that lie inside are centres of the largest circles
    (Amenta & Bern 1999). Their edges are joined from the widest down: an edge that joins two
    groups, each with a circle wider than it, is a neck; one that closes a loop is the wall of a
    hole, with the hole's ring on one side and another ring on the other. Between parallel walls
    of width w the figure is too large by at most step²/(8·w).

    Args:
        shape: valid.
        below_mm: what is wider is not looked for.
        step_mm: distance of the samples.
        bulge_mm: a group counts if its widest circle is wider than the edge by this much, and
            by what samples so far apart can feign.

    Returns:
        `below_mm` if there is neither neck nor wall.
    """
    rings = [
        shapely.get_coordinates(shapely.segmentize(ring, step_mm))[:-1]
        for ring in (shape.exterior, *shape.interiors)
    ]
    xy = np.concatenate(rings)
    starts = np.cumsum([0, *(len(ring) for ring in rings)])
    owner = np.repeat(np.arange(len(rings)), np.diff(starts))
    following = np.arange(1, len(xy) + 1)
    following[starts[1:] - 1] = starts[:-1]
    diagram = Voronoi(xy)
    ends = np.array(diagram.ridge_vertices)
    sites = diagram.ridge_points
    shapely.prepare(shape)
    inside = shapely.contains_xy(shape, diagram.vertices)
    across = (following[sites[:, 0]] != sites[:, 1]) & (following[sites[:, 1]] != sites[:, 0])
    kept = across & (ends >= 0).all(axis=1)
    kept[kept] = inside[ends[kept]].all(axis=1)
    ends, sites = ends[kept], sites[kept]
    radius = np.full(len(diagram.vertices), -1.0)
    radius[ends] = np.hypot(*(diagram.vertices[ends] - xy[sites[:, :1]]).transpose(2, 0, 1))
    a, b, middle = (
        diagram.vertices[ends[:, 0]],
        diagram.vertices[ends[:, 1]],
        xy[sites].mean(axis=1),
    )
    between = np.einsum("ij,ij->i", middle - a, b - a) * np.einsum("ij,ij->i", middle - b, a - b)
    half = np.hypot(*(xy[sites[:, 1]] - xy[sites[:, 0]]).T) / 2
    least = np.where(between > 0, half, radius[ends].min(axis=1))
    walls = owner[sites[:, 0]] != owner[sites[:, 1]]
    return 2 * _first_neck(ends, least, walls, radius, below_mm / 2, step_mm / 2, bulge_mm / 2)


def _first_neck(
    ends: NDArray[np.int64],
    least: Floats,
    walls: NDArray[np.bool_],
    radius: Floats,
    below: float,
    feigned: float,
    bulge: float,
) -> float:
    """Join edges from the widest down; the narrowest that matters, as a radius."""
    wide = least >= below
    count = len(radius)
    links = coo_array((np.ones(wide.sum()), (ends[wide, 0], ends[wide, 1])), shape=(count, count))
    _, group = connected_components(links, directed=False)
    parent = list(range(group.max() + 1))
    most = np.full(len(parent), -1.0)
    np.maximum.at(most, group, radius)
    widest: list[float] = most.tolist()

    def top(v: int) -> int:
        while parent[v] != v:
            parent[v] = parent[parent[v]]
            v = parent[v]
        return v

    found = below
    left = np.flatnonzero(~wide)
    for k in left[np.argsort(-least[left], kind="stable")].tolist():
        p, q = top(int(group[ends[k, 0]])), top(int(group[ends[k, 1]]))
        width = float(least[k])
        bulges = min(widest[p], widest[q]) > hypot(width, feigned) + bulge
        if walls[k] if p == q else bulges:
            found = min(found, width)
        if p != q:
            parent[p] = q
            widest[q] = max(widest[p], widest[q])
    return found

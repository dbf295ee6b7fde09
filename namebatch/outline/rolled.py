"""A contour by rolling a disc round points: its line in closed form. Lengths in mm.

The closing of a grown shape is what a disc cannot reach from outside (see `contour`). Only few of
a shape's points are ever touched by that disc: the corners of its alpha shape (Edelsbrunner,
Kirkpatrick and Seidel, On the shape of a set of points in the plane, 1983). Between two of them
the line is an arc about the disc's middle, round each of them an arc about the point; where the
two are ends of one edge of the shape it runs along that edge. No curve is moved out whole and cut
into pieces, of which most are thrown away.
"""

from math import sqrt
from typing import Any

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled
from namebatch.outline.roll import rolled
from namebatch.outline.roll_line import arcs_cross, drawn, lies_in

LEAST_MM = 0.1
"""Distances and discs smaller than this are for buffers."""

MOST_POINTS = 1_000_000
"""Longer lines are for buffers: a comb of a thousand metres would be hundreds of millions."""

LEAST_SHARE = 1 / 8
"""And so are discs smaller than this share of the distance: where one touches an edge is known
to the distance of two points only, which moves a small arc more than a large one."""


def rolled_round(
    shapes: shapely.Geometry,
    distance_mm: float,
    closing_mm: float,
    chord_mm: float,
    simpler_mm: float,
) -> Polygon | None:
    """The outer line round shapes: their closing by a disc after they have grown.

    Args:
        shapes: valid polygons, overlapping or not; holes are not looked at.
        distance_mm: how far they grow.
        closing_mm: radius of the disc.
        chord_mm: largest distance of a chord from its arc, and of the disc into an edge.
        simpler_mm: vertices nearer than this to the line between their neighbours are left out.

    Returns:
        One polygon without holes; None where the line would not be one simple ring, where
        there is something else than polygons, or far too long a line: then it is for buffers.
    """
    if min(distance_mm, closing_mm) < LEAST_MM or closing_mm < LEAST_SHARE * distance_mm:
        return None
    parts = shapely.get_parts(shapely.get_parts(shapes))
    parts = parts[~shapely.is_empty(parts)]
    if not len(parts):
        return None
    if (shapely.get_type_id(parts) != shapely.GeometryType.POLYGON).any():
        return None
    apart = sqrt(8 * (distance_mm + closing_mm) * chord_mm)  # the disc sags so little between
    rings = shapely.get_exterior_ring(parts)
    if shapely.length(rings).sum() / apart + shapely.get_num_coordinates(rings).sum() > MOST_POINTS:
        return None
    rings = shapely.segmentize(rings, apart)
    points, of = shapely.get_coordinates(rings, return_index=True)
    x, y = np.ascontiguousarray(points.T)
    first = np.searchsorted(of, np.arange(len(rings) + 1))
    found = _line(x, y, first, distance_mm, closing_mm, chord_mm)
    if not len(found):
        return None
    line = shapely.simplify(Polygon(found), simpler_mm, preserve_topology=False)
    return line if isinstance(line, Polygon) and line.is_valid else None


@compiled
def _line(x: Floats, y: Floats, first: Ints, distance: float, closing: float, chord: float) -> Any:
    """The ring's points; none where it would cross itself or leaves a shape out."""
    nothing = np.empty((0, 2))
    walk = rolled(x, y, first, distance + closing)
    if walk.ax.size < 2 or arcs_cross(walk, closing):
        return nothing
    ring = drawn(walk, distance, closing, chord)
    for k in range(first.size - 1):
        if not lies_in(ring, x[first[k]], y[first[k]]):
            return nothing
    return ring

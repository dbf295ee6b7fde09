"""Holes of a piece that are large enough for another piece to be cut from their inside. mm."""

from collections.abc import Iterator, Sequence
from math import pi

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from namebatch.outline.arrays import Floats

HOLLOW_MM = 15.0
"""A hole that takes a disc of this diameter is a hollow; smaller ones are never looked into."""


def is_hollow(ring: Floats) -> bool:
    """True if a closed line, given by its points, takes a disc of `HOLLOW_MM`."""
    if np.ptp(ring, axis=0).min() < HOLLOW_MM:
        return False
    hole = Polygon(ring)
    # most are told without a search for the largest disc
    if hole.area < pi / 4 * HOLLOW_MM**2:
        return False
    centre = shapely.centroid(hole)
    if shapely.distance(centre, hole.exterior) >= HOLLOW_MM / 2 and shapely.covers(hole, centre):
        return True
    line = shapely.maximum_inscribed_circle(hole, tolerance=0.1)
    return bool(2.0 * line.length >= HOLLOW_MM)


def with_hollows(outline: Polygon) -> Polygon:
    """A piece without its smaller holes."""
    hollows = [ring for ring in outline.interiors if is_hollow(shapely.get_coordinates(ring))]
    return Polygon(outline.exterior, hollows)


def hosts(
    outers: Sequence[Polygon], hollows: Sequence[tuple[int, Polygon]]
) -> tuple[NDArray[np.int64], list[bool]]:
    """How deep pieces lie in one another.

    Args:
        outers: the outer line of each piece, filled.
        hollows: of the pieces, each with the number of its own.

    Returns:
        Of each piece its rank: 0 if nothing lies in it, else one more than the greatest in it;
        and of each hollow whether anything lies in it.
    """
    inside: list[list[int]] = [[] for _ in outers]
    used: list[bool] = []
    tree = shapely.STRtree(outers)
    for owner, hollow in hollows:
        found = [int(k) for k in tree.query(hollow, predicate="contains") if k != owner]
        inside[owner] += found
        used.append(bool(found))
    ranks = np.zeros(len(outers), dtype=np.int64)
    for owner in _from_within(inside):
        ranks[owner] = 1 + max((int(ranks[k]) for k in inside[owner]), default=-1)
    return ranks, used


def _from_within(inside: Sequence[Sequence[int]]) -> Iterator[int]:
    """Every piece after all that lie in it: what lies deeper has fewer in it."""
    yield from sorted(range(len(inside)), key=lambda k: (len(inside[k]), k))

"""How a piece hangs from a hole."""

from collections.abc import Sequence
from itertools import combinations
from math import atan2, degrees
from typing import Literal

from shapely import Polygon

Edge = Literal["top", "bottom", "left", "right"]

TILT_WARN_DEG = 5.0
"""A piece that leans by more is told."""

UPWARDS = {"top": (0.0, 1.0), "bottom": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
"""Edge of the drawing that is up → the direction that then points up."""


def edge_near(outline: Polygon, hole: Polygon) -> Edge:
    """The side of a piece that a hole is near: it is meant to be up when the piece hangs.

    A luggage tag with its hole at the left end hangs with that end up. Of equally near
    sides the top comes first.
    """
    pin = hole.centroid
    return _edge_at(outline, pin.x, pin.y)


def _edge_at(outline: Polygon, x: float, y: float) -> Edge:
    x0, y0, x1, y1 = outline.bounds
    distances: dict[Edge, float] = {
        "top": y1 - y,
        "left": x - x0,
        "right": x1 - x,
        "bottom": y - y0,
    }
    return min(distances, key=lambda edge: round(distances[edge], 3))


def hang_tilt_deg(outline: Polygon, hole: Polygon, up: Edge | None = None) -> float:
    """The angle by which a piece leans when it hangs by a hole.

    It hangs with its centre of mass (of an even sheet: the centroid of its area) straight
    below the point that carries it; taken here as the hole's centre.

    Args:
        outline: the piece, holes cut out.
        hole: what carries it.
        up: the edge that is meant to be up; `edge_near` if not said.

    Returns:
        Degrees from hanging straight, 0 to 180.
    """
    mass, pin = outline.centroid, hole.centroid
    ux, uy = UPWARDS[up or edge_near(outline, hole)]
    dx, dy = pin.x - mass.x, pin.y - mass.y
    return abs(degrees(atan2(dx * uy - dy * ux, dx * ux + dy * uy)))


def tilt_by_holes(outline: Polygon, holes: Sequence[Polygon]) -> float:
    """The angle by which a piece leans when it hangs by its holes.

    By one hole as `hang_tilt_deg`. By two hooks or a cord through two holes it hangs with the
    line between them level, if its centre of mass lies below and between them; of several pairs
    the one that leans least counts, and where there is none, the first hole.

    Args:
        outline: the piece, holes cut out.
        holes: what can carry it, one or more.

    Returns:
        Degrees from hanging straight, 0 to 180.
    """
    mass = outline.centroid
    leans: list[float] = []
    for one, other in combinations(holes, 2):
        a, b = one.centroid, other.centroid
        ux, uy = UPWARDS[_edge_at(outline, (a.x + b.x) / 2, (a.y + b.y) / 2)]
        along = [(p.x - mass.x) * uy - (p.y - mass.y) * ux for p in (a, b)]
        above = [(p.x - mass.x) * ux + (p.y - mass.y) * uy for p in (a, b)]
        if min(above) > 0 and min(along) < 0 < max(along):
            rise, run = above[1] - above[0], along[1] - along[0]
            leans.append(degrees(atan2(abs(rise), abs(run))))
    return min(leans) if leans else hang_tilt_deg(outline, holes[0])

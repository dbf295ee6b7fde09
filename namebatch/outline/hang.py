"""How a piece hangs from a hole."""

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
    x0, y0, x1, y1 = outline.bounds
    pin = hole.centroid
    distances: dict[Edge, float] = {
        "top": y1 - pin.y,
        "left": pin.x - x0,
        "right": x1 - pin.x,
        "bottom": pin.y - y0,
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

"""How a piece hangs from a hole."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import atan2, degrees
from typing import Literal

from shapely import Polygon

from namebatch.curves import Point

Edge = Literal["top", "bottom", "left", "right"]

TILT_WARN_DEG = 5.0
"""A piece that leans by more is told."""

UPWARDS = {"top": (0.0, 1.0), "bottom": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
"""Edge of the drawing that is up → the direction that then points up."""


@dataclass(frozen=True, slots=True)
class Hang:
    """How a piece hangs.

    Attributes:
        support: the point that it hangs from, mm: the centre of a hole, or the place on the line
            between two holes that is straight above the centre of mass.
        mass: its centre of mass, mm.
        turn_deg: by which it turns when it is let hang, -180 to 180 from hanging straight;
            anticlockwise, its top to the left, is positive, seen from the front.
    """

    support: Point
    mass: Point
    turn_deg: float

    @property
    def tilt_deg(self) -> float:
        """How far it leans, either way: degrees from hanging straight, 0 to 180."""
        return abs(self.turn_deg)


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


def hang_by(mass: Point, support: Point, up: Point) -> Hang:
    """How a piece hangs by a point.

    Args:
        mass: its centre of mass.
        support: the point.
        up: the direction, as drawn, that is meant to be up.
    """
    dx, dy = support[0] - mass[0], support[1] - mass[1]
    turn = degrees(atan2(dx * up[1] - dy * up[0], dx * up[0] + dy * up[1]))
    return Hang(support, mass, turn)


def hang_by_hole(outline: Polygon, hole: Polygon, up: Edge | None = None) -> Hang:
    """How a piece hangs by a hole.

    It hangs with its centre of mass (of an even sheet: the centroid of its area) straight
    below the point that carries it; taken here as the hole's centre.

    Args:
        outline: the piece, holes cut out.
        hole: what carries it.
        up: the edge that is meant to be up; `edge_near` if not said.
    """
    mass, pin = outline.centroid, hole.centroid
    return hang_by((mass.x, mass.y), (pin.x, pin.y), UPWARDS[up or edge_near(outline, hole)])


def hang_by_holes(outline: Polygon, holes: Sequence[Polygon]) -> Hang:
    """How a piece hangs by its holes.

    By one hole as `hang_by_hole`. By two hooks or a cord through two holes it hangs with the
    line between them level, if its centre of mass lies below and between them; of several pairs
    the one that leans least counts, and where there is none, the first hole.

    Args:
        outline: the piece, holes cut out.
        holes: what can carry it, one or more.
    """
    mass = outline.centroid
    found: list[Hang] = []
    for one, other in combinations(holes, 2):
        a, b = one.centroid, other.centroid
        ux, uy = UPWARDS[_edge_at(outline, (a.x + b.x) / 2, (a.y + b.y) / 2)]
        along = [(p.x - mass.x) * uy - (p.y - mass.y) * ux for p in (a, b)]
        above = [(p.x - mass.x) * ux + (p.y - mass.y) * uy for p in (a, b)]
        if min(above) > 0 and min(along) < 0 < max(along):
            rise, run = above[1] - above[0], along[1] - along[0]
            # the higher of the two goes down
            turn = -degrees(atan2(rise, run) if run > 0 else atan2(-rise, -run))
            share = ((mass.x - a.x) * (b.x - a.x) + (mass.y - a.y) * (b.y - a.y)) / (
                (b.x - a.x) ** 2 + (b.y - a.y) ** 2
            )
            at = (a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))
            found.append(Hang(at, (mass.x, mass.y), turn))
    if found:
        return min(found, key=lambda hang: hang.tilt_deg)
    return hang_by_hole(outline, holes[0])

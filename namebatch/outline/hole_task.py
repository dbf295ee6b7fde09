"""What is asked of the search for a hole's place, and a candidate. Lengths in mm.

Everything is in a frame that is turned so that the asked edge is up.
"""

from dataclasses import dataclass, replace
from math import atan2, degrees

import shapely
from shapely import LineString, Polygon, affinity

from namebatch.curves import Point as At
from namebatch.outline.room import hole_shape
from namebatch.outline.tab import Tab
from namebatch.outline.tongue import Ear

LEVER = 0.5
"""A hole's centre lies above the centre of mass by this many times half its width and wall."""

ENOUGH_DEG = 0.5
"""Straight enough to look no further."""

ALIKE_DEG = 1.0
"""Straight enough for a place in which all pieces of a batch have their hole."""

PLAIN_DEG = 2.5
"""Straight enough for a hole in the shape as it is: a tab beside it would be odder to look at."""

FILLED_COST = 4.0
LEAN_DEG = 2.5
"""How filled lettering and a lean are weighed against each other, see `Place.cost`."""

CHEAP = 0.08
"""A place that costs no more is taken at once."""

ADD_MORE_MM = 0.012
"""Added to the wall of a tab, so that its chords do not come too near."""

FOOT_WALLS = (0.9, 0.5)
"""Radii of a tab's slim foot in walls: a foot is never narrower than the wall."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked, in the frame with the edge up.

    Attributes:
        shape: what the hole goes into.
        length_mm: of the hole in x.
        width_mm: of the hole in y.
        wall_mm: least material round it.
        avoid: what the hole must not cut.
        field: letters with their counters and gaps, which a tab should leave open.
        usual: where the hole lies in the base alone, as in other pieces of the batch.
        clear_mm: kept between the hole and the lettering.
    """

    shape: Polygon
    length_mm: float
    width_mm: float
    wall_mm: float
    avoid: shapely.Geometry
    field: shapely.Geometry
    usual: At | None = None
    clear_mm: float = 0.0

    @property
    def cut(self) -> Polygon:
        """The hole about the origin."""
        return hole_shape(self.length_mm, self.width_mm)

    @property
    def ring(self) -> Polygon:
        """The hole grown by its wall."""
        more = 2 * (self.wall_mm + ADD_MORE_MM)
        return hole_shape(self.length_mm + more, self.width_mm + more)

    @property
    def ear(self) -> Ear:
        """What a tab has to carry."""
        feet = (FOOT_WALLS[0] * self.wall_mm, FOOT_WALLS[1] * self.wall_mm + ADD_MORE_MM)
        return Ear(self.cut, self.ring, self.half, feet)

    @property
    def least_height(self) -> float:
        """Lowest place of the hole's centre."""
        return float(self.shape.centroid.y) + LEVER * self.half

    @property
    def half(self) -> float:
        """Half the height of the ring."""
        return self.width_mm / 2 + self.wall_mm

    def kept_off(self, avoid: shapely.Geometry, clear_mm: float) -> "Task":
        """The same task with other lettering to avoid, or another clearance."""
        return replace(self, avoid=avoid, clear_mm=clear_mm)


@dataclass(frozen=True, slots=True)
class Place:
    """A candidate in that frame: the hole's centre, and what a tab adds."""

    at: At
    tab: Tab | None
    tilt_deg: float

    def filled(self, half_mm: float) -> float:
        """The part of the cost that is for lettering."""
        return 0.0 if self.tab is None else FILLED_COST * self.tab.filled_mm2 / half_mm**2

    def cost(self, half_mm: float) -> float:
        """What speaks against it: lettering that is filled, and leaning more than is seen.

        Lettering filled over a square of half a ring's height counts like a lean of 5.5°.
        """
        return self.filled(half_mm) + (max(self.tilt_deg - ENOUGH_DEG, 0.0) / LEAN_DEG) ** 2


def edge_above(shape: Polygon, x: float) -> float | None:
    """Height at which the line up at x leaves the shape for good."""
    _, y0, _, y1 = shape.bounds
    line = shapely.intersection(shape, LineString([(x, y0 - 1), (x, y1 + 1)]))
    return None if line.is_empty else float(line.bounds[3])


def centre_of(task: Task, at: At, tab: Tab | None) -> At:
    """The centroid of shape and tab less the hole, from their areas and own centroids."""
    cut = affinity.translate(task.cut, *at)
    parts = [(1.0, task.shape), (-1.0, cut)] + ([(1.0, tab.added)] if tab else [])
    area = sum(sign * part.area for sign, part in parts)
    x = sum(sign * part.area * part.centroid.x for sign, part in parts) / area
    y = sum(sign * part.area * part.centroid.y for sign, part in parts) / area
    return x, y


def tilt_of(task: Task, at: At, tab: Tab | None) -> float:
    """How far the shape leans when it hangs by a hole, in degrees from 0 to 180."""
    x, y = centre_of(task, at, tab)
    return abs(degrees(atan2(at[0] - x, at[1] - y)))

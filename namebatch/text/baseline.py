"""Bent baselines: a circle in closed form, and any line by its length."""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot, inf, pi, radians
from typing import Protocol

import numpy as np
import shapely
from shapely import LineString

from namebatch.template.guide import Floats, Guide, guide_along, turned
from namebatch.template.textbox import AlongPath, Arc

SLACK_MM = 1e-6
STEPS = 4
STRETCH = (0.2, 5.0)
"""How much longer or shorter than itself a line is taken to be beside it."""


class Baseline(Protocol):
    """A line of known length that bends; above it is to its left as it runs."""

    @property
    def length(self) -> float:
        """How much of it text may take, in mm."""

    @property
    def seam(self) -> float:
        """How far its end is from its own beginning, going on; infinite if it never comes back."""

    @property
    def tightest(self) -> float:
        """Least radius that it bends to, in mm."""

    def bend(self, points: Floats) -> Floats:
        """From (along, above) to where that is in mm."""

    def frames(self, at: Floats) -> tuple[Floats, Floats]:
        """Points at lengths, and the direction of the line there; (n, 2) each."""

    def along(self, points: Floats, near: Floats) -> Floats:
        """Lengths at which points lie that belong to letters about `near`, one for each."""

    def over(self, points: Floats) -> float:
        """How far points leave the room below and above it, in mm, however far along.

        Below 0 where all lie inside.
        """


@dataclass(frozen=True, slots=True)
class Circle:
    """A baseline along a circle; angle = length / radius."""

    arc: Arc

    @property
    def length(self) -> float:
        """The sweep's share of the circle."""
        return radians(self.arc.sweep_deg) * self.arc.radius_mm

    @property
    def seam(self) -> float:
        """What the sweep leaves of the circle."""
        return 2 * pi * self.arc.radius_mm - self.length

    @property
    def tightest(self) -> float:
        """The radius."""
        return self.arc.radius_mm

    @property
    def turn(self) -> int:
        """-1 outside, where text runs clockwise; 1 inside."""
        return -1 if self.arc.side == "outside" else 1

    def bend(self, points: Floats) -> Floats:
        """Along becomes an angle, above a radius."""
        angle = self._angle(points[:, 0])
        radius = self.arc.radius_mm - self.turn * points[:, 1]
        x, y = self.arc.centre_mm
        return np.column_stack([x + radius * np.cos(angle), y + radius * np.sin(angle)])

    def frames(self, at: Floats) -> tuple[Floats, Floats]:
        """The direction is square to the radius."""
        angle = self._angle(at)
        out = np.column_stack([np.cos(angle), np.sin(angle)])
        return out * self.arc.radius_mm + self.arc.centre_mm, turned(out, self.turn)

    def along(self, points: Floats, near: Floats) -> Floats:
        """By angle, at most half a circle from `near`."""
        x, y = self.arc.centre_mm
        angle = np.arctan2(points[:, 1] - y, points[:, 0] - x) - self._angle(near)
        angle = (angle + pi) % (2 * pi) - pi
        found: Floats = near + self.turn * angle * self.arc.radius_mm
        return found

    def over(self, points: Floats) -> float:
        """By distance from the centre; below 0 is what is left of the room."""
        x, y = self.arc.centre_mm
        above = self.turn * (self.arc.radius_mm - np.hypot(points[:, 0] - x, points[:, 1] - y))
        below_mm, above_mm = self.arc.room_mm
        return float(max(above.max() - above_mm, -below_mm - above.min())) - SLACK_MM

    def _angle(self, along: Floats) -> Floats:
        """In radians, counter-clockwise from three o'clock."""
        from_middle = (along - self.length / 2) / self.arc.radius_mm
        angle: Floats = radians(self.arc.middle_deg) + self.turn * from_middle
        return angle


@dataclass(frozen=True, slots=True)
class Track:
    """A baseline along a line of the base drawing."""

    guide: Guide
    room_mm: tuple[float, float]
    strip: shapely.Geometry
    length: float
    seam: float
    tightest: float

    def bend(self, points: Floats) -> Floats:
        """Along the line, then square to it as far as above."""
        feet, normals = self.guide.frames(points[:, 0])
        return feet + normals * points[:, 1:]

    def frames(self, at: Floats) -> tuple[Floats, Floats]:
        """The direction is square to the smooth normal."""
        feet, normals = self.guide.frames(at)
        return feet, turned(normals, -1)

    def along(self, points: Floats, near: Floats) -> Floats:
        """Where they are square to the line; sought at both ends of the text, else from `near`."""
        found = self._nearer(points, near)
        reach = sum(self.room_mm)
        ends = (found < found.min() + 2 * reach) | (found > found.max() - 2 * reach)
        for _ in range(STEPS):
            found[ends] = self._nearer(points[ends], found[ends])
        # whatever was found, nothing behind the line's beginning or its end counts as on it
        (begin, end), ahead = self.frames(np.array([0.0, self.length]))
        behind = (points - begin) @ ahead[0]
        beyond = (points - end) @ ahead[1]
        found = np.where((near < reach) & (behind < 0), np.minimum(found, behind), found)
        last = (near > self.length - reach) & (beyond > 0)
        return np.where(last, np.maximum(found, self.length + beyond), found)

    def _nearer(self, points: Floats, at: Floats) -> Floats:
        """One step of Newton's method towards the length at which the line is square to a point."""
        feet, ahead = self.frames(at)
        _, then = self.frames(at + self.guide.step)
        off = points - feet
        along = np.sum(off * ahead, axis=1)
        # above a line that bends a step of the foot is more or less than one of the point
        turn = np.sum(off * (then - ahead), axis=1) / self.guide.step
        found: Floats = at + along / np.clip(1 - turn, *STRETCH)
        return found

    def over(self, points: Floats) -> float:
        """By the strip along the line, which goes on beyond the ends."""
        out = points[~shapely.contains_xy(self.strip, points)]
        if len(out) == 0:
            return -inf
        return float(shapely.distance(self.strip, shapely.points(out)).max()) + SLACK_MM


@lru_cache(maxsize=64)
def track_of(place: AlongPath) -> Track:
    """The baseline along a path."""
    return _track(place.line, place.room_mm)


def _track(line: LineString, room_mm: tuple[float, float]) -> Track:
    guide = guide_along(line, room_mm)
    below, above = room_mm
    drawn = guide.strip(below + SLACK_MM, above + SLACK_MM, below + above)
    strip = shapely.make_valid(drawn, method="structure")
    shapely.prepare(strip)
    (x0, y0), (x1, y1) = guide.points[0], guide.points[-1]
    turns = np.hypot(*np.diff(guide.normals, axis=0).T)
    tightest = guide.step / max(float(turns.max()), 1e-9)
    seam = hypot(x1 - x0, y1 - y0) if line.is_closed else float("inf")
    return Track(guide, room_mm, strip, guide.length, seam, tightest)

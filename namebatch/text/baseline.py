"""Bent baselines: a circle in closed form, and any line by its length."""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot, pi, radians
from typing import Protocol

import numpy as np
import shapely
from shapely import LineString, Polygon

from namebatch.template.guide import Floats, Guide, guide_along, turned
from namebatch.template.textbox import AlongPath, Arc

SLACK_MM = 1e-6


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

    def holds(self, points: Floats) -> bool:
        """Whether points lie in the room below and above it, however far along."""


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

    def holds(self, points: Floats) -> bool:
        """By distance from the centre."""
        x, y = self.arc.centre_mm
        above = self.turn * (self.arc.radius_mm - np.hypot(points[:, 0] - x, points[:, 1] - y))
        below_mm, above_mm = self.arc.room_mm
        return bool(np.all((above <= above_mm + SLACK_MM) & (above >= -below_mm - SLACK_MM)))

    def _angle(self, along: Floats) -> Floats:
        """In radians, counter-clockwise from three o'clock."""
        from_middle = (along - self.length / 2) / self.arc.radius_mm
        angle: Floats = radians(self.arc.middle_deg) + self.turn * from_middle
        return angle


@dataclass(frozen=True, slots=True)
class Track:
    """A baseline along a line of the base drawing."""

    guide: Guide
    strip: Polygon
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
        """As if the line went straight on from `near`."""
        feet, ahead = self.frames(near)
        found: Floats = near + np.sum((points - feet) * ahead, axis=1)
        return found

    def holds(self, points: Floats) -> bool:
        """By the strip along the line; it goes on beyond the ends."""
        return bool(np.all(shapely.contains_xy(self.strip, points)))


@lru_cache(maxsize=64)
def track_of(place: AlongPath) -> Track:
    """The baseline along a path."""
    return _track(place.line, place.room_mm)


def _track(line: LineString, room_mm: tuple[float, float]) -> Track:
    guide = guide_along(line, room_mm)
    below, above = room_mm
    strip = guide.strip(below + SLACK_MM, above + SLACK_MM, below + above)
    shapely.prepare(strip)
    (x0, y0), (x1, y1) = guide.points[0], guide.points[-1]
    turns = np.hypot(*np.diff(guide.normals, axis=0).T)
    tightest = guide.step / max(float(turns.max()), 1e-9)
    seam = hypot(x1 - x0, y1 - y0) if line.is_closed else float("inf")
    return Track(guide, strip, guide.length, seam, tightest)

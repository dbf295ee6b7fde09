"""How long the cutter takes. Lengths in mm, speeds in mm/s, times in s.

The head moves with one acceleration. It starts and ends every closed line at rest, speeds up and
slows down in between (trapezoidal profile; Siciliano et al., Robotics: Modelling, Planning and
Control), keeps to the speed of operation and material, and slows down in curves and at corners:

- in an arc of radius r, to √(a·r), so that the acceleration across the way is a as well;
- at a corner, to the speed at which an arc that touches both sides of the corner and passes it
  at a given distance δ can be run: r = δ·sin(θ/2) / (1 − sin(θ/2)) with the angle θ between the
  sides, from the triangle of corner, centre and touching point (common practice, no source).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil, hypot, pi, sqrt

import numpy as np

from namebatch.outline.arc_shape import along_ring, ring_length
from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled
from namebatch.sheet.model import CutPath, Operation
from namebatch.template.workshop import Cutter, Material

ASSUMED_SPEEDS_MM_S: Mapping[str, float] = {
    "mark": 60.0,
    "engrave": 200.0,
    "inner": 15.0,
    "outer": 15.0,
    "window": 15.0,
}
"""For times only, of a material without any speed; nothing is sent to a machine."""
FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class Run:
    """Totals of one sheet."""

    cut_length_mm: float
    travel_mm: float
    seconds: float


def move_seconds(length_mm: float, speed: float, acceleration: float) -> float:
    """Time of one straight move from rest to rest with a trapezoidal profile.

    T = L/v + v/a where the speed is reached (L ≥ v²/a), else 2·√(L/a).
    Source: Siciliano et al., Robotics: Modelling, Planning and Control, trapezoidal profile.
    """
    if length_mm <= 0:
        return 0.0
    if length_mm >= speed * speed / acceleration:
        return length_mm / speed + speed / acceleration
    return 2 * sqrt(length_mm / acceleration)


def run_of(cuts: Sequence[CutPath], material: Material, cutter: Cutter) -> Run:
    """Length, travel and time of a sheet's lines in their order.

    Args:
        cuts: in the order in which they run; the way begins at the zero point.
        material: for the speeds.
        cutter: for travel, acceleration and corners.
    """
    here = (0.0, 0.0)
    cut = travel = seconds = 0.0
    for (_, operation, filled), together in groupby(cuts, _swept):
        paths = list(together)
        speed = speed_of(material, operation)
        if filled:
            step = material.engrave_line_mm
            seconds += sweep_seconds(paths, speed, cutter.acceleration_mm_s2, step)
        for number, path in enumerate(paths):
            start = path.points[0]
            hop = hypot(start[0] - here[0], start[1] - here[1])
            travel += hop
            cut += path_length(path)
            if not filled:
                seconds += line_seconds(path, speed, cutter)
            if not filled or number == 0:
                seconds += move_seconds(hop, cutter.travel_mm_s, cutter.acceleration_mm_s2)
            here = start
    return Run(cut, travel, seconds)


def speed_of(material: Material, operation: Operation) -> float:
    """The speed that times are reckoned with, in mm/s.

    Where the workshop file has none for an operation it is that of the outline: the one speed
    that every material has.
    """
    speeds = material.speeds_mm_s
    return speeds.get(operation) or speeds.get("outer") or ASSUMED_SPEEDS_MM_S[operation]


def path_length(path: CutPath) -> float:
    """Length of a closed line, along its arcs."""
    return ring_length(path.points, path.bulges)


def line_seconds(path: CutPath, speed: float, cutter: Cutter) -> float:
    """Time of a closed line from rest to rest, slowed in its curves and at its corners."""
    acceleration = cutter.acceleration_mm_s2
    points = np.asarray(path.points, dtype=float)
    bulges = np.asarray(path.bulges or np.zeros(len(points)), dtype=float)
    way = np.roll(points, -1, axis=0) - points
    chord = np.hypot(way[:, 0], way[:, 1])
    kept = chord > FLAT
    chord, half = chord[kept], 2.0 * np.arctan(bulges[kept])
    heading = np.arctan2(way[kept, 1], way[kept, 0])
    length = chord / np.sinc(np.abs(half) / pi)
    radius = np.full(len(chord), np.inf)
    curved = np.abs(half) > FLAT
    radius[curved] = length[curved] / (2.0 * np.abs(half[curved]))
    limit = np.minimum(speed, np.sqrt(acceleration * radius))
    # the direction leans by half of an arc's angle off its chord, one way and then the other
    turn = (heading - half) - np.roll(heading + half, 1)
    corner = corner_speeds(turn, cutter.corner_mm, acceleration)
    return float(profile_seconds(length, limit, np.append(corner, 0.0), acceleration))


def corner_speeds(turn: Floats, corner_mm: float, acceleration: float) -> Floats:
    """Speeds at corners, infinite where the direction does not change.

    Args:
        turn: by how much the direction changes, in radians.
        corner_mm: distance δ at which a corner may be passed.
        acceleration: across the way.
    """
    # half the angle between the sides is a right angle less half the turn
    sine = np.abs(np.cos(turn / 2.0))
    opening = 1.0 - sine
    radius = np.full(len(turn), np.inf)
    bent = opening > FLAT
    radius[bent] = corner_mm * sine[bent] / opening[bent]
    speeds: Floats = np.sqrt(acceleration * radius)
    return speeds


@compiled
def profile_seconds(length: Floats, limit: Floats, nodes: Floats, acceleration: float) -> float:
    """Time along stretches from rest to rest.

    No node is passed faster than either stretch allows, than the head can get to from the node
    before, or than it can slow down from to the next one (v² ≤ u² + 2·a·L); between two nodes
    the profile is a trapezoid or a triangle.

    Args:
        length: of each stretch.
        limit: speed that it may reach.
        nodes: speeds allowed at the nodes, one more than stretches; changed in place.
        acceleration: along the way, either sign.
    """
    count = len(length)
    nodes[0] = nodes[count] = 0.0
    for k in range(count):
        nodes[k] = min(nodes[k], limit[k])
        nodes[k + 1] = min(
            nodes[k + 1], limit[k], sqrt(nodes[k] ** 2 + 2.0 * acceleration * length[k])
        )
    for k in range(count - 1, -1, -1):
        nodes[k] = min(nodes[k], sqrt(nodes[k + 1] ** 2 + 2.0 * acceleration * length[k]))
    seconds = 0.0
    for k in range(count):
        u, w = nodes[k], nodes[k + 1]
        peak = min(limit[k], sqrt((u * u + w * w) / 2.0 + acceleration * length[k]))
        slopes = (2.0 * peak * peak - u * u - w * w) / (2.0 * acceleration)
        seconds += (2.0 * peak - u - w) / acceleration + (length[k] - slopes) / peak
    return seconds


def sweep_seconds(
    paths: Iterable[CutPath], speed: float, acceleration: float, step_mm: float
) -> float:
    """Time of filled letters that are swept line by line, `step_mm` apart, each at full speed.

    The head speeds up before every line and comes to rest after it: L/v + 2·v/a a line. Lines
    run from side to side of the letters together (common practice, no source).
    """
    along = np.vstack([along_ring(path.points, path.bulges) for path in paths])
    size = along.max(axis=0) - along.min(axis=0)
    width, height = float(size[0]), float(size[1])
    lines = ceil(height / step_mm - FLAT)
    return lines * (width / speed + 2.0 * speed / acceleration)


def _swept(path: CutPath) -> tuple[str, Operation, bool]:
    """What is swept together: the filled rings of a face; every other line runs alone."""
    return path.owner, path.operation, path.filled

"""How long the cutter takes. Lengths in mm, speeds in mm/s, times in s."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from namebatch.outline.arc_shape import ring_area, ring_length
from namebatch.sheet.model import CutPath
from namebatch.template.workshop import Cutter, Material

ASSUMED_SPEEDS_MM_S: Mapping[str, float] = {
    "mark": 60.0,
    "engrave": 200.0,
    "inner": 15.0,
    "outer": 15.0,
    "window": 15.0,
}
"""For times only, where the workshop file has no speed; nothing is sent to a machine."""
ENGRAVE_LINE_MM = 0.1
"""Distance of engraved lines taken for the time of filled letters."""


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

    Every line starts and ends at rest; slowing at corners is not counted yet.
    """
    here = (0.0, 0.0)
    cut = travel = seconds = 0.0
    for path in cuts:
        start = path.points[0]
        hop = hypot(start[0] - here[0], start[1] - here[1])
        length = path_length(path)
        speed = material.speeds_mm_s.get(path.operation, ASSUMED_SPEEDS_MM_S[path.operation])
        travel += hop
        cut += length
        seconds += move_seconds(hop, cutter.travel_mm_s, cutter.acceleration_mm_s2)
        if path.filled:
            # counters run the other way round and take their area off again
            seconds += _signed_area(path) / ENGRAVE_LINE_MM / speed
        else:
            seconds += move_seconds(length, speed, cutter.acceleration_mm_s2)
        here = start
    return Run(cut, travel, seconds)


def path_length(path: CutPath) -> float:
    """Length of a closed line, along its arcs."""
    return ring_length(path.points, path.bulges)


def _signed_area(path: CutPath) -> float:
    return ring_area(path.points, path.bulges)

"""Time at the cutter against textbook values."""

from math import pi, sqrt

import pytest

from namebatch.sheet.model import CutPath
from namebatch.sheet.motion import move_seconds, path_length, run_of
from namebatch.template import load_workshop


def test_trapezoid() -> None:
    """L = 100, v = 100, a = 1000: 1.1 s; L = 5: 0.141421 s.

    Siciliano et al., Robotics, trapezoidal profile; recomputed from its formulas.
    """
    assert move_seconds(100, 100, 1000) == pytest.approx(1.1)
    assert move_seconds(5, 100, 1000) == pytest.approx(0.141421, abs=1e-6)
    assert move_seconds(0, 100, 1000) == 0
    both = 100.0**2 / 1000
    assert move_seconds(both, 100, 1000) == pytest.approx(2 * both / 100)


def test_run_adds_up() -> None:
    """Length, travel and time of two squares are those of a hand calculation."""
    workshop = load_workshop(None)
    material = workshop.materials["plywood-3"]
    cutter = workshop.cutter
    square = ((30.0, 40.0), (40.0, 40.0), (40.0, 50.0), (30.0, 50.0))
    other = tuple((x + 100, y) for x, y in square)
    cuts = [CutPath("outer", "a", square), CutPath("outer", "b", other)]
    run = run_of(cuts, material, cutter)
    assert path_length(cuts[0]) == 40
    assert run.cut_length_mm == 80
    assert run.travel_mm == 50 + 100
    speed = material.speeds_mm_s["outer"]
    by_hand = (
        2 * move_seconds(40, speed, cutter.acceleration_mm_s2)
        + move_seconds(50, cutter.travel_mm_s, cutter.acceleration_mm_s2)
        + move_seconds(100, cutter.travel_mm_s, cutter.acceleration_mm_s2)
    )
    assert run.seconds == pytest.approx(by_hand)


def test_arcs_have_their_own_length() -> None:
    """A ring of two half circles takes 2·π·r at the cutter, and π·r² of engraving."""
    workshop = load_workshop(None)
    material, cutter = workshop.materials["plywood-3"], workshop.cutter
    ends = ((0.0, 5.0), (10.0, 5.0))
    circle = CutPath("outer", "a", ends, bulges=(1.0, 1.0))
    assert path_length(circle) == pytest.approx(2 * pi * 5)
    assert run_of([circle], material, cutter).cut_length_mm == pytest.approx(2 * pi * 5)
    side = sqrt(pi * 25)
    square = ((0.0, 5.0), (side, 5.0), (side, 5 + side), (0.0, 5 + side))
    disc = run_of([CutPath("engrave", "a", ends, True, (1.0, 1.0))], material, cutter)
    block = run_of([CutPath("engrave", "a", square, True)], material, cutter)
    assert disc.seconds == pytest.approx(block.seconds)


def test_engraved_counter_takes_its_area_off() -> None:
    """A filled letter with a counter takes the time of its ink, not of its outside."""
    workshop = load_workshop(None)
    outer = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
    counter = ((5.0, 5.0), (5.0, 15.0), (15.0, 15.0), (15.0, 5.0))
    material = workshop.materials["plywood-3"]
    solid = run_of([CutPath("engrave", "a", outer, True)], material, workshop.cutter)
    ring = run_of(
        [CutPath("engrave", "a", outer, True), CutPath("engrave", "a", counter, True)],
        material,
        workshop.cutter,
    )
    assert ring.seconds < 0.8 * solid.seconds

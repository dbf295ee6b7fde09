"""Time at the cutter against textbook values and calculations by hand."""

from dataclasses import replace
from math import inf, pi, radians, sin, sqrt

import numpy as np
import pytest

from namebatch.sheet.model import CutPath
from namebatch.sheet.motion import (
    ASSUMED_SPEEDS_MM_S,
    corner_speeds,
    line_seconds,
    move_seconds,
    path_length,
    profile_seconds,
    run_of,
    speed_of,
    sweep_seconds,
)
from namebatch.template import load_workshop
from namebatch.template.workshop import Cutter

WORKSHOP = load_workshop(None)
MATERIAL = WORKSHOP.materials["plywood-3"]
CUTTER = WORKSHOP.cutter
SQUARE = ((30.0, 40.0), (40.0, 40.0), (40.0, 50.0), (30.0, 50.0))


def cutter_of(acceleration: float, corner_mm: float) -> Cutter:
    """A cutter that differs from the example in its motion."""
    return replace(CUTTER, acceleration_mm_s2=acceleration, corner_mm=corner_mm)


def profile(lengths: list[float], limits: list[float], nodes: list[float], a: float) -> float:
    """Time along stretches with the speeds allowed at the inner nodes."""
    return profile_seconds(
        np.array(lengths), np.array(limits), np.array([inf, *nodes, inf]), a
    )  # fmt: skip


def test_trapezoid() -> None:
    """L = 100, v = 100, a = 1000: 1.1 s; L = 5: 0.141421 s.

    Siciliano et al., Robotics, trapezoidal profile; recomputed from its formulas.
    """
    assert move_seconds(100, 100, 1000) == pytest.approx(1.1)
    assert move_seconds(5, 100, 1000) == pytest.approx(0.141421, abs=1e-6)
    assert move_seconds(0, 100, 1000) == 0
    both = 100.0**2 / 1000
    assert move_seconds(both, 100, 1000) == pytest.approx(2 * both / 100)


@pytest.mark.parametrize(("length", "seconds"), [(100.0, 1.1), (5.0, 0.141421)])
@pytest.mark.parametrize("parts", [1, 2, 7, 100])
def test_a_straight_way_in_parts_takes_the_textbook_time(
    length: float, seconds: float, parts: int
) -> None:
    """Nodes without a corner cost nothing (the values of `test_trapezoid`)."""
    found = profile([length / parts] * parts, [100.0] * parts, [inf] * (parts - 1), 1000.0)
    assert found == pytest.approx(seconds, abs=1e-6)


def test_a_full_stop_between_two_moves() -> None:
    """A node that must be passed at rest makes two moves of one."""
    found = profile([100.0, 5.0], [100.0, 100.0], [0.0], 1000.0)
    assert found == pytest.approx(1.1 + 0.1414214)


def test_a_slow_stretch_is_reached_in_time() -> None:
    """100 mm at 100 mm/s, then 40 mm at 20 mm/s, a = 1000, by hand.

    0.1 s up over 5 mm; down from 100 to 20 takes 0.08 s over 4.8 mm; 90.2 mm at full speed;
    40 mm at 20 mm/s but for the last 0.02 s, in which 0.2 mm are run.
    """
    found = profile([100.0, 40.0], [100.0, 20.0], [20.0], 1000.0)
    assert found == pytest.approx(0.1 + 0.902 + 0.08 + 39.8 / 20 + 0.02)


def test_a_short_stretch_between_corners_keeps_to_what_can_be_reached() -> None:
    """From 0 to 10 mm/s on the way to a corner allowed 50: v² = 2·a·L bounds it."""
    # 0.05 mm at a = 1000 reach 10 mm/s, whatever the corner allows
    found = profile([0.05, 0.05], [100.0, 100.0], [50.0], 1000.0)
    assert found == pytest.approx(2 * 10 / 1000)


def test_corner_speeds() -> None:
    """Right angle: r = δ·(1 + √2); straight on: no limit; back: none at all.

    From the triangle of corner, centre and touching point: r = δ·sin(θ/2)/(1 − sin(θ/2)).
    """
    straight, right, back = corner_speeds(np.radians([0.0, 90.0, 180.0]), 0.05, 1500.0)
    assert straight == inf
    assert right == pytest.approx(sqrt(1500 * 0.05 * (1 + sqrt(2))))
    assert back == pytest.approx(0.0, abs=1e-6)
    left, again = corner_speeds(np.array([radians(-90), radians(450)]), 0.05, 1500.0)
    assert (left, again) == pytest.approx((right, right))


@pytest.mark.parametrize("turn_deg", [10.0, 45.0, 120.0, 170.0])
def test_an_arc_that_rounds_a_corner_passes_it_at_the_distance(turn_deg: float) -> None:
    """The arc of radius v²/a that touches both sides has its middle 0.05 mm off the corner."""
    (speed,) = corner_speeds(np.radians([turn_deg]), 0.05, 1500.0)
    radius = speed**2 / 1500.0
    # the centre of a circle that touches both sides of an angle θ is r/sin(θ/2) off its corner
    assert radius / sin(radians(180.0 - turn_deg) / 2) - radius == pytest.approx(0.05)


def test_a_circle_is_run_at_what_its_radius_allows() -> None:
    """Radius 2.5 mm at a = 100: √250 = 15.81 mm/s instead of 40; from rest to rest by hand."""
    circle = CutPath("inner", "a", ((0.0, 2.5), (5.0, 2.5)), bulges=(1.0, 1.0))
    found = line_seconds(circle, 40.0, cutter_of(100.0, 0.05))
    assert found == pytest.approx(move_seconds(5 * pi, sqrt(250.0), 100.0))


def test_a_square_slows_at_its_corners() -> None:
    """Three corners at the corner's speed, start and end at rest, by hand."""
    speed, a, delta = 40.0, 1500.0, 0.05
    corner = sqrt(a * delta * (1 + sqrt(2)))
    found = line_seconds(CutPath("outer", "a", SQUARE), speed, cutter_of(a, delta))
    ramp = (2 * speed**2 - corner**2) / (2 * a)
    outer_side = (2 * speed - corner) / a + (10 - ramp) / speed
    ramp = (speed**2 - corner**2) / a
    inner_side = 2 * (speed - corner) / a + (10 - ramp) / speed
    assert found == pytest.approx(2 * outer_side + 2 * inner_side)
    slower = line_seconds(CutPath("outer", "a", SQUARE), speed, cutter_of(a, 0.001))
    assert move_seconds(40, speed, a) < found < slower < 4 * move_seconds(10, speed, a)


def test_tangent_arcs_are_no_corners() -> None:
    """A slot's ends run into its sides: only its curves slow it."""
    slot = CutPath(
        "inner", "a", ((10.0, 0.0), (20.0, 0.0), (20.0, 6.0), (10.0, 6.0)), bulges=(0, 1.0, 0, 1.0)
    )
    found = line_seconds(slot, 15.0, cutter_of(1500.0, 0.001))
    assert found == pytest.approx(move_seconds(20 + 6 * pi, 15.0, 1500.0))


def test_run_adds_up() -> None:
    """Length, travel and time of two squares are those of a hand calculation."""
    other = tuple((x + 100, y) for x, y in SQUARE)
    cuts = [CutPath("outer", "a", SQUARE), CutPath("outer", "b", other)]
    run = run_of(cuts, MATERIAL, CUTTER)
    assert path_length(cuts[0]) == 40
    assert run.cut_length_mm == 80
    assert run.travel_mm == 50 + 100
    by_hand = (
        2 * line_seconds(cuts[0], MATERIAL.speeds_mm_s["outer"], CUTTER)
        + move_seconds(50, CUTTER.travel_mm_s, CUTTER.acceleration_mm_s2)
        + move_seconds(100, CUTTER.travel_mm_s, CUTTER.acceleration_mm_s2)
    )
    assert run.seconds == pytest.approx(by_hand)


def test_each_operation_has_its_speed() -> None:
    """A mark of the same square takes less time than its cut."""
    runs = [
        run_of([CutPath(name, "a", SQUARE)], MATERIAL, CUTTER).seconds for name in ("mark", "outer")
    ]
    assert runs[0] < 0.5 * runs[1]


def test_what_has_no_speed_runs_as_the_outline() -> None:
    """The only figure there is that somebody entered; what is assumed is known apart."""
    material = replace(MATERIAL, speeds_mm_s={"outer": 30.0, "mark": 60.0})
    assert speed_of(material, "inner") == speed_of(material, "engrave") == 30
    assert speed_of(material, "mark") == 60
    assert speed_of(replace(MATERIAL, speeds_mm_s={}), "mark") == ASSUMED_SPEEDS_MM_S["mark"]
    runs = [run_of([CutPath(name, "a", SQUARE)], material, CUTTER) for name in ("inner", "outer")]
    assert runs[0] == runs[1]


def test_arcs_have_their_own_length() -> None:
    """A ring of two half circles takes 2·π·r at the cutter."""
    circle = CutPath("outer", "a", ((0.0, 5.0), (10.0, 5.0)), bulges=(1.0, 1.0))
    assert path_length(circle) == pytest.approx(2 * pi * 5)
    assert run_of([circle], MATERIAL, CUTTER).cut_length_mm == pytest.approx(2 * pi * 5)


def test_filled_letters_are_swept_line_by_line() -> None:
    """20 × 8 mm: 80 lines of 0.1 mm, each L/v + 2·v/a; what lies inside changes nothing."""
    letter = CutPath("engrave", "a", ((0.0, 0.0), (20.0, 0.0), (20.0, 8.0), (0.0, 8.0)), True)
    counter = CutPath("engrave", "a", ((5.0, 2.0), (5.0, 6.0), (15.0, 6.0), (15.0, 2.0)), True)
    by_hand = 80 * (20 / 200 + 2 * 200 / 1500)
    assert sweep_seconds([letter], 200.0, 1500.0, 0.1) == pytest.approx(by_hand)
    assert sweep_seconds([letter, counter], 200.0, 1500.0, 0.1) == pytest.approx(by_hand)
    run = run_of([letter, counter], MATERIAL, CUTTER)
    assert run.seconds == pytest.approx(by_hand)
    # the way to the counter's line is in the file, but no time is spent on it
    assert run.travel_mm == pytest.approx(sqrt(29))
    coarse = replace(MATERIAL, engrave_line_mm=0.2)
    assert run_of([letter, counter], coarse, CUTTER).seconds == pytest.approx(by_hand / 2)


def test_each_piece_is_swept_alone() -> None:
    """Letters of two pieces far apart are not swept across what lies between them."""
    letter = CutPath("engrave", "a", ((0.0, 0.0), (20.0, 0.0), (20.0, 8.0), (0.0, 8.0)), True)
    other = replace(letter, owner="b", points=tuple((x + 500, y) for x, y in letter.points))
    alone = run_of([letter], MATERIAL, CUTTER).seconds
    hop = move_seconds(500, CUTTER.travel_mm_s, CUTTER.acceleration_mm_s2)
    assert run_of([letter, other], MATERIAL, CUTTER).seconds == pytest.approx(2 * alone + hop)

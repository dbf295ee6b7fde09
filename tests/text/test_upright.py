"""Upright letters along bent lines: even gaps, words apart, no jumps from size to size."""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box
from shapely.affinity import translate

from namebatch.template.textbox import AlongPath, Side
from namebatch.text.along import along_of
from namebatch.text.catalogue import load_catalogue
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.setting import Letter
from namebatch.text.steps import candidates
from namebatch.text.straight import straight_of
from namebatch.text.units import Unit
from namebatch.text.upright import DIRECTIONS, Strides
from tests.text.conftest import text_box
from tests.text.test_turning import NAMES, arc, gaps, set_at

FONT = "Noto Sans SemiBold"
WAVE = LineString([(t, 6 * sin(t / 5.5)) for t in np.linspace(0, 75, 1500)])


def unit(index: int, shape: shapely.Geometry) -> Unit:
    """A letter of a shape."""
    ink = as_multipolygon(shape)
    x0, y0, x1, y1 = ink.bounds
    return Unit(ink, (Letter(index, "x", ink),), ink, ink.convex_hull, (x0, y0, x1, y1))


def strides(left: shapely.Geometry, right: shapely.Geometry) -> Strides:
    """Of two letters of one word."""
    pair = np.array([left, right], dtype=object)
    return Strides.of((unit(0, left), unit(1, right)), pair, np.array([False]))


def test_reach_of_two_boxes() -> None:
    """Closed form: boxes keep their gap beside each other, above each other and corner to corner.

    Both are 0.6 wide and 1 high about their core, 0.2 apart.
    """
    reach = strides(box(0, 0, 0.6, 1), box(0.8, 0, 1.4, 1)).reach[0]
    assert reach[0] == pytest.approx(0.8)
    assert reach[DIRECTIONS // 2] == pytest.approx(0.8)
    assert reach[DIRECTIONS // 4] == pytest.approx(1.2)
    # towards the corner at (0.6, 1) the gap is that of a circle of 0.2 about it
    angle = round(np.arctan2(1.0, 0.6) * DIRECTIONS / (2 * pi))
    u = np.array([cos(2 * pi * angle / DIRECTIONS), sin(2 * pi * angle / DIRECTIONS)])
    along = float(u @ (0.6, 1.0))
    off = hypot(0.6, 1.0) ** 2 - along**2
    assert reach[angle] == pytest.approx(along + (0.2**2 - off) ** 0.5, abs=0.01)


@given(st.integers(0, DIRECTIONS - 1), st.sampled_from(["L", "T", "bar", "ring"]))
def test_ink_keeps_its_gap_in_every_direction(direction: int, form: str) -> None:
    """At its reach a letter is no nearer than the gap, hollow shapes too, and not much farther."""
    shapes = {
        "L": box(0, 0, 0.15, 1).union(box(0, 0, 0.6, 0.15)),
        "T": box(0.25, 0, 0.4, 1).union(box(0, 0.85, 0.65, 1)),
        "bar": box(0, 0.4, 0.5, 0.55),
        "ring": shapely.Point(0.3, 0.4).buffer(0.4),
    }
    left, right = shapes[form], translate(shapes["T"], shapes[form].bounds[2] + 0.18)
    found = strides(left, right)
    angle = 2 * pi * direction / DIRECTIONS
    step = found.reach[0, direction]
    middles = [(shape.bounds[0] + shape.bounds[2]) / 2 for shape in (left, right)]
    moved = translate(right, step * cos(angle) - (middles[1] - middles[0]), step * sin(angle))
    assert found.gaps[0] - 0.03 <= left.distance(moved) <= found.gaps[0] + 0.35


@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("radius", [8.0, 14.0, 30.0])
def test_words_stand_out_all_round(side: Side, radius: float) -> None:
    """Nowhere on a circle is a gap between words below 1.6 of the widest gap between letters."""
    for text in NAMES:
        words, letters = gaps(set_at(text, FONT, arc(side, "upright", radius)), text)
        assert words.min() >= 1.6 * letters.max(), text


@pytest.mark.parametrize("side", ["inside", "outside"])
def test_gaps_between_letters_are_even(side: Side) -> None:
    """From flank to flank gaps between letters are within a third of the usual one."""
    for text in NAMES:
        _, letters = gaps(set_at(text, FONT, arc(side, "upright", 12.0)), text)
        usual = np.median(letters)
        assert letters.min() > 0.6 * usual, text
        assert letters.max() < 1.6 * usual, text


@pytest.mark.parametrize("text", ["Perrin Samphire", "Odile Lymegrass", "Marlo Thrift"])
@pytest.mark.parametrize("side", ["inside", "outside"])
def test_what_fits_fits_at_every_smaller_size(text: str, side: Side) -> None:
    """From small to large a text fits up to one size and no more beyond it; that size is found."""
    room = text_box(400, 60, least=0.2, largest=7.0)
    block = next(candidates(text, [load_catalogue().open(FONT)], room, 1)).block
    place = along_of(room, arc(side, "upright", 9.0))
    straight = straight_of(block, 0.05, upright=True)
    heights = np.arange(1.0, 7.0, 0.05)
    fits = np.array([place.layout(straight, height).over <= 0 for height in heights])
    assert fits[0]
    assert not (~fits[:-1] & fits[1:]).any()
    assert place.largest(block, 7.0) == pytest.approx(heights[fits][-1], abs=0.06)


def test_a_long_text_fills_a_wave() -> None:
    """Upright letters along a line take all of it if they need it, to a hundredth."""
    text = "Kes Avocet Juno Tam Kelp Samphire"
    place = AlongPath("wave", WAVE, "upright", (2.5, 7.0))
    room = text_box(400, 60, least=0.2, largest=6.0)
    block = next(candidates(text, [load_catalogue().open(FONT)], room, 1)).block
    along = along_of(room, place)
    height = along.largest(block, 6.0)
    assert 2.0 < height < 6.0
    assert along.layout(straight_of(block, 0.05, upright=True), 1.01 * height).over > 0

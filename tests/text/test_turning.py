"""Gaps between words on arcs, seen as nearest ink, against those of the straight line."""

from dataclasses import replace

import numpy as np
import pytest

from namebatch.template.textbox import Arc, Letters, Side
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from tests.text.conftest import text_box

NAMES = (
    "Marlo Teasel",
    "Wim Jiri Yawl",
    "Vik Avocet",
    "Perrin Yawl",
    "Rafi Eddy",
    "Ida Inka Wrack",
    "Tove Lysander Jetty",
    "Bo Li",
)


def set_at(text: str, font: str, place: Arc | None) -> SetText:
    """A text with capitals of 5 mm, or as large as fits; straight without a place."""
    box = replace(text_box(400, 60, least=0.2, largest=5.0), place=place, made="outline")
    box = replace(box, sizing=replace(box.sizing, steps=()))
    result = fit(text, [load_catalogue().open(font)], box)
    assert isinstance(result, SetText)
    return result


def arc(side: Side, letters: Letters, radius: float, sweep: float = 350.0) -> Arc:
    """Round the origin, with room that does not limit."""
    middle = 90.0 if side == "outside" else 270.0
    return Arc((0.0, 0.0), radius, middle, sweep, side, letters, (4.0, min(9.0, 0.75 * radius)))


def gaps(result: SetText, text: str) -> tuple[np.ndarray, np.ndarray]:
    """Distances of neighbours' ink in capitals' heights: between words, between letters."""
    words: list[float] = []
    letters: list[float] = []
    for one, other in zip(result.letters[:-1], result.letters[1:], strict=True):
        found = words if " " in text[one.index : other.index] else letters
        found.append(one.shape.distance(other.shape) / result.height_mm)
    return np.array(words), np.array(letters)


@pytest.mark.parametrize("font", ["Noto Sans SemiBold", "Pacifico"])
@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("radius", [10.0, 20.0, 40.0])
def test_words_stay_as_far_apart_as_straight(font: str, side: Side, radius: float) -> None:
    """On no arc do words come nearer than 0.9 of their distance along a straight line."""
    for text in NAMES:
        bent, _ = gaps(set_at(text, font, arc(side, "turned", radius)), text)
        flat, _ = gaps(set_at(text, font, None), text)
        assert (bent >= 0.9 * flat).all(), text


@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("radius", [10.0, 20.0, 40.0])
def test_words_stand_out_from_letters(side: Side, radius: float) -> None:
    """Where letters fan out, words do so too: never below 1.6 of the usual gap of their letters."""
    for text in NAMES:
        words, letters = gaps(set_at(text, "Noto Sans SemiBold", arc(side, "turned", radius)), text)
        assert words.min() >= 1.6 * np.median(letters), text


def test_letters_of_a_word_are_not_pushed_apart() -> None:
    """Inside a ring room goes to words: letters of a word stand no farther apart than straight."""
    for text in NAMES:
        place = arc("inside", "turned", 20.0)
        _, bent = gaps(set_at(text, "Noto Sans SemiBold", place), text)
        _, flat = gaps(set_at(text, "Noto Sans SemiBold", None), text)
        assert (bent <= 1.1 * flat + 0.02).all(), text


def test_words_of_two_scripts_stay_apart() -> None:
    """The gap between a name in Latin letters and one in Hebrew, which runs back, is kept as well.

    What stands on both sides of it is not next to each other in the text.
    """
    fonts = [load_catalogue().open(name) for name in ("Noto Sans SemiBold", "Heebo Bold")]
    box = replace(text_box(400, 60, least=0.2, largest=5.0), made="outline")
    flat = fit("Marlo שלום", fonts, box)
    bent = fit("Marlo שלום", fonts, replace(box, place=arc("inside", "turned", 10.0)))
    assert isinstance(flat, SetText)
    assert isinstance(bent, SetText)
    last = [letter.text for letter in flat.letters].index("ם")
    straight = flat.letters[4].shape.distance(flat.letters[last].shape) / flat.height_mm
    found = bent.letters[4].shape.distance(bent.letters[last].shape) / bent.height_mm
    assert found >= 0.9 * straight

"""Scripts, initials, batches and short lines along bent lines."""

from dataclasses import replace

import pytest
from shapely import LineString

from namebatch.finding import Finding
from namebatch.template.textbox import AlongPath, Letters, Side, Sizing
from namebatch.text.batch import common_size
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from tests.text.conftest import text_box
from tests.text.test_along import arc, box_on, count, set_on


@pytest.mark.parametrize("letters", ["turned", "upright"])
@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize(
    "text",
    ["Marlo محمد", "שלום לביא", "Marlo שלום 12", "عبد الرحمن", "क्षितिज शर्मा", "'.,-' O'N -.'"],
)
def test_scripts_and_signs_on_an_arc(text: str, side: Side, letters: Letters) -> None:
    """Two scripts, right to left, signs alone: parts and holes are those of the straight line."""
    names = ("Noto Sans", "Noto Sans Arabic SemiBold", "Noto Sans Devanagari SemiBold")
    fonts = [load_catalogue().open(name) for name in (*names, "Heebo Bold")]
    box = box_on(arc(14.0, side, letters, 330.0), 5.0)
    bent, flat = fit(text, fonts, box), fit(text, fonts, text_box(400, 60, largest=5.0))
    assert isinstance(bent, SetText)
    assert isinstance(flat, SetText)
    assert bent.height_mm == pytest.approx(5.0)
    assert count(bent.shape) == count(flat.shape)


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_right_to_left_begins_on_the_right(side: Side) -> None:
    """Read along the arc from its left end, the last letter of a Hebrew name comes first."""
    result = set_on("שלום", "Heebo Bold", box_on(arc(20.0, side), 5.0))
    x = [letter.shape.centroid.x for letter in result.letters]
    assert x == sorted(x, reverse=True)


@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_initials_on_a_short_arc(letters: Letters) -> None:
    """Where a name is too long for its arc and initials are allowed, they are set and told."""
    box = replace(box_on(arc(14.0, "outside", letters, 60.0)), min_height_mm=3.5)
    box = replace(box, sizing=Sizing(steps=("tracking", "initials")))
    result = set_on("Marlo Teasel Samphire", "Noto Sans", box)
    assert result.text == "M. T. S."
    assert [finding.code for finding in result.notes] == ["tightened", "initials"]


@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_a_share_of_a_batch_may_be_smaller_on_an_arc(letters: Letters) -> None:
    """With a fifth of five names allowed to be smaller, the longest no longer counts."""
    box = replace(box_on(arc(14.0, "inside", letters, 200.0)), min_height_mm=1.0)
    faces = [load_catalogue().open("Noto Sans")]
    names = ["Bo", "Marlo Teasel", "Ida", "Tove Lysander Jetty", "Rafi"]
    found = []
    for share in (0.0, 0.2):
        sizing = Sizing(alike=True, smaller_share=share, steps=())
        common = common_size(names, faces, replace(box, sizing=sizing))
        assert common is not None
        found.append(common.height_mm)
    assert found[1] > 1.1 * found[0]


def test_text_on_a_very_short_line_is_too_small() -> None:
    """A line of half a millimetre takes no name that could be made; the row is held."""
    place = AlongPath("short", LineString([(0, 0), (0.5, 0)]), "turned", (2.0, 7.0))
    box = replace(box_on(place), min_height_mm=2.0)
    result = fit("Marlo", [load_catalogue().open("Noto Sans")], box)
    assert isinstance(result, Finding)
    assert result.code == "text-too-small"

"""Room below and above arcs and lines where the template gives none: as the typefaces want it."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString

from namebatch.template.textbox import AlongPath, Arc, Letters, Side, TextBox
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.room import extents_of, roomy
from tests.text.conftest import text_box

NAMES = ("Jgy", "Ann", "Ågot", "Jürgen", "Żyła", "Nguyễn", "Ģirts")


def box_on(place: Arc | AlongPath) -> TextBox:
    """A box with capitals of at most 5 mm."""
    return replace(text_box(largest=5.0, least=0.5), place=place)


def arc(side: Side, letters: Letters, radius: float = 20.0, given: bool = False) -> Arc:
    """An arc with the room that a template has before its typefaces are open."""
    middle = 90.0 if side == "outside" else 270.0
    return Arc((0.0, 0.0), radius, middle, 300.0, side, letters, (1.75, 6.5), given)


@pytest.mark.parametrize("font", ["Pacifico", "Lobster", "Fredoka SemiBold", "Noto Sans SemiBold"])
@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_names_have_one_size_on_an_arc(font: str, side: Side, letters: Letters) -> None:
    """Neither descenders nor marks make a name smaller than others."""
    faces = [load_catalogue().open(font)]
    box = roomy(box_on(arc(side, letters)), faces)
    for name in NAMES:
        result = fit(name, faces, box)
        assert isinstance(result, SetText)
        assert result.height_mm == pytest.approx(5.0, abs=1e-6), name


@pytest.mark.parametrize(
    ("name", "font"),
    [
        ("क्षितिज", "Noto Sans Devanagari SemiBold"),
        ("محمد", "Noto Sans Arabic SemiBold"),
        ("กิตติ์", "Noto Sans Thai SemiBold"),
    ],
)
def test_other_scripts_have_room_for_their_lines(name: str, font: str) -> None:
    """Names of scripts that reach higher or deeper than Latin ones are as large as straight."""
    faces = [load_catalogue().open(n) for n in ("Noto Sans SemiBold", font)]
    result = fit(name, faces, roomy(box_on(arc("outside", "turned")), faces))
    assert isinstance(result, SetText)
    assert result.height_mm == pytest.approx(5.0, abs=1e-6)


def test_room_that_is_given_stays() -> None:
    """What the template says is kept to the letter; so is a box that is no arc."""
    faces = [load_catalogue().open("Pacifico")]
    for box in (box_on(arc("outside", "turned", given=True)), text_box()):
        assert roomy(box, faces) is box


def test_room_ends_short_of_the_centre() -> None:
    """Inside a small ring no more room is taken than a quarter of the radius leaves."""
    box = roomy(box_on(arc("inside", "turned", 9.0)), [load_catalogue().open("Pacifico")])
    assert isinstance(box.place, Arc)
    assert box.place.room_mm[1] == pytest.approx(6.75)


def test_box_of_more_room_is_larger() -> None:
    """The box round all that ink may reach grows with the room."""
    box = roomy(box_on(arc("outside", "turned")), [load_catalogue().open("Pacifico")])
    assert isinstance(box.place, Arc)
    _, y, _, height = box.box_mm
    assert y + height == pytest.approx(20 + box.place.room_mm[1])


def test_room_along_a_line_ends_where_it_would_fold() -> None:
    """Along a bend of 7 mm letters get more room on its outer side, on the inner one what fits."""
    angle = np.linspace(0, np.pi, 400)
    bend = LineString(7 * np.column_stack([np.cos(angle), np.sin(angle)]))
    place = AlongPath("bend", bend, "turned", (1.0, 4.0), room_given=False)
    box = roomy(box_on(place), [load_catalogue().open("Pacifico")])
    assert isinstance(box.place, AlongPath)
    below, above = box.place.room_mm
    assert below > 1.0
    assert 4.0 <= above < 6.0


def test_extents_are_those_of_the_letters() -> None:
    """A capital H is 1 high and stands on the baseline; in Noto Sans g reaches below it.

    Source of the depth of g: read in the file (240 of 714 units of the capitals' height).
    """
    found = extents_of(load_catalogue().open("Noto Sans"))
    assert any(up == pytest.approx(1.0, abs=1e-3) and low == 0 for _, low, up in found)
    assert min(low for _, low, _ in found) <= -240 / 714 + 0.01

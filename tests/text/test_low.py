"""A place that is too low is not called too short."""

from dataclasses import replace

import pytest

from namebatch.finding import Finding
from namebatch.template.textbox import Arc, TextBox
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import fit
from tests.text.conftest import text_box


def told(text: str, box: TextBox) -> str:
    """Why a text is held."""
    found = fit(text, [load_catalogue().open("Noto Sans SemiBold")], box)
    assert isinstance(found, Finding)
    return found.message


def on_arc(room: tuple[float, float]) -> TextBox:
    """A long arc with so much room."""
    arc = Arc((30.0, 30.0), 25.0, 90.0, 200.0, "outside", "turned", room)
    return replace(text_box(largest=12.0, least=2.0), place=arc)


def test_no_room_below_an_arc() -> None:
    """A descender without room is told by the room there is; shortening would not help."""
    message = told("gjpqy", on_arc((0.0, 3.0)))
    assert message.endswith(
        "What it lacks is height, not length: shorter text would be no larger. Give it more "
        "room_mm (now 0 mm below, 3 mm above) in the template, or allow smaller letters."
    )


def test_a_low_box() -> None:
    """So is a box that is too low for its least letters."""
    box = replace(text_box(largest=12.0, least=5.0), box_mm=(0.0, 0.0, 100.0, 3.0))
    assert "Draw the box higher in the template" in told("Ann", box)


@pytest.mark.parametrize(
    "box",
    [
        on_arc((4.0, 14.0)),
        replace(text_box(largest=12.0, least=5.0), box_mm=(0.0, 0.0, 20.0, 30.0)),
    ],
)
def test_what_is_too_long_is_told_so(box: TextBox) -> None:
    """A text that only wants more length is to be shortened."""
    message = told("Bartholomew-Maximilian-" * 5, box)
    assert "horten" in message
    assert "height, not length" not in message

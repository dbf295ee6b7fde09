"""Room that arcs and lines leave letters on their base, and what reaches past it."""

from pathlib import Path

import pytest

from namebatch.template import load_template
from namebatch.template.model import Template
from namebatch.template.textbox import Arc
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.room import roomy
from tests.template.folders import written

HEAD = """\
format = 1
title = "Medal"
build = "bare"
rule = "{rule}"
material = "plywood-3"
[base]
shape = "circle"
diameter_mm = 60
{hole}
[[text]]
column = "name"
fonts = ["Lilita One"]
made = "{made}"
min_height_mm = 2
max_height_mm = 12
[text.arc]
centre_mm = [30, 30]
radius_mm = {radius}
sweep_deg = 200
{room}
"""
HOLE = '[[hole]]\nshape = "round"\nat_mm = [30, {y}]\ndiameter_mm = 4\n'


def medal(
    home: Path, radius: float, room: str = "", rule: str = "base", hole: str = ""
) -> Template:
    """A disc with a name along its edge."""
    made = "outline" if rule == "weld" else "engrave"
    toml = HEAD.format(radius=radius, room=room, rule=rule, made=made, hole=hole)
    return load_template(written(home / "t", toml))


def arc_of(template: Template) -> Arc:
    """The arc of its text."""
    place = template.boxes[0].place
    assert isinstance(place, Arc)
    return place


@pytest.mark.parametrize("name", ["A", "Odile", "gjpqy", "Åsa Ñu"])
def test_names_near_the_edge_are_smaller_not_cut(tmp_path: Path, name: str) -> None:
    """With 5 mm from the baseline to the edge of a disc every name is set, 1.5 mm inside."""
    template = medal(tmp_path, 25)
    faces = [load_catalogue().open("Lilita One")]
    found = fit(name, faces, roomy(template.boxes[0], faces))
    assert isinstance(found, SetText)
    assert found.height_mm >= 2.0
    assert template.base.buffer(-1.48).contains(found.shape)


def test_room_ends_at_a_hole(tmp_path: Path) -> None:
    """A hole above the middle of the arc bounds the room as the edge does."""
    assert arc_of(medal(tmp_path, 15, hole=HOLE.format(y=54))).room_mm[1] == pytest.approx(
        5.5, 0.01
    )


def test_where_there_is_room_nothing_changes(tmp_path: Path) -> None:
    """Far from the edge the room is as ever, 0.35 and 1.3 of the greatest height."""
    place = arc_of(medal(tmp_path, 12))
    assert place.room_mm == pytest.approx((4.2, 15.6))
    assert place.most_mm is not None


def test_welded_letters_may_leave_the_base(tmp_path: Path) -> None:
    """Where letters are part of the outline the base bounds nothing."""
    template = medal(tmp_path, 25, rule="weld")
    assert arc_of(template).most_mm is None
    assert template.warnings == ()


def test_given_room_past_the_edge_is_told(tmp_path: Path) -> None:
    """The template is told to draw it in, with where it leaves, before any name is held."""
    [told] = medal(tmp_path, 23, "room_mm = [1, 5]", hole=HOLE.format(y=55)).warnings
    assert told.code == "place-leaves-base"
    assert told.message.startswith(
        'The place of the text "name" reaches over the edge of the base or into a hole (front, at '
        "x 30.0, y 55.1 mm)"
    )
    assert told.message.endswith(
        "Give it a smaller sweep_deg or radius_mm or less room_mm, or move it inwards."
    )


def test_given_room_on_the_base_is_not_told(tmp_path: Path) -> None:
    """Room that ends at the edge is fine."""
    template = medal(tmp_path, 25, "room_mm = [1, 5]")
    assert template.warnings == ()
    assert arc_of(template).room_mm == (1.0, 5.0)

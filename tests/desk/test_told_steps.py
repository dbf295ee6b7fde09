"""A step of the history says what was done in it, and a docket what became of its template."""

import shutil

import pytest

from namebatch.desk import Desk
from namebatch.desk.model import Next
from namebatch.desk.own_templates import take_away
from namebatch.desk.templates import template_folder, template_of
from namebatch.names.mend import Mend, TextMend
from tests.desk.desks import FOBS, PLACES, all_made


def _told(desk: Desk, number: int) -> str | None:
    return desk.docket(number).undo_told


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (None, Mend(held="left out"), "Line 3: left out"),
        (Mend(held="left out"), None, "Line 3: taken in again"),
        (None, Mend(held="not paid"), "Line 3: held by hand"),
        (Mend(held="not paid"), None, "Line 3: no longer held by hand"),
        (Mend(quantity=2, held="left out"), Mend(quantity=2), "Line 3: taken in again"),
        (Mend(quantity=2), Mend(quantity=2, held="left out"), "Line 3: left out"),
        (Mend(quantity=2), None, "Line 3: changes by hand taken away"),
        (Mend(quantity=2), Mend(quantity=4), "Line 3: 4 to make instead of 1"),
        (
            Mend(quantity=2),
            Mend(quantity=2, fields={"name": "Inga"}),
            'Line 3: "name" says "Inga" instead of "Inka"',
        ),
        (
            Mend(quantity=2, fields={"name": "Inga"}),
            Mend(quantity=2),
            'Line 3: taken back: "name" says "Inga" instead of "Inka"',
        ),
        (
            Mend(texts={"name": TextMend(shift_mm=(1.0, 0.0))}),
            Mend(texts={"name": TextMend(shift_mm=(2.0, 0.0))}),
            'Line 3: text "name" moved 2 mm right',
        ),
    ],
)
def test_a_step_says_what_it_did(
    desk: Desk, before: Mend | None, after: Mend | None, told: str
) -> None:
    """Not how the line stands after it: taking it in again is no change of its pieces."""
    number = desk.create("", "key-fob", FOBS).number
    if before is not None:
        desk.put_mend(number, 3, before)
    desk.put_mend(number, 3, after)
    assert _told(desk, number) == told


def test_choices_are_told_by_their_titles(desk: Desk) -> None:
    """Templates and materials are called what the page calls them where they are chosen."""
    number = desk.create("", "key-fob", FOBS).number
    told = desk.change_settings(number, {"template": "stencil-plate"}).undo_told
    assert told == f"template: {template_of(desk.own_templates(), 'stencil-plate').title}"
    told = desk.change_settings(number, {"material": "stencil-card-0.5"}).undo_told
    assert told == "material: Oiled stencil card 0.5 mm"


def test_a_template_that_is_gone_is_said(desk: Desk) -> None:
    """With its template taken away a docket still has its list, and says what it lacks."""
    own = desk.own_templates()
    own.mkdir(parents=True, exist_ok=True)
    shutil.copytree(template_folder(own, "place-card"), own / "our-card")
    number = desk.create("", "our-card", PLACES).number
    all_made(desk, number)
    assert desk.docket(number).next.text != "choose another template"
    take_away(own, "our-card")
    for view in (*desk.dockets(), desk.docket(number), *desk.dockets()):
        assert (view.template, view.counts) == (None, None)
        assert view.next == Next("choose another template", "list")
        assert view.list_name == PLACES.name

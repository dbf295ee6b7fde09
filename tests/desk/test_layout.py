"""What the sheets of a docket are made of."""

from pathlib import Path

import pytest

from namebatch.desk.layout import LayoutView, layout_of
from namebatch.desk.recipe import Recipe, plan_recipe
from namebatch.errors import NotThereError
from namebatch.store import KeptList
from namebatch.store.model import Setting
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.desk.desks import PLACES, desk_in
from tests.desk.owner import CARDS

ORDERS = KeptList("orders.csv", b"name,order\nWren,0001\nTeal,0002\n")


def _layout(own: Path, names: KeptList, **settings: Setting) -> LayoutView:
    """Of the template and settings that are given."""
    return layout_of(plan_recipe(Recipe(names, settings, own)))


def test_printed_sheets_and_boards(tmp_path: Path) -> None:
    """A faced template has pages and boards, and the printer's sheet if nothing is chosen."""
    found = _layout(tmp_path, CARDS, template="bag-tag")
    assert [stock.kind for stock in found.stocks] == ["face", "board"]
    assert (found.usual_sheet, found.stocks[0].size_mm) == ("a4", (210.0, 297.0))
    assert found.printer is not None
    assert found.built_in
    assert not found.orders
    assert [paper.name for paper in found.papers] == ["a5", "a4", "letter", "a3"]


def test_bare_boards_have_no_printer(tmp_path: Path) -> None:
    """Where nothing is printed the material's own size is the usual one; orders are told."""
    found = _layout(tmp_path, ORDERS, template="key-fob")
    assert [stock.kind for stock in found.stocks] == ["board"]
    assert (found.printer, found.usual_sheet) == (None, None)
    assert found.orders


def test_the_gap_is_the_one_that_was_chosen(tmp_path: Path) -> None:
    """What is chosen and what is usual stand beside each other."""
    found = _layout(tmp_path, CARDS, template="place-card", gap_mm=4.5)
    assert (found.gap_mm, found.usual_gap_mm, found.gap_range_mm) == (4.5, 3.0, (0.2, 100.0))


def test_a_desk_tells_it_of_its_dockets(tmp_path: Path) -> None:
    """The docket's own plan is asked; there is none for a docket that is not there."""
    with desk_in(tmp_path / "data") as desk:
        docket = desk.create("Cards", "place-card", PLACES)
        assert desk.layout(docket.number).stocks[0].kind == "face"
        with pytest.raises(NotThereError, match="no docket"):
            desk.layout(99)


def test_values_that_came_with_the_program_are_told(tmp_path: Path) -> None:
    """A workshop file begun from the examples warns of the parts in use, and of no others."""
    shed = tmp_path / "shed.toml"
    shed.write_text(BUILTIN_TOML.replace("travel_mm_s = 300", "travel_mm_s = 250"), "utf-8")
    plan = plan_recipe(Recipe(CARDS, {"template": "place-card"}, tmp_path, shed))
    found = layout_of(plan)
    assert not found.built_in
    assert found.examples == ("the printer", found.stocks[0].material)
    assert any("example values for the printer and" in note for note in plan.notes)

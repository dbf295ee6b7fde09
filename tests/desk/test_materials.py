"""Materials that a docket can be made of in place of its template's own."""

from pathlib import Path

import pytest

from namebatch.desk.materials import MaterialChoice, material_choices
from namebatch.errors import DeskError
from namebatch.store.model import Setting
from namebatch.template import find_template, load_template, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.desk.desks import FOBS, PLACES, desk_in


def _choices(template: str, **settings: Setting) -> tuple[MaterialChoice, ...]:
    """Of the built-in workshop."""
    found = load_template(find_template(template))
    return material_choices(found, load_workshop(None), settings)


def _names(choice: MaterialChoice) -> list[str]:
    return [one.name for one in choice.offered]


def test_materials_that_suit_are_offered() -> None:
    """Printed sheets are of what comes in the printer's size, boards of what has its own."""
    face, board = _choices("bag-tag")
    assert (face.setting, face.kind, face.usual) == ("material", "face", "Card 160 g/m²")
    assert _names(face) == ["card-160", "card-300"]
    assert (board.setting, board.kind, board.usual) == ("board", "board", "Birch plywood 3 mm")
    assert _names(board) == ["plywood-3", "basswood-2", "stencil-card-0.5"]
    assert board.offered[0].size_mm == (600.0, 300.0)
    [bare] = _choices("key-fob")
    assert (bare.setting, bare.kind, _names(bare)) == ("material", "board", _names(board))
    assert not any(choice.missing for choice in (face, board, bare))


def test_a_chosen_material_is_among_those_offered() -> None:
    """Also one that is not for such sheets; what is usual stays the template's own."""
    [choice] = _choices("key-fob", material="card-300")
    assert choice.usual == "Birch plywood 3 mm"
    assert "card-300" in _names(choice)


def test_a_material_is_chosen_for_a_docket(tmp_path: Path) -> None:
    """It can be taken back, goes with its template, and one that there is not is refused."""
    with desk_in(tmp_path / "data") as desk:
        number = desk.create("Fobs", "key-fob", FOBS).number
        desk.change_settings(number, {"material": "basswood-2"})
        assert desk.layout(number).stocks[0].material == "Basswood 2 mm"
        with pytest.raises(DeskError, match=r'no such material: "oak-9".*It has: card-160') as told:
            desk.change_settings(number, {"material": "oak-9"})
        assert "--" not in str(told.value)
        with pytest.raises(DeskError, match="so no board can be chosen for it"):
            desk.change_settings(number, {"board": "plywood-3"})
        assert desk.docket(number).settings["material"] == "basswood-2"
        desk.change_settings(number, {"template": "kite-tag"})
        assert "material" not in desk.docket(number).settings
        desk.undo(number)
        assert desk.layout(number).stocks[0].material == "Basswood 2 mm"


def test_what_the_workshop_lacks_is_chosen_before_anything_can_be_planned(tmp_path: Path) -> None:
    """A workshop with other materials than the template's offers its own, one by one."""
    toml = BUILTIN_TOML.replace("[material.card-160]", "[material.our-card]")
    with desk_in(tmp_path / "data") as desk:
        desk.workshop_file().write_text(
            toml.replace("[material.plywood-3]", "[material.our-board]"), encoding="utf-8"
        )
        number = desk.create("Tags", "bag-tag", PLACES).number
        problem = desk.docket(number).problem
        assert problem is not None
        assert '"card-160" and "plywood-3"' in problem.what
        assert problem.what.endswith("or choose another one under Lay out.")
        face, board = desk.materials(number)
        assert (face.usual, face.missing, board.missing) == ("card-160", True, True)
        assert _names(face) == ["our-card", "card-300"]
        desk.change_settings(number, {"material": "our-card"})
        desk.change_settings(number, {"board": "our-board"})
        assert desk.docket(number).problem is None
        kinds = [stock.material for stock in desk.layout(number).stocks]
        assert kinds == ["Card 160 g/m²", "Birch plywood 3 mm"]


def test_a_docket_without_a_list_offers_nothing_yet(tmp_path: Path) -> None:
    """What is missing is told."""
    with desk_in(tmp_path / "data") as desk:
        number = desk.create("Fobs", "key-fob").number
        with pytest.raises(DeskError, match="no list yet"):
            desk.materials(number)

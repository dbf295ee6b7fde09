"""What a docket's pieces are made from."""

import pickle
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.desk.recipe import Recipe, check_settings, file_name, plan_recipe, settings_of
from namebatch.errors import DeskError, NotThereError
from namebatch.names.mend import Mend
from namebatch.store import KeptList
from namebatch.store.model import Setting
from tests.desk.desks import FOBS


def _recipe(folder: Path, names: KeptList = FOBS, **settings: Setting) -> Recipe:
    return Recipe(names, {"template": "key-fob", **settings}, folder / "templates")


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("crew.csv", "crew.csv"),
        ("../../etc/passwd", "passwd"),
        ("C:\\lists\\crew.xlsx", "crew.xlsx"),
        ("a<b>c:d|e?.csv", "a_b_c_d_e_.csv"),
        ("..", "list"),
        ("", "list"),
        ("tab\tand\x00null.csv", "tab_and_null.csv"),
        ("Zoë 名簿.ods", "Zoë 名簿.ods"),
        ("half \ud83d.csv", "half _.csv"),
    ],
)
def test_no_name_of_a_list_is_a_path(name: str, file: str) -> None:
    """Whatever a browser calls a file, it is a plain name here."""
    assert file_name(name) == file


def test_long_names_keep_their_ending() -> None:
    """What a list is written in is told by it, and file systems have an end."""
    name = file_name(f"{'名' * 300}.xlsx")
    assert name.endswith(".xlsx")
    assert len(name.encode()) < 255


def test_the_look_depends_on_what_pieces_depend_on(tmp_path: Path) -> None:
    """List, columns, sheet and so on; not on how sheets are filled, nor on changes by hand."""
    recipe = _recipe(tmp_path)
    same = [
        replace(recipe, mends={2: Mend(quantity=3)}),
        _recipe(tmp_path, fill="tight", seconds=9.0, spare="2", by_order=True),
        replace(recipe, settings={"spare": "1", "template": "key-fob"}),
    ]
    other = [
        _recipe(tmp_path, sheet="a3"),
        _recipe(tmp_path, material="basswood-2"),
        _recipe(tmp_path, board="basswood-2"),
        _recipe(tmp_path, font="Lobster"),
        _recipe(tmp_path, columns={"name": "team"}),
        _recipe(tmp_path, KeptList("other.csv", FOBS.data)),
        _recipe(tmp_path, KeptList(FOBS.name, FOBS.data + b"Teal,Terns\n")),
        _recipe(tmp_path, replace(FOBS, pasted=True)),
    ]
    assert {one.look for one in same} == {recipe.look}
    assert len({recipe.look, *(one.look for one in other)}) == len(other) + 1
    shop = tmp_path / "workshop.toml"
    shop.write_bytes(b"[printer]\n")
    assert replace(recipe, workshop=shop).look != recipe.look


def test_columns_count_in_any_order(tmp_path: Path) -> None:
    """A table of columns is the same however it was put together."""
    one = _recipe(tmp_path, columns={"name": "a", "team": "b"})
    two = _recipe(tmp_path, columns={"team": "b", "name": "a"})
    assert one.look == two.look


def test_recipes_can_be_handed_to_another_process(tmp_path: Path) -> None:
    """They are the same there."""
    recipe = replace(_recipe(tmp_path), mends={2: Mend(fields={"name": "Marla"})})
    assert pickle.loads(pickle.dumps(recipe)) == recipe


def test_nothing_is_left_of_the_list_in_the_temporary_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The list is read from a private file that is gone afterwards."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert len(plan_recipe(_recipe(tmp_path)).names.rows) == 3
    assert list(tmp_path.iterdir()) == []


def test_templates_that_are_gone_are_told(tmp_path: Path) -> None:
    """A docket may outlive its template."""
    with pytest.raises(NotThereError, match='no template "old-fob"'):
        settings_of(_recipe(tmp_path, template="old-fob"))
    with pytest.raises(DeskError, match="No template was chosen"):
        settings_of(replace(_recipe(tmp_path), settings={}))


@pytest.mark.parametrize(
    "wanted",
    [
        {"gap_mm": True},
        {"gap_mm": "3"},
        {"columns": {"name": 3}},
        {"columns": ["name"]},
        {"workers": 9},
        {"part_used": "/etc/passwd"},
        {"keep_order": 1},
    ],
)
def test_settings_of_another_kind_are_refused(wanted: Mapping[str, Setting]) -> None:
    """Nothing reaches the planning that could not stand in its settings, no path above all."""
    with pytest.raises(DeskError, match="cannot be chosen"):
        check_settings(wanted)


def test_what_is_taken_away_may_be_anything() -> None:
    """None takes a setting away, and numbers may be whole."""
    check_settings({"gap_mm": None, "seconds": 5, "columns": {}, "by_order": False})

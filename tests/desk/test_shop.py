"""The workshop file through a form: comments stay, values are proved, nothing is half written."""

from pathlib import Path
from typing import Any

import pytest

from namebatch.desk.own_templates import keep
from namebatch.desk.shop import ShopView, change_shop, put_shop_file, shop_text, shop_view
from namebatch.errors import OutputError, WorkshopError
from namebatch.template import load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the workshop file would lie."""
    return tmp_path / "data" / "workshop.toml"


def view(path: Path) -> ShopView:
    return shop_view(path, path.parent / "templates")


def form(path: Path) -> dict[str, Any]:
    """What the page sends when nothing was changed."""
    shop = view(path)
    return {
        "digest": shop.digest,
        "printer": dict(shop.printer),
        "cutter": dict(shop.cutter),
        "materials": [{**one.values, "name": one.name} for one in shop.materials],
    }


def changed(before: str, after: str) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


def test_examples_are_shown_until_there_is_a_file(path: Path) -> None:
    """They are told to be examples, and looking writes nothing."""
    shop = view(path)
    assert shop.built_in
    assert [one.name for one in shop.materials][:2] == ["card-160", "card-300"]
    assert not path.parent.exists()


def test_a_form_that_was_not_changed_writes_the_very_file(path: Path) -> None:
    """What is equal stays as somebody wrote it: 0.09 for both kerfs, inline speeds, comments."""
    change_shop(path, **form(path))
    assert path.read_text(encoding="utf-8") == BUILTIN_TOML
    assert not view(path).built_in
    assert view(path).examples[:3] == ("the printer", "the cutter", "Card 160 g/m²")


def test_what_was_entered_is_no_example_any_more(path: Path) -> None:
    """A value of one's own, or a name, takes that part out of what is warned of, and no other."""
    sent = form(path)
    sent["printer"]["margins_mm"] = [4.0, 4.0, 6.0, 4.0]
    sent["materials"][0]["title"] = "Card of the Kite Day"
    change_shop(path, **sent)
    assert view(path).examples[:2] == ("the cutter", "Card 300 g/m²")


def test_one_value_is_one_line(path: Path) -> None:
    """Everything round it, comments too, is as it was; whole numbers are written as such."""
    sent = form(path)
    sent["materials"][2]["thickness_mm"] = 4.0
    sent["cutter"]["price_per_hour"] = 24
    change_shop(path, **sent)
    went, came = changed(BUILTIN_TOML, path.read_text(encoding="utf-8"))
    assert went == ["thickness_mm = 3"]
    assert came == ["price_per_hour = 24", "thickness_mm = 4"]


def test_values_in_inner_tables_change_alone(path: Path) -> None:
    """A speed and a colour; a value that is taken away leaves the file."""
    sent = form(path)
    sent["materials"][2]["speeds_mm_s"] = {**sent["materials"][2]["speeds_mm_s"], "outer": 12.5}
    sent["materials"][2]["speeds_mm_s"]["window"] = None
    sent["cutter"]["colours"] = {**sent["cutter"]["colours"], "mark": "#123456"}
    change_shop(path, **sent)
    _, came = changed(BUILTIN_TOML, path.read_text(encoding="utf-8"))
    assert [" ".join(line.split()) for line in came] == [
        'mark = "#123456"',
        "speeds_mm_s = { outer = 12.5, inner = 15, mark = 60, engrave = 200 }",
    ]


def test_colours_begin_a_table_where_there_is_none(path: Path) -> None:
    """A file that goes by the usual colours gets just the one that was chosen."""
    path.parent.mkdir(parents=True)
    start, end = BUILTIN_TOML.index("# Okabe"), BUILTIN_TOML.index("[material.card-160]")
    path.write_text(BUILTIN_TOML[:start] + BUILTIN_TOML[end:], encoding="utf-8")
    sent = form(path)
    sent["cutter"]["colours"] = {**sent["cutter"]["colours"], "outer": "#aa0000"}
    change_shop(path, **sent)
    assert load_workshop(path).cutter.colours["outer"] == "#aa0000"
    assert path.read_text(encoding="utf-8").count('"#') == 6


def test_a_material_comes_and_another_goes(path: Path) -> None:
    """The new one holds what was said of it and nothing that goes without saying."""
    sent = form(path)
    gone = sent["materials"].pop(1)["name"]
    sent["materials"].append(
        {
            "name": "felt-2",
            "title": "Felt 2 mm",
            "thickness_mm": 2,
            "kerf_mm": [0.2, 0.2],
            "minimum_width_mm": 2,
            "sheet_mm": [300, 200],
            "speeds_mm_s": {"outer": 30, "inner": None},
            "price": None,
            "edge_mm": 0,
        }
    )
    change_shop(path, **sent)
    shop = load_workshop(path)
    assert gone not in shop.materials
    assert shop.materials["felt-2"].sheet_mm == (300, 200)
    text = path.read_text(encoding="utf-8")
    start = text.index("[material.felt-2]")
    assert text[start:].split() == [
        *("[material.felt-2]", "title", "=", '"Felt', "2", 'mm"', "sheet_mm", "=", "[300,"),
        *("200]", "thickness_mm", "=", "2", "kerf_mm", "=", "[0.2,", "0.2]"),
        *("minimum_width_mm", "=", "2", "speeds_mm_s", "=", "{outer", "=", "30}"),
    ]


@pytest.mark.parametrize(
    "text",
    [BUILTIN_TOML.replace("\n", "\r\n"), "\ufeff" + BUILTIN_TOML],
    ids=["windows line ends", "byte order mark"],
)
def test_line_ends_and_marks_of_editors_stay(path: Path, text: str) -> None:
    """Whatever program wrote the file, one value changes one line."""
    path.parent.mkdir(parents=True)
    path.write_bytes(text.encode())
    sent = form(path)
    sent["printer"]["name"] = "Printer by the door"
    change_shop(path, **sent)
    old = 'name = "Colour printer (example values)"'
    assert path.read_bytes().decode() == text.replace(old, 'name = "Printer by the door"')


@pytest.mark.parametrize(
    ("where", "value", "told"),
    [
        (("printer", "margins_mm"), [5, 5, 7], "printer.margins_mm: needs 4 numbers"),
        (("printer", "sheet"), "a9", "printer.sheet"),
        (("printer", "nozzle"), 1, "printer.nozzle: there is no such key here"),
        (("printer", "scale"), [float("nan"), 1], "printer.scale"),
        (("cutter", "bed_mm"), None, "cutter.bed_mm"),
        (("cutter", "travel_mm_s"), "fast", "cutter.travel_mm_s: needs a number"),
    ],
)
def test_what_cannot_be_is_told_with_its_place(
    path: Path, where: tuple[str, str], value: object, told: str
) -> None:
    """And nothing is written, not even the file that was not there yet."""
    sent = form(path)
    sent[where[0]][where[1]] = value
    with pytest.raises(WorkshopError, match="nothing was written") as error:
        change_shop(path, **sent)
    assert any(problem.startswith(told) for problem in error.value.problems)
    assert not path.exists()


def test_values_that_do_not_go_together_are_refused(path: Path) -> None:
    """The file is proved as a whole before it takes the old one's place."""
    sent = form(path)
    sent["cutter"]["jig"] = "900x900"
    with pytest.raises(WorkshopError, match="as it was") as error:
        change_shop(path, **sent)
    assert "does not lie on the bed" in error.value.problems[0]
    assert not path.exists()


def test_what_no_laser_must_cut_is_refused(path: Path) -> None:
    """By its name, as in a file; a blade may cut it."""
    sent = form(path)
    sent["materials"][0]["title"] = "PVC foil"
    with pytest.raises(WorkshopError) as error:
        change_shop(path, **sent)
    assert "must never be cut with a laser" in error.value.problems[0]
    sent["cutter"]["kind"] = "blade"
    change_shop(path, **sent)
    assert load_workshop(path).materials["card-160"].title == "PVC foil"


@pytest.mark.parametrize("name", ["", "  ", "card\n160", "x" * 121, "card-160", "\ud800"])
def test_materials_need_names_of_their_own(path: Path, name: str) -> None:
    """Short, printable, and each once."""
    sent = form(path)
    sent["materials"].append({**sent["materials"][0], "name": name})
    with pytest.raises(WorkshopError, match="nothing was written"):
        change_shop(path, **sent)


def test_two_windows_do_not_write_over_each_other(path: Path) -> None:
    """Whoever comes second is told, and loses nothing of the first one's."""
    first, second = form(path), form(path)
    first["printer"]["name"] = "First"
    change_shop(path, **first)
    second["printer"]["name"] = "Second"
    with pytest.raises(WorkshopError, match="changed meanwhile"):
        change_shop(path, **second)
    assert load_workshop(path).printer.name == "First"


def test_a_file_takes_the_place_of_the_old_one(path: Path) -> None:
    """As it was sent, to the byte."""
    data = BUILTIN_TOML.replace("card-300", "card-280").encode()
    put_shop_file(path, data)
    assert path.read_bytes() == data == shop_text(path)


@pytest.mark.parametrize(
    "data",
    [b"", b"\xff\xfe\x00", b"[printer]\nname = ", b"[[[", b"#" * 300_000, b"a = 1\n", b"x = " * 9],
)
def test_what_is_no_workshop_file_changes_nothing(path: Path, data: bytes) -> None:
    """The one that was there stays."""
    put_shop_file(path, BUILTIN_TOML.encode())
    with pytest.raises(WorkshopError):
        put_shop_file(path, data)
    assert path.read_text(encoding="utf-8") == BUILTIN_TOML
    assert [one.name for one in path.parent.iterdir()] == ["workshop.toml"]


def test_a_damaged_file_is_told(path: Path) -> None:
    """Somebody changed it by hand: the form cannot show it, and says where it stops."""
    path.parent.mkdir(parents=True)
    path.write_text(BUILTIN_TOML.replace("sheet_mm = [600", "sheet_mm = [6x0", 1))
    with pytest.raises(WorkshopError, match="line"):
        view(path)


def test_a_disk_that_takes_nothing_is_told(path: Path) -> None:
    """A file stands where the data folder should be."""
    sent = form(path)
    path.parent.write_bytes(b"")
    with pytest.raises((OutputError, WorkshopError), match="cannot be"):
        change_shop(path, **sent)


def test_materials_say_which_templates_ask_for_them(path: Path) -> None:
    """Bundled ones and one's own, for print and board alike."""
    own = path.parent / "templates"
    keep(own, "mine", {"template.toml": b'material = "basswood-2"\nboard = "plywood-3"\n'})
    uses = {one.name: one.used_by for one in view(path).materials}
    assert uses["basswood-2"] == ("mine",)
    assert "bag-tag" in uses["plywood-3"]
    assert "mine" in uses["plywood-3"]

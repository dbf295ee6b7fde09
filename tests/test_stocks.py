"""The sheets of a job: they lie on the bed as they are drawn."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.errors import SettingsError, SheetError, WorkshopError
from namebatch.leftovers import leftovers_of, leftovers_of_job
from namebatch.pipeline import Plan, Settings, make_job, plan_job
from namebatch.stocks import stocks_of
from namebatch.template import find_template, load_template, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.turned import printer_for
from namebatch.template.workshop import Printer, Workshop
from tests.conftest import silent
from tests.remake import jobs

ListFile = Callable[..., Path]
FOBS = "name,village\nMarlo,Holm\nWren,Creek\n"
CARDS = "name,table\nWren,1\nTeal,2\n"


def shop_file(place: Path, *changes: tuple[str, str]) -> Path:
    """The built-in workshop with changes, in a file."""
    toml = BUILTIN_TOML
    for old, new in changes:
        assert old in toml
        toml = toml.replace(old, new)
    path = place / "shop.toml"
    path.write_text(toml, encoding="utf-8")
    return path


def bed(width: float, depth: float) -> tuple[str, str]:
    """The change that makes the bed another."""
    return "bed_mm = [600, 400]", f"bed_mm = [{width:g}, {depth:g}]"


def shop(place: Path, *changes: tuple[str, str]) -> Workshop:
    """The workshop of such a file."""
    return load_workshop(shop_file(place, *changes))


def sizes(template: str, workshop: Workshop, sheet: str | None = None) -> list[object]:
    """Sizes of the sheets that a bundled template is made on."""
    stocks = stocks_of(load_template(find_template(template)), workshop, sheet, 3.0, 1.0)
    return [stock.page.size_mm for stock in stocks]


def test_sheets_that_lie_on_the_bed_stay_as_they_are(tmp_path: Path) -> None:
    """Also where both ways would do."""
    workshop = shop(tmp_path)
    assert sizes("place-card", workshop, "a4") == [(210, 297)]
    assert sizes("place-card", workshop, "297x210") == [(297, 210)]
    assert sizes("bag-tag", workshop) == [(210, 297), (600, 300)]
    assert sizes("line-winder", workshop) == [(600, 300)]
    assert sizes("place-card", shop(tmp_path, bed(297, 420)), "a3") == [(297, 420)]


@pytest.mark.parametrize(
    ("template", "size", "sheet", "lying"),
    [
        ("place-card", (600, 400), "a3", [(420, 297)]),
        ("place-card", (300, 210), "a4", [(297, 210)]),
        ("place-card", (300, 500), "420x297", [(297, 420)]),
        ("bag-tag", (400, 600), None, [(210, 297), (300, 600)]),
        ("line-winder", (400, 600), None, [(300, 600)]),
        ("line-winder", (400, 600), "550x250", [(250, 550)]),
    ],
)
def test_sheets_lie_the_way_the_bed_takes_them(
    tmp_path: Path, template: str, size: tuple[float, float], sheet: str | None, lying: object
) -> None:
    """What hangs over the edge as it is given is turned by a quarter, page or board."""
    assert sizes(template, shop(tmp_path, bed(*size)), sheet) == lying


def test_a_sheet_too_large_either_way_is_refused(tmp_path: Path) -> None:
    """With its own size and the bed's."""
    with pytest.raises(SheetError, match="sheet of 297 × 420 mm does not lie on the cutter's bed"):
        sizes("place-card", shop(tmp_path, bed(400, 296)), "a3")


def test_a_mounted_page_lies_as_its_board_can(tmp_path: Path) -> None:
    """The page would lie on the bed as it is; on the board that lies there it does not."""
    template = load_template(find_template("place-card"))
    mounted = replace(template, finish=replace(template.finish, mounted=True))
    workshop = shop(tmp_path, bed(600, 420))
    card = replace(workshop.materials[template.material], sheet_mm=(600.0, 300.0))
    workshop = replace(workshop, materials={template.material: card})
    [stock] = stocks_of(mounted, workshop, "a3", 3.0, 1.0)
    assert stock.page.size_mm == (420, 297)
    own = replace(workshop, cutter=replace(workshop.cutter, jig_mm=(600.0, 300.0)))
    [stock] = stocks_of(template, own, "a3", 3.0, 1.0)
    assert stock.page.size_mm == (420, 297)


A4 = Printer("p", "a4", (3.0, 4.0, 7.0, 5.0), (1.002, 0.997))


def test_margins_and_scale_turn_with_the_page() -> None:
    """They are those of the printer's own sheet; which way it turns the paper nobody knows.

    So both sides have the larger margin of the two that may lie there.
    """
    turned = printer_for(A4, (420.0, 297.0))
    assert turned.margins_mm == (5, 7, 5, 7)
    assert turned.scale == (0.997, 1.002)
    assert turned.is_turned
    assert turned.sheet == "297x210"
    assert printer_for(turned, (420.0, 297.0)) == turned
    for size in ((210.0, 297.0), (297.0, 420.0), (300.0, 300.0)):
        assert printer_for(A4, size) == A4
    level = replace(A4, sheet="297x210")
    assert printer_for(level, (297.0, 210.0)) == level
    assert printer_for(level, (210.0, 297.0)).margins_mm == (5, 7, 5, 7)


def _plan(list_file: ListFile, text: str, template: str, path: Path, **settings: object) -> Plan:
    return plan_job(list_file(text), Settings(template, workshop=path, **settings))  # type: ignore[arg-type]


def test_a_turned_page_from_list_to_job(list_file: ListFile, tmp_path: Path) -> None:
    """Frame, cut lines and jig lie on the page as it lies, and a note says so."""
    path = shop_file(tmp_path, ("[5, 5, 7, 5]", "[3, 4, 7, 5]\nscale = [1.002, 0.997]"))
    plan = _plan(list_file, CARDS, "place-card", path, sheet="a3")
    assert plan.workshop.printer.scale == (0.997, 1.002)
    job = make_job(plan, silent)
    [sheet] = job.sheets
    assert sheet.size_mm == (420, 297)
    assert job.jig is not None
    assert job.jig.size_mm == (420, 297)
    x, y, width, height = sheet.frame_mm
    assert (x, y) == (7.5, 5.5)
    assert (x + width, y + height) == (412.5, 291.5)
    points = [point for cut in sheet.cuts for point in cut.points]
    assert max(px for px, _ in points) <= 420
    assert max(py for _, py in points) <= 297
    told = [text for text in job.notes if "297 × 420 mm" in text]
    assert len(told) == 1
    assert "420 × 297 mm" in told[0]
    assert any("x and y of its scale have changed places" in text for text in job.notes)


def test_the_kerf_belongs_to_the_cutters_axes_on_a_turned_board(
    list_file: ListFile, tmp_path: Path
) -> None:
    """A board that is turned, and one that is ordered so, give the very same cut lines."""
    kerf = ("kerf_mm = 0.18", "kerf_mm = [0.3, 0.1]")
    turned = shop_file(tmp_path, bed(400, 600), kerf)
    one = make_job(_plan(list_file, "name\nWren\nTeal\n", "line-winder", turned), silent)
    upright = shop_file(tmp_path, bed(400, 600), kerf, ("[600, 300]", "[300, 600]"))
    other = make_job(_plan(list_file, "name\nWren\nTeal\n", "line-winder", upright), silent)
    assert one.sheets == other.sheets
    [told] = [text for text in one.notes if "turned by a quarter" in text]
    assert "600 × 300 mm" in told
    assert "300 × 600 mm" in told
    assert not [text for text in other.notes if "turned by a quarter" in text]


def test_a_part_used_board_is_turned_with_what_is_gone(tmp_path: Path) -> None:
    """To the left: what was its left edge lies at the front."""
    path = tmp_path / "boards.toml"
    path.write_text(
        '[[board]]\nname = "behind the door"\nmaterial = "plywood-3"\n'
        "used_mm = [[0, 0, 100, 250]]\n",
        encoding="utf-8",
    )
    workshop = shop(tmp_path, bed(400, 600))
    [left] = leftovers_of(path, workshop.materials["plywood-3"], workshop)
    assert left.page.size_mm == (300, 600)
    assert left.used.bounds == (50, 0, 300, 100)
    assert left.is_turned
    [as_is] = leftovers_of(path, workshop.materials["plywood-3"], load_workshop(None))
    assert as_is.used.bounds == (0, 0, 100, 250)
    assert not as_is.is_turned


def test_a_turned_part_used_board_is_told(list_file: ListFile, tmp_path: Path) -> None:
    """Whoever lays it on the bed has to know which way."""
    path = tmp_path / "boards.toml"
    path.write_text(
        '[[board]]\nname = "behind the door"\nmaterial = "plywood-3"\nused_mm = [[0, 0, 9, 9]]\n',
        encoding="utf-8",
    )
    shop_path = shop_file(tmp_path, bed(400, 600))
    plan = _plan(list_file, FOBS, "key-fob", shop_path, part_used=path)
    assert any(
        re.search('"behind the door" .* quarter to the left: .* left edge', text)
        for text in plan.notes
    )


def test_a_remake_lays_no_board_another_way_round_than_it_was_cut(tmp_path: Path) -> None:
    """What is gone of it stands in its own cut files, which must stay true for the next remake."""
    first = jobs.first_job(tmp_path, FOBS, "key-fob")
    workshop = shop(tmp_path, bed(400, 600))
    material = workshop.materials["plywood-3"]
    with pytest.raises(WorkshopError) as caught:
        leftovers_of_job(first.folder, ["board-001"], material, workshop)
    assert "board-001, already cut: 600 × 300 mm does not lie" in caught.value.problems[0]
    [board] = leftovers_of_job(first.folder, ["board-001"], material, load_workshop(None))
    assert board.page.size_mm == (600, 300)


def test_other_materials_than_the_template_s(list_file: ListFile, tmp_path: Path) -> None:
    """Sheets, limits and pictures are those of what was chosen, and the manifest says so."""
    usual = plan_job(list_file(FOBS), Settings("key-fob"))
    chosen = plan_job(list_file(FOBS), Settings("key-fob", material="stencil-card-0.5"))
    assert [stock.material.name for stock in usual.stocks] == ["plywood-3"]
    assert not {"material", "board"} & set(usual.recorded)
    assert [stock.page.size_mm for stock in chosen.stocks] == [(420, 297)]
    assert chosen.recorded["material"] == "stencil-card-0.5"
    assert "board" not in chosen.recorded
    assert (usual.maker.limits.required_mm, chosen.maker.limits.required_mm) == (1.5, 1.0)
    faced = Settings("bag-tag", material="card-300", board="basswood-2")
    plan = plan_job(list_file(CARDS), faced)
    assert [stock.material.name for stock in plan.stocks] == ["card-300", "basswood-2"]
    assert {sheet.material for sheet in make_job(plan, silent).sheets} == {"card-300", "basswood-2"}


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        (Settings("key-fob", material="oak"), r'no such material: --material "oak"\. It has: card'),
        (
            Settings("bag-tag", material="oak", board="ash"),
            r'--material "oak" and --board "ash"\. It has: card-160',
        ),
        (Settings("key-fob", board="plywood-3"), r"sticks nothing on a board.*say --material"),
        (Settings("key-fob", material="stencil-card-0.5", sheet="900x900"), "does not lie on"),
    ],
)
def test_materials_that_cannot_be_had(list_file: ListFile, settings: Settings, told: str) -> None:
    """All at once, with what there is, before anything is made."""
    with pytest.raises((SettingsError, SheetError), match=told):
        plan_job(list_file(FOBS if settings.template == "key-fob" else CARDS), settings)


def test_a_dangerous_material_cannot_be_chosen(list_file: ListFile, tmp_path: Path) -> None:
    """A laser's workshop file that has one is refused whole, whatever is chosen of it."""
    file = shop_file(tmp_path, ("Basswood 2 mm", "PVC foam 3 mm"))
    with pytest.raises(WorkshopError, match="cannot be used yet") as told:
        plan_job(list_file(FOBS), Settings("key-fob", file, material="basswood-2"))
    assert "must never be cut with a laser" in " ".join(told.value.problems)


def test_a_remake_takes_the_material_of_its_first_job(tmp_path: Path) -> None:
    """What was chosen then is chosen again, unasked."""
    first = jobs.first_job(tmp_path / "job", FOBS, "key-fob", material="basswood-2")
    again = jobs.again(first, "L2-1")
    assert {sheet.material for sheet in again.sheets} == {"basswood-2"}
    assert again.settings["material"] == "basswood-2"


def test_what_the_workshop_lacks_is_told_with_both_remedies(
    list_file: ListFile, tmp_path: Path
) -> None:
    """Material and board at once; one that was chosen in its place lets the job be made."""
    file = shop_file(tmp_path, ("[material.plywood-3]", "[material.our-board]"))
    with pytest.raises(SettingsError, match=r'"plywood-3".*or choose another one with --board\.'):
        plan_job(list_file(CARDS), Settings("bag-tag", file))
    plan = plan_job(list_file(CARDS), Settings("bag-tag", file, board="our-board"))
    assert [stock.material.name for stock in plan.stocks] == ["card-160", "our-board"]

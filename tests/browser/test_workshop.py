"""The workshop's form and the measuring of machines, as a person uses them."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from namebatch.template import load_workshop
from tests.browser.conftest import DESK, PHONE, TABLET, Served, Windows


def material(page: Page, title: str) -> None:
    """Open a material's fold."""
    page.locator("details.material > summary").filter(has_text=title).click()


def test_values_are_kept_and_taken_back(own_served: Served, windows: Windows) -> None:
    """With a comma for decimals; the file has them, and one press has it as it was."""
    page = windows.open(f"{own_served.address}/workshop")
    expect(page.get_by_text("These are example values.")).to_be_visible()
    expect(page.get_by_role("button", name="Keep these values")).to_be_disabled()
    for written in ("3,2", "3.4"):
        material(page, "Birch plywood")
        page.get_by_label("Thickness").locator("visible=true").fill(written)
        expect(page.get_by_text("Changed, not kept yet.")).to_be_visible()
        page.get_by_role("button", name="Keep these values").click()
        expect(page.get_by_text("Kept in the workshop file.")).to_be_visible()
        material(page, "Birch plywood")
    file = own_served.data / "workshop.toml"
    assert load_workshop(file).materials["plywood-3"].thickness_mm == 3.4
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_text("As it was before.")).to_be_visible()
    assert load_workshop(file).materials["plywood-3"].thickness_mm == 3.2


def test_what_cannot_be_is_told_beside_the_form(own_served: Served, windows: Windows) -> None:
    """What was filled in stays, to be put right."""
    windows.expected.append("422")
    page = windows.open(f"{own_served.address}/workshop")
    page.get_by_label("Sheet that jigs are made of").fill("900x900")
    page.get_by_role("button", name="Keep these values").click()
    expect(page.locator("#shop-wrong")).to_contain_text("does not lie on the bed")
    expect(page.get_by_label("Sheet that jigs are made of")).to_have_value("900x900")
    page.get_by_role("button", name="Drop the changes").click()
    expect(page.get_by_label("Sheet that jigs are made of")).to_have_value("")
    assert not (own_served.data / "workshop.toml").exists()


def test_a_material_is_added_and_another_taken_out(own_served: Served, windows: Windows) -> None:
    """Like one that is there, under a name of its own."""
    page = windows.open(f"{own_served.address}/workshop")
    material(page, "Basswood")
    page.get_by_role("button", name="Add another one like it").locator("visible=true").click()
    page.get_by_label("What it is").locator("visible=true").last.fill("Felt 2 mm")
    page.get_by_label("Short name").locator("visible=true").last.fill("felt-2")
    page.get_by_role("button", name="Keep these values").click()
    expect(page.get_by_text("Kept in the workshop file.")).to_be_visible()
    material(page, "Oiled stencil card")
    page.get_by_role("button", name="Take it out").locator("visible=true").last.click()
    page.get_by_role("button", name="Keep these values").click()
    expect(page.get_by_text("All of this is kept.")).to_be_visible()
    expect(page.locator("details.material")).to_have_count(5)
    found = load_workshop(own_served.data / "workshop.toml").materials
    assert found["felt-2"].title == "Felt 2 mm"
    assert "stencil-card-0.5" not in found


def test_readings_become_values(own_served: Served, windows: Windows) -> None:
    """The test page is had, its lengths are typed in, and what they say stands beside them."""
    page = windows.open(f"{own_served.address}/workshop")
    with page.expect_download() as download:
        page.get_by_role("link", name="Get the test page").click()
    assert download.value.suggested_filename == "print-test.zip"
    lengths = (("across, page 1", "170,34"), ("up, page 1", "250"), ("up, page 2", "250"))
    for place, length in lengths:
        page.get_by_label(place).fill(length)
    page.get_by_role("button", name="Work it out and store it").first.click()
    expect(page.get_by_text("Printed lengths across are 100.20 %")).to_be_visible()
    expect(page.get_by_text("Stored now: 1.002 across, 1 up.")).to_be_visible()
    page.get_by_label("Material", exact=True).select_option("plywood-3")
    for axis in "xy":
        page.get_by_label(f"all strips for {axis}, time 1").fill("98")
    page.get_by_role("button", name="Work it out and store it").last.click()
    expect(page.get_by_text("Kerf in x: 0.200 mm")).to_be_visible()
    shop = load_workshop(own_served.data / "workshop.toml")
    assert shop.printer.scale == (1.002, 1.0)
    assert shop.materials["plywood-3"].kerf_mm == (0.2, 0.2)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_in_the_workshop(served: Served, windows: Windows, dark: bool) -> None:
    """With every fold open, in both themes."""
    windows.expected.append("Content Security Policy")  # axe's own style
    page = windows.open(f"{served.address}/workshop", dark=dark)
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"][:160]) for one in found] == []


@pytest.mark.parametrize("size", [DESK, TABLET, PHONE], ids=["desk", "tablet", "phone"])
def test_the_form_fits(served: Served, windows: Windows, size: dict[str, int]) -> None:
    """Nothing reaches out of the page sideways, and what is touched is 44 px high."""
    page = windows.open(f"{served.address}/workshop", size)
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    low = page.evaluate(
        "[...document.querySelectorAll('main :is(button, select, a.btn, summary, .field input)')]"
        ".filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < 43.5)"
        ".map((each) => each.outerHTML.slice(0, 120))"
    )
    assert low == []

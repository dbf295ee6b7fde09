"""Parts 3 and 4: sheets filled, files fetched, what comes after cutting."""

import zipfile
from collections.abc import Callable
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Windows, ready

ROWS = "name\ttable\tcolour\tquantity\nWren Teasel\tGull table\tteal\t2\nTeal\tTern table\t\t1\n"
MAKING_MS = 300_000
SERIOUS = ("serious", "critical")
CORNERS = {
    "bottom left": ("25.5", "17.5"),
    "bottom right": ("224.5", "17.5"),
    "top right": ("224.5", "301.5"),
    "top left": ("25.5", "301.5"),
}
"""Of an A4 sheet's frame, laid 20 mm to the right and 10 mm up."""


def show(page: Page, part: str) -> None:
    """Open a part."""
    page.evaluate(f"location.hash = '#{part}'")


def make(page: Page) -> None:
    """Fill the sheets and wait until the files are made."""
    show(page, "lay-out")
    page.locator("#filling-start").click()
    expect(page.locator("#filling")).to_have_attribute("data-state", "done", timeout=MAKING_MS)


def serious(page: Page) -> list[str]:
    """What keeps people from using the page as it stands."""
    found = Axe().run(page).response["violations"]
    return [
        f"{each['id']}: {each['nodes'][0]['html']}" for each in found if each["impact"] in SERIOUS
    ]


def test_from_the_list_to_the_zip_and_a_remake(
    new_docket: Callable[..., Page], tmp_path: Path
) -> None:
    """Sheets are filled, all files fetched, a spoiled piece comes on a sheet of its own."""
    page = new_docket(ROWS, "place-card")
    make(page)
    expect(page.locator("#lay-out-figures")).to_contain_text("1 sheet")
    assert serious(page) == []
    show(page, "make")
    expect(page.locator("#make-figures")).to_contain_text("2 in = 2 made + 0 held")
    expect(page.locator(".cautions")).to_contain_text("Never cut unattended")
    with page.expect_download() as download:
        page.get_by_role("link", name="All files in one ZIP").click()
    download.value.save_as(tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        assert archive.testzip() is None
        assert any(name.endswith("/cut/face-001.svg") for name in archive.namelist())
    page.locator("#make").get_by_role("button", name="Open face-001 large").click()
    box = page.get_by_role("dialog", name="face-001 of job 1")
    box.locator(".sheet-piece").first.click()  # on the map
    expect(box.get_by_role("status").first).to_contain_text("1 piece of this sheet")
    box.get_by_role("checkbox", name="L3-1").check()  # in the list
    expect(box.get_by_role("status").first).to_contain_text("2 pieces of this sheet")
    assert serious(page) == []
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Open face-001 large")).to_be_focused()
    page.get_by_role("button", name="Make them again").click()
    remake = page.get_by_role("article", name="Job 2")
    expect(remake).to_be_visible(timeout=MAKING_MS)
    expect(remake).to_contain_text("face-002")
    expect(page.get_by_role("button", name="Make them again")).to_have_count(0)
    assert serious(page) == []


def test_a_print_that_lies_askew(new_docket: Callable[..., Page]) -> None:
    """Four corners give moved cut files to fetch; half a corner is asked for, nothing is lost."""
    page = new_docket(ROWS, "place-card")
    make(page)
    show(page, "make")
    page.locator("#make").get_by_role("button", name="Open face-001 large").click()
    box = page.get_by_role("dialog")
    box.get_by_text("Does the print lie askew?").click()
    box.get_by_label("top left, across in mm").fill("25.5")
    box.get_by_role("button", name="Move the cut lines onto it").click()
    expect(box.locator(".align-result")).to_contain_text("Both figures of top left are needed")
    for name, (x, y) in CORNERS.items():
        box.get_by_label(f"{name}, across in mm").fill(x)
        box.get_by_label(f"{name}, up in mm").fill(y)
    box.get_by_role("button", name="Move the cut lines onto it").click()
    expect(box.locator(".align-result")).to_contain_text("Turned by 0.000°")
    with page.expect_download() as download:
        box.get_by_role("link", name="face-001.svg").click()
    assert "<svg" in Path(download.value.path()).read_text(encoding="utf-8")
    page.reload()
    ready(page)
    page.locator("#make").get_by_role("button", name="Open face-001 large").click()
    expect(page.get_by_role("dialog").get_by_label("top left, across in mm")).to_have_value("25.5")


def test_a_search_is_ended_and_a_make_is_stopped(
    new_docket: Callable[..., Page], windows: Windows
) -> None:
    """Enough takes the sheets found so far; stop leaves nothing; both are seen elsewhere, too."""
    names = "".join(f"Tern {number}\n" for number in range(60))
    page = new_docket(f"name\n{names}", "bag-tag")
    show(page, "lay-out")
    page.get_by_label("where it saves most, searched for").check()
    page.get_by_label("Seconds for the search").fill("600")
    page.get_by_label("Seconds for the search").press("Enter")
    expect(page.locator("#stub")).to_contain_text("600")
    other = windows.open(page.url.partition("#")[0] + "#lay-out", PHONE)
    page.locator("#filling-start").click()
    expect(other.locator("#filling")).to_have_attribute("data-state", "running")
    other.get_by_role("button", name="Stop").click()
    for each in (page, other):
        expect(each.locator("#filling")).to_contain_text("Nothing of it is left")
    page.locator("#filling-start").click()
    enough = page.get_by_role("button", name="Enough: take these sheets")
    expect(enough).to_be_visible(timeout=MAKING_MS)
    enough.click()
    for each in (page, other):
        expect(each.locator("#filling")).to_contain_text("The files are made", timeout=MAKING_MS)
    width = other.evaluate("document.documentElement.scrollWidth")
    assert width <= PHONE["width"]


def test_a_changed_docket_says_that_its_files_are_old(new_docket: Callable[..., Page]) -> None:
    """After a change the files are told to be those of before, until it is taken back."""
    page = new_docket(ROWS, "place-card")
    make(page)
    page.get_by_label("Gap between cuts, mm").fill("5")
    page.get_by_label("Gap between cuts, mm").press("Enter")
    expect(page.locator("#layout-sheets")).to_contain_text("Something was changed")
    expect(page.locator("#make-figures")).to_contain_text("changed since")
    page.locator("#stub").get_by_role("button", name="Undo").click()
    expect(page.locator("#layout-sheets")).not_to_contain_text("Something was changed")
    expect(page.get_by_label("Gap between cuts, mm")).to_have_value("")


def test_sheets_fill_before_ones_eyes(new_docket: Callable[..., Page]) -> None:
    """Each sheet is drawn with its pieces while the files are written, and goes once they are."""
    page = new_docket(ROWS, "place-card")
    page.evaluate(
        """() => {
          window.drawn = [];
          const place = document.querySelector(".filling-laid");
          const seen = (sheet) => sheet.querySelectorAll(".sheet-piece").length;
          new MutationObserver((all) => all.forEach(({ addedNodes }) =>
            window.drawn.push(...[...addedNodes].map(seen)))).observe(place, { childList: true });
        }"""
    )
    make(page)
    assert page.evaluate("window.drawn") == [3]
    expect(page.locator(".filling-laid")).to_be_hidden()


def test_another_material_is_chosen(new_docket: Callable[..., Page]) -> None:
    """Boards are what was chosen among those that suit; taken back, they are the template's."""
    page = new_docket("name\tteam\nMarlo\tTerns\n", "key-fob")
    show(page, "lay-out")
    page.get_by_label("Cut from").select_option(label="Basswood 2 mm, 600 × 300 mm")
    expect(page.locator("#layout-stock .leaders")).to_contain_text("Basswood 2 mm")
    assert serious(page) == []
    page.get_by_role("button", name="Undo").first.click()
    expect(page.locator("#layout-stock .leaders")).to_contain_text("Birch plywood 3 mm")


def test_nothing_is_not_made(new_docket: Callable[..., Page]) -> None:
    """Where every line is held the button is off and says why, and where to go."""
    page = new_docket("name\tquantity\nInka\tsome\nMarlo\tmany\n", "key-fob")
    show(page, "lay-out")
    expect(page.locator("#filling")).to_contain_text("Nothing can be made yet: all 2 lines are")
    expect(page.locator("#filling-start")).to_be_disabled()
    expect(page.locator("#list-figures")).to_contain_text("2\u00a0to mend")

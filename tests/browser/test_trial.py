"""A template made from a picture, as a person does it."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from namebatch.template import load_template
from tests.browser.conftest import DESK, PHONE, TABLET, Served, Windows, ready
from tests.desk.pictures import KITE, dune_jpeg, float_png

TRIED = "Tried: 4 made + 0 held."
SLOW_MS = 90_000
"""The process that reads pictures is started with the first one."""


def begin(windows: Windows, served: Served, size: dict[str, int] | None = None) -> Page:
    """Bring a picture; the form lies open and the first names are on it."""
    page = windows.open(f"{served.address}/templates/new", size)
    page.get_by_label("or choose its file").set_input_files(
        {"name": "kite_float.png", "mimeType": "image/png", "buffer": float_png()}
    )
    expect(page.locator(".trial-state")).to_contain_text(TRIED, timeout=SLOW_MS)
    return page


def box(page: Page) -> list[float]:
    """The blanks of the first text's box: left, below, width, height."""
    blanks = page.get_by_role("group", name="Box, from the left and from below").first
    return [float(each.input_value()) for each in blanks.get_by_role("textbox").all()]


def test_from_a_picture_to_a_docket(own_served: Served, windows: Windows) -> None:
    """A name of its own, a hole, other samples; kept, and the hook offers it."""
    page = begin(windows, own_served)
    page.get_by_role("button", name="Add a hole").click()
    page.get_by_label("One a line").fill("Inka Samphire\nØyvind")
    expect(page.locator(".trial-state")).to_contain_text("Tried: 2 made + 0 held.")
    expect(page.locator(".trial-sample")).to_have_count(2)
    page.get_by_label("What the template is called").fill("Kite float")
    page.get_by_role("button", name="Keep it as a template").click()
    expect(page.get_by_role("heading", name="Kept")).to_be_visible()
    template = load_template(own_served.data / "templates" / "kite-float")
    assert template.samples == {"name": "Inka Samphire"}
    assert len(template.found_holes) == 1
    page.get_by_role("link", name="Start a docket with it").click()
    ready(page)
    expect(page.get_by_role("radio", name="Kite float")).to_be_checked()


def test_the_box_is_moved_by_hand_by_key_and_by_figure(served: Served, windows: Windows) -> None:
    """Picture and blanks always say the same, and what was drawn anew keeps the focus."""
    page = begin(windows, served)
    left, below, width, height = box(page)
    mark = page.locator('[data-key="text-0"]')
    place = mark.locator(".trial-box").bounding_box()
    assert place is not None
    page.mouse.move(place["x"] + 30, place["y"] + 20)
    page.mouse.down()
    page.mouse.move(place["x"] + 30, place["y"] + 50, steps=4)
    page.mouse.up()
    moved = box(page)
    assert moved[1] == pytest.approx(below - 30 * height / place["height"], abs=0.3)
    assert (moved[0], *moved[2:]) == (left, width, height)
    corner = mark.locator(".trial-fold").bounding_box()
    assert corner is not None
    page.mouse.move(corner["x"] + corner["width"] - 2, corner["y"] + 2)
    page.mouse.down()
    page.mouse.move(corner["x"] - 38, corner["y"] + 2, steps=4)
    page.mouse.up()
    assert box(page)[2] < width
    assert box(page)[:2] == moved[:2]
    now = box(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Alt+ArrowUp")
    page.keyboard.press("Shift+ArrowUp")
    step = [0.5, 0.1, 0.0, 0.5]
    assert box(page) == pytest.approx([a + b for a, b in zip(now, step, strict=True)])
    expect(mark).to_be_focused()
    page.get_by_role("group", name="Box, from the left").get_by_role("textbox").nth(3).fill("7,5")
    expect(mark).to_have_attribute("aria-label", re.compile(r"7\.5 high$"))
    expect(page.locator(".trial-state")).to_contain_text("Tried:")


def test_problems_are_told_in_the_words_of_the_form(served: Served, windows: Windows) -> None:
    """The shape stays in sight, and what cannot be is not kept."""
    page = begin(windows, served)
    page.get_by_role("group", name="Box, from the left").get_by_role("textbox").first.fill("60")
    expect(page.locator(".trial-held .note")).to_contain_text("Text 1, box: reaches from 60")
    expect(page.get_by_role("button", name="Keep it as a template")).to_be_disabled()
    expect(page.locator(".trial-drawing")).to_be_visible()
    page.get_by_role("group", name="Box, from the left").get_by_role("textbox").first.fill("8")
    expect(page.locator(".trial-state")).to_contain_text("Tried:")
    expect(page.get_by_role("button", name="Keep it as a template")).to_be_enabled()


def test_a_draft_outlives_the_page(served: Served, windows: Windows) -> None:
    """Loaded again, it is as it was; from the beginning it can be had or thrown away."""
    page = begin(windows, served)
    page.get_by_label("What the template is called").fill("Float for later")
    expect(page.locator(".trial-state")).to_contain_text("Changed …")
    expect(page.locator(".trial-state")).to_contain_text(TRIED)
    page.reload()
    expect(page.get_by_label("What the template is called")).to_have_value("Float for later")
    page.get_by_role("link", name="Take another").click()
    line = page.get_by_role("listitem").filter(has_text="Float for later")
    line.get_by_role("button", name="Throw away").click()
    page.get_by_role("dialog").get_by_role("button", name="Throw away").click()
    expect(line).to_have_count(0)


def test_what_is_no_picture_is_told(served: Served, windows: Windows) -> None:
    """Beside the place where it was given."""
    windows.expected.append("422")
    page = windows.open(f"{served.address}/templates/new")
    page.get_by_label("or choose its file").set_input_files(
        {"name": "x.png", "mimeType": "image/png", "buffer": b"%PDF-1.7"}
    )
    expect(page.get_by_role("alert").filter(has_text="This is a PDF")).to_be_visible()


def test_a_shape_that_is_chosen_shows_its_own_blanks(served: Served, windows: Windows) -> None:
    """Sizes of a tag instead of the edge of a picture; a drawing can be cut along."""
    page = windows.open(f"{served.address}/templates/new")
    page.get_by_label("or choose its file").set_input_files(
        {"name": "kite.svg", "mimeType": "image/svg+xml", "buffer": KITE}
    )
    expect(page.locator(".trial-state")).to_contain_text("Tried:", timeout=SLOW_MS)
    shape = page.get_by_label("The piece is")
    shape.select_option("luggage-tag")
    expect(page.get_by_label("Corners cut off by")).to_be_visible()
    expect(page.locator(".trial-sizes")).to_contain_text("60 × 40 mm")
    shape.select_option("drawing")
    expect(page.locator(".trial-sizes")).to_contain_text("52 × 36 mm")


def test_a_photograph_lies_on_a_shape(served: Served, windows: Windows) -> None:
    """It has no edge to follow: the form begins with a rectangle of its proportions."""
    page = windows.open(f"{served.address}/templates/new")
    page.get_by_label("or choose its file").set_input_files(
        {"name": "dune.jpg", "mimeType": "image/jpeg", "buffer": dune_jpeg()}
    )
    expect(page.locator(".trial-state")).to_contain_text(TRIED, timeout=SLOW_MS)
    expect(page.get_by_label("The piece is")).to_have_value("rounded-rectangle")
    expect(page.get_by_label("Height", exact=True)).to_have_value("57.1")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_on_the_form(served: Served, windows: Windows, dark: bool) -> None:
    """With a hole and every fold open, in both themes."""
    windows.expected.append("Content Security Policy")  # axe's own style
    page = begin(windows, served)
    page.emulate_media(color_scheme="dark" if dark else "light")
    page.get_by_role("button", name="Add a hole").click()
    page.get_by_label("Its place").select_option("")
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"][:160]) for one in found] == []


@pytest.mark.parametrize("size", [DESK, TABLET, PHONE], ids=["desk", "tablet", "phone"])
def test_the_form_fits(served: Served, windows: Windows, size: dict[str, int]) -> None:
    """Nothing reaches out sideways; the picture stays in view while the form is filled in."""
    page = begin(windows, served, size)
    page.get_by_role("button", name="Add a hole").scroll_into_view_if_needed()
    expect(page.locator(".trial-drawing")).to_be_in_viewport(ratio=0.5)
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]


def test_what_makes_nothing_cannot_be_kept(served: Served, windows: Windows) -> None:
    """With every name held keeping is off and says why; with some held it is told beside it."""
    page = begin(windows, served)
    keep = page.get_by_role("button", name="Keep it as a template")
    letters = page.get_by_role("group", name="Letters, height of capitals").get_by_role("textbox")
    letters.nth(1).fill("50")
    letters.first.fill("9")
    page.get_by_label("One a line").fill("Bartholomew-Maximilian Teasel of the Dunes")
    expect(page.locator(".trial-keep")).to_contain_text("none of the names can be made with it")
    expect(keep).to_be_disabled()
    page.get_by_label("One a line").fill("Bartholomew-Maximilian Teasel of the Dunes\nBo")
    expect(page.locator(".trial-state")).to_contain_text("1 made + 1 held")
    expect(page.locator(".trial-keep")).to_contain_text("1 of these 2 names is held")
    expect(keep).to_be_enabled()


def test_another_text_lies_inside_the_shape(served: Served, windows: Windows) -> None:
    """Added with a button it has room there at once, and every name can be made."""
    page = begin(windows, served)
    page.get_by_role("button", name="Add a text").click()
    expect(page.locator('[data-key="text-1"]')).to_be_visible()
    expect(page.locator(".trial-state")).to_contain_text("Changed …")
    expect(page.locator(".trial-state")).to_contain_text(TRIED)

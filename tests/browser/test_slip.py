"""The slip: one piece opened large, changed by hand, approved, held."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE, TABLET, Windows
from tests.browser.test_access import SMALL, grave

ROWS = (
    "name\tvillage\tquantity\n"
    "Zoë Marram\tSandreed\t2\nBo Fescue\tSandreed\t1\nInka Samphire\tSaltcote\tx\n"
)
SIDEWAYS = """(slip) => [slip, ...slip.querySelectorAll('*')].filter((each) =>
  each.scrollWidth > each.clientWidth + 1
  && ['auto', 'scroll'].includes(getComputedStyle(each).overflowX)).length"""
KEPT = "Kept. Ctrl Z or Undo takes it back."


@pytest.fixture
def new_slip(new_docket: Callable[..., Page]) -> Callable[..., Page]:
    """Start a docket and open the slip of its first line."""

    def look(rows: str = ROWS, size: dict[str, int] | None = None, line: int = 2) -> Page:
        page = new_docket(rows, "bag-tag", size)
        page.evaluate("location.hash = '#look'")
        expect(page.locator("#look-figures")).not_to_contain_text("being made")
        page.evaluate(f"location.hash = '#line-{line}'")
        expect(page.locator(".slip-title")).to_be_focused()
        return page

    return look


def test_a_slip_shows_all_that_is_known(new_slip: Callable[..., Page]) -> None:
    """Picture, state, measures with unit and the list's own cells of one piece."""
    page = new_slip()
    expect(page.locator(".slip-where")).to_contain_text("Line 2")
    expect(page.locator(".slip-title")).to_contain_text("Zoë Marram")
    expect(page.locator(".slip-state")).to_have_text("not approved")
    picture = page.locator(".slip-picture img")
    expect(picture).to_have_attribute("alt", "Line 2: Zoë Marram · Sandreed, as it will be cut")
    assert picture.evaluate("(image) => image.naturalWidth > 0")
    measures = page.locator(".slip-measures")
    expect(measures).to_contain_text("90\u00a0×\u00a050\u00a0mm")
    for word in ("narrowest place", "capitals of name", "hangs", "2\u00a0pieces"):
        expect(measures).to_contain_text(word)
    page.get_by_text("As the list has it, line 2").click()
    expect(page.locator(".slip-listed")).to_contain_text("Sandreed")


def test_a_text_is_tried_as_it_is_typed_and_kept_with_enter(new_slip: Callable[..., Page]) -> None:
    """Every stroke changes the picture; only Enter keeps it, Undo brings the list's text back."""
    page = new_slip()
    before = page.locator(".slip-picture img").get_attribute("src")
    page.keyboard.press("e")
    page.keyboard.press("Control+a")
    page.keyboard.type("Zora")
    expect(page.locator(".slip-title")).to_contain_text("Zora")
    expect(page.locator(".slip-said")).to_contain_text("Not kept yet")
    expect(page.locator(".slip-picture img")).to_have_attribute(
        "alt", "Line 2: Zora · Sandreed, as it will be cut"
    )
    assert page.locator(".slip-picture img").get_attribute("src") != before
    page.keyboard.press("Enter")
    expect(page.locator(".slip-said")).to_have_text(KEPT)
    expect(page.locator(".mend-listed").first).to_contain_text("The list says “Zoë Marram”.")
    expect(page.locator(".slip-findings")).to_contain_text("changed by hand")
    page.locator(".slip-undo").click()
    expect(page.locator("[name='fields.name']")).to_have_value("Zoë Marram")
    expect(page.locator(".slip-title")).to_contain_text("Zoë Marram")


def test_everything_can_be_changed(new_slip: Callable[..., Page]) -> None:
    """Quantity, typeface, size, line break and place are kept, each told among the findings."""
    page = new_slip()
    page.get_by_label("How many").fill("5")
    page.locator("[name='text.name.font']").select_option("Lobster")
    page.locator("[name='text.name.size']").select_option("exactly")
    page.locator("[name='text.name.mm']").fill("4")
    page.locator("[name='text.name.lines']").select_option("one line")
    page.get_by_role("button", name="More up, by 0.5 mm").first.click()
    findings = page.locator(".slip-findings")
    for told in ("Lobster", "4 mm high", "on one line", "moved 0.5 mm up"):
        expect(findings).to_contain_text(told)
    expect(page.locator(".slip-measures")).to_contain_text("5\u00a0pieces")
    expect(page.locator(".slip-measures")).to_contain_text("4\u00a0mm (least 3\u00a0mm)")
    page.locator("[name='text.name.lines']").select_option("Zoë / Marram")
    expect(findings).to_contain_text('broken into "Zoë" and "Marram"')
    page.get_by_role("button", name="All as the list has it").click()
    expect(page.get_by_label("How many")).to_have_value("2")
    expect(findings).to_be_empty()


def test_bridges_can_be_wider_where_there_are_any(new_docket: Callable[..., Page]) -> None:
    """A template that makes bridges offers their width; less than the material needs is refused."""
    page = new_docket("name\nBEA\n", "stencil-plate")
    page.evaluate("location.hash = '#line-2'")
    blank = page.get_by_label("Width of bridges in mm")
    blank.fill("0.1")
    expect(page.locator(".slip-said")).to_contain_text("Not kept.")
    expect(blank).to_have_attribute("aria-invalid", "true")
    blank.fill("3")
    blank.press("Enter")
    expect(page.locator(".slip-findings")).to_contain_text("bridges 3 mm wide")


def test_what_cannot_be_made_is_told_with_what_to_do(new_slip: Callable[..., Page]) -> None:
    """A height without room holds the piece in words; it can be mended from the same slip."""
    page = new_slip()
    page.locator("[name='text.name.size']").select_option("exactly")
    page.locator("[name='text.name.mm']").fill("13")
    page.locator("[name='text.name.mm']").press("Enter")
    expect(page.locator(".slip-state")).to_have_text("held")
    expect(page.locator(".slip-findings")).to_contain_text("there is room for")
    expect(page.locator(".slip-picture")).to_contain_text("Held: there is no piece to see.")
    page.locator("[name='text.name.size']").select_option("as large as it fits")
    expect(page.locator(".slip-state")).to_have_text("not approved")


def test_a_held_line_is_mended_with_keys_alone(new_slip: Callable[..., Page]) -> None:
    """A wrong quantity is put right, the piece approved and left, without a mouse."""
    page = new_slip(line=4)
    expect(page.locator(".slip-findings")).to_contain_text("not a whole number")
    page.keyboard.press("a")
    expect(page.locator("#said")).to_contain_text("cannot be approved before that is mended")
    page.keyboard.press("e")
    for _ in range(2):
        page.keyboard.press("Tab")
    expect(page.get_by_label("How many")).to_be_focused()
    page.keyboard.press("Control+a")
    page.keyboard.type("3")
    page.keyboard.press("Enter")
    expect(page.locator(".slip-state")).to_have_text("not approved")
    page.keyboard.press("Escape")
    expect(page.locator(".tile[data-line='4'] .tile-open")).to_be_focused()
    page.keyboard.press("a")
    expect(page.locator(".tile[data-line='4']")).to_have_attribute("data-state", "approved")


def test_no_way_out_loses_what_was_typed(new_slip: Callable[..., Page]) -> None:
    """Next, previous and Escape keep what stands in a blank that was not left yet."""
    page = new_slip()
    page.keyboard.press("e")
    page.keyboard.type("X")
    page.get_by_role("button", name="Next →").click()
    expect(page.locator(".slip-where")).not_to_contain_text("Line 2")
    page.keyboard.press("e")
    page.keyboard.type("Y")
    page.keyboard.press("Escape")
    expect(page.locator("#slip")).not_to_be_visible()
    expect(page.locator(".tile-name").filter(has_text="X")).to_have_count(1)
    expect(page.locator(".tile-name").filter(has_text="Y")).to_have_count(1)


def test_approve_goes_on_and_changes_are_told(new_slip: Callable[..., Page]) -> None:
    """A approves and opens the next; a piece changed after that says so and is not approved."""
    page = new_slip()
    page.keyboard.press("a")
    expect(page.locator(".slip-where")).not_to_contain_text("Line 2")
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".slip-state")).to_have_text("approved")
    page.locator("[name='fields.village']").fill("Saltcote")
    page.locator("[name='fields.village']").press("Enter")
    expect(page.locator(".slip-state")).to_have_text("approved, then changed")
    page.locator(".slip-approve").click()
    expect(page.locator(".slip-where")).not_to_contain_text("Line 2")
    expect(page.locator("#look-figures")).to_contain_text("1 approved")


def test_hold_and_release_by_hand(new_slip: Callable[..., Page]) -> None:
    """A piece is held with a reason and released with a key."""
    page = new_slip()
    page.get_by_label("because").fill("ask Tove")
    page.get_by_role("button", name="Hold it").click()
    expect(page.locator(".slip-state")).to_have_text("held by hand")
    expect(page.locator(".slip-findings")).to_contain_text("ask Tove")
    page.locator(".slip-title").focus()
    page.keyboard.press("h")
    expect(page.locator(".slip-state")).to_have_text("not approved")


def test_a_change_is_done_to_all_like_it(new_slip: Callable[..., Page]) -> None:
    """What was changed in one piece is done to others of its village in one step, and undone so."""
    page = new_slip()
    page.locator("[name='text.name.size']").select_option("at most")
    page.locator("[name='text.name.mm']").fill("4")
    page.locator("[name='text.name.mm']").press("Enter")
    like = page.locator(".slip-like")
    expect(like).to_contain_text("name capitals at most 4\u00a0mm high")
    like.get_by_role("combobox").select_option(label='all with "Sandreed" as village (1)')
    like.get_by_role("button", name="Do it to them").click()
    expect(page.locator("#said")).to_contain_text("Done to 1\u00a0line")
    page.wait_for_timeout(1500)  # what the page asks for afterwards does not take it away
    expect(page.locator("#said")).to_contain_text("Done to 1\u00a0line")
    page.keyboard.press("Escape")
    page.evaluate("location.hash = '#line-3'")
    expect(page.locator("[name='text.name.mm']")).to_have_value("4")
    page.locator(".slip-undo").click()
    expect(page.locator("[name='text.name.size']")).to_have_value("")


def test_what_was_chosen_stays_chosen(new_slip: Callable[..., Page], windows: Windows) -> None:
    """News from another window takes nothing back of what is being chosen for others."""
    page = new_slip()
    page.locator("[name='text.name.size']").select_option("at most")
    page.locator("[name='text.name.mm']").fill("4")
    page.locator("[name='text.name.mm']").press("Enter")
    like = page.locator(".slip-like")
    chosen = like.get_by_role("combobox")
    chosen.select_option(label='all with "Sandreed" as village (1)')
    key = chosen.input_value()
    other = windows.open(page.url)
    other.locator("[name='text.name.mm']").fill("5")
    other.locator("[name='text.name.mm']").press("Enter")
    expect(like).to_contain_text("name capitals at most 5\u00a0mm high")
    expect(chosen).to_have_value(key)
    other.evaluate("location.hash = '#line-3'")
    expect(other.locator(".slip-title")).to_contain_text("Bo Fescue")
    other.locator("[name='fields.village']").fill("Reed")
    other.locator("[name='fields.village']").press("Enter")
    expect(other.locator(".slip-said")).to_have_text(KEPT)
    other.evaluate("location.hash = '#line-2'")
    expect(other.locator(".slip-title")).to_contain_text("Zoë Marram")
    other.locator("[name='text.name.mm']").fill("6")
    other.locator("[name='text.name.mm']").press("Enter")
    expect(chosen).to_have_value("")  # there is none like it any more: nobody else is taken
    like.get_by_role("button", name="Do it to them").click()
    expect(chosen).to_be_focused()


def test_what_another_window_changed_is_seen(
    new_slip: Callable[..., Page], windows: Windows
) -> None:
    """An open slip follows a change that was made elsewhere."""
    page = new_slip()
    other = windows.open(page.url)
    other.locator("[name='fields.name']").fill("Berta")
    other.locator("[name='fields.name']").press("Enter")
    expect(page.locator(".slip-title")).to_contain_text("Berta")
    expect(page.locator("[name='fields.name']")).to_have_value("Berta")


@pytest.mark.parametrize("size", [PHONE, TABLET, DESK], ids=["phone", "tablet", "desk"])
def test_the_slip_fits_every_width(new_slip: Callable[..., Page], size: dict[str, int]) -> None:
    """Nothing runs out sideways, its ways stay in sight, and targets are large."""
    page = new_slip(size=size)
    for way in (".slip-approve", ".slip-hold", ".slip-undo", ".slip-ways"):
        expect(page.locator(way)).to_be_in_viewport()
    assert page.locator("#slip").evaluate(SIDEWAYS) == 0
    assert page.evaluate(SMALL.replace("document.", "document.querySelector('#slip').")) == []


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_on_a_slip(
    new_slip: Callable[..., Page], windows: Windows, dark: bool
) -> None:
    """A slip has no fault that axe knows, with every part of its form open."""
    page = windows.open(new_slip().url, dark=dark)
    expect(page.locator(".slip-title")).to_be_focused()
    page.locator("[name='text.name.size']").select_option("at most")
    expect(page.locator(".slip-said")).to_have_text(KEPT)
    windows.expected.append("Content Security Policy")  # axe's own style
    assert grave(page) == []


def test_what_the_list_says_comes_back(new_docket: Callable[..., Page]) -> None:
    """Where a column has another header, the slip still says what the list said, and takes it."""
    page = new_docket("Who\tcount\nZoë Marram\t2\n", "key-fob")
    page.evaluate("location.hash = '#line-2'")
    name = page.locator("[name='fields.name']")
    name.fill("Zora")
    name.press("Enter")
    expect(page.locator(".slip-said")).to_have_text(KEPT)
    page.reload()
    expect(name).to_have_value("Zora")
    expect(page.locator(".mend-listed")).to_contain_text("The list says “Zoë Marram”.")
    page.get_by_role("button", name="Take the list's").click()
    expect(name).to_have_value("Zoë Marram")
    expect(page.locator(".slip-back")).to_be_hidden()


def test_keys_are_told_and_steps_come_again(new_slip: Callable[..., Page]) -> None:
    """? works on a slip too, and what was undone there is done again with a key."""
    page = new_slip()
    page.keyboard.press("h")
    expect(page.locator(".slip-state")).to_have_text("held by hand")
    page.keyboard.press("Control+z")
    expect(page.locator(".slip-state")).to_have_text("not approved")
    page.keyboard.press("Control+y")
    expect(page.locator(".slip-state")).to_have_text("held by hand")
    page.keyboard.press("?")
    help_box = page.get_by_role("dialog", name="Keys")
    expect(help_box).to_contain_text("approve it and go on")
    help_box.get_by_role("button", name="Close").click()
    expect(page.locator("#slip")).to_be_visible()

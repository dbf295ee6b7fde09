"""Part 2: the wall of pieces, what hangs on it, its keys."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import DESK, PHONE, TABLET, Windows
from tests.browser.test_access import SMALL, grave

ROWS = (
    "name\tteam\tquantity\tcustomer\n"
    "Zoë Marram\tGulls\t2\tTern School\nBo Fescue\tGulls\t1\tTern School\n"
    "Inka Samphire\tTerns\tx\tDune Club\nSøren Tidewrack\tTerns\t1\tDune Club\n"
)
IN_SIGHT = "[...document.querySelectorAll('.tile')].map((tile) => Number(tile.dataset.line))"
STANDS = "Number(document.activeElement.closest('.tile')?.dataset.line)"


def many(lines: int) -> str:
    """So many rows."""
    return "name\tquantity\n" + "".join(f"Tern {at:04d}\t1\n" for at in range(lines))


@pytest.fixture
def new_wall(new_docket: Callable[..., Page]) -> Callable[..., Page]:
    """Start a docket and look at its pieces once all are made."""

    def look(rows: str = ROWS, size: dict[str, int] | None = None) -> Page:
        page = new_docket(rows, "kite-tag", size)
        page.evaluate("location.hash = '#look'")
        expect(page.locator("#wall")).to_be_visible()
        expect(page.locator("#look-figures")).not_to_contain_text("being made")
        return page

    return look


def tile(page: Page, line: int) -> Locator:
    """The tile of a line."""
    return page.locator(f".tile[data-line='{line}']")


def test_every_line_hangs_with_its_picture(new_wall: Callable[..., Page]) -> None:
    """Made lines show their piece, a held one says why; the tabs add up to the lines."""
    page = new_wall()
    expect(page.locator(".tile")).to_have_count(4)
    expect(page.locator(".tile img")).to_have_count(3)
    for image in page.locator(".tile img").all():
        assert image.evaluate("(image) => image.decode().then(() => image.naturalWidth > 0)")
    held = page.locator(".tile[data-state='held']")
    expect(held).to_contain_text("Inka Samphire")
    expect(held).to_contain_text("not a whole number")
    counts = [int(text) for text in page.locator(".tab:not([hidden]) .tab-count").all_inner_texts()]
    assert counts[0] == sum(counts[1:]) == 4


def test_search_tabs_orders_and_sorting(new_wall: Callable[..., Page]) -> None:
    """A name is found without its accents, an order by its customer, and sorting can be chosen."""
    page = new_wall()
    page.locator("body").press("/")
    page.keyboard.type("soren")
    expect(page.locator(".tile")).to_have_count(1)
    expect(page.locator(".tile-name")).to_contain_text("Søren Tidewrack")
    page.keyboard.press("Control+a")
    page.keyboard.type("nobody")
    expect(page.locator("#wall-empty")).to_contain_text("No piece here has")
    page.get_by_role("button", name="Show all pieces").click()
    expect(page.locator(".tile")).to_have_count(4)
    page.get_by_label("Order or customer").select_option("Tern School")
    expect(page.locator("#wall-count")).to_have_text("2 of 4\u00a0lines hang here.")
    page.get_by_label("Order or customer").select_option("")
    page.get_by_role("radio", name="Held 1").check()
    expect(page.locator(".tile-name")).to_contain_text("Inka Samphire")
    page.get_by_role("radio", name="All 4").check()
    page.get_by_label("Sorted").select_option("By name")
    assert page.evaluate(IN_SIGHT) == [3, 4, 5, 2]


def test_single_keys_on_the_wall(new_wall: Callable[..., Page]) -> None:
    """Arrows move, A approves, H holds, Ctrl Z takes it back; the keyboard stays where it stood."""
    page = new_wall()
    page.get_by_label("Sorted").select_option("As in the list")
    page.locator(".tile-open").first.focus()
    page.keyboard.press("End")
    assert page.evaluate(STANDS) == 5
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    assert page.evaluate(STANDS) == 3
    page.keyboard.press("a")
    expect(tile(page, 3)).to_have_attribute("data-state", "approved")
    expect(page.locator("#said")).to_contain_text("Line 3 is approved.")
    page.keyboard.press("a")
    expect(tile(page, 3)).to_have_attribute("data-state", "unseen")
    page.keyboard.press("h")
    expect(tile(page, 3)).to_contain_text("held by hand")
    page.keyboard.press("Control+z")
    expect(tile(page, 3)).to_have_attribute("data-state", "unseen")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("a")
    expect(page.locator("#said")).to_contain_text("it cannot be approved before that is mended")
    assert page.evaluate(STANDS) == 4


def test_all_that_are_shown_are_approved_at_once(new_wall: Callable[..., Page]) -> None:
    """One button approves what hangs, one Undo takes it back, and it stays so on another visit."""
    page = new_wall()
    page.get_by_role("button", name="Approve 3 lines shown").click()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(3)
    expect(page.locator("#look-figures")).to_contain_text("3 approved")
    page.reload()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(3)
    page.locator(".stub").get_by_role("button", name="Undo").click()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(0)


def test_what_needs_a_look_is_not_approved_in_passing(new_wall: Callable[..., Page]) -> None:
    """The button for all leaves looks out, unless nothing else hangs."""
    page = new_wall("name\tquantity\nInka\t1\nMarlo\t1\nOdile\t1\nTeal\t90\n")
    page.get_by_role("button", name="Approve 3 lines shown, not the 1 to look at").click()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(3)
    expect(tile(page, 5)).to_have_attribute("data-state", "look")
    expect(page.locator(".stub-next")).to_contain_text("look at 1 piece")
    tile(page, 5).locator(".tile-tick").click()
    expect(page.locator(".stub-next")).to_contain_text("fill the sheets")


def test_a_piece_held_by_hand_is_seen(new_wall: Callable[..., Page]) -> None:
    """It hangs with its picture and says that it is held; its texts say how they are set."""
    page = new_wall()
    tile(page, 3).locator(".tile-open").focus()
    page.keyboard.press("h")
    expect(tile(page, 3)).to_contain_text("held by hand")
    expect(tile(page, 3)).to_have_attribute("data-state", "held")
    expect(tile(page, 3).locator("img")).to_have_count(1)
    page.keyboard.press("Enter")
    expect(page.locator(".slip-state")).to_have_text("held by hand")
    expect(page.locator(".slip .mend-now").first).to_contain_text("mm")


def test_what_hangs_does_not_move_under_the_hand(new_wall: Callable[..., Page]) -> None:
    """Approved among those not approved, a piece stays in its place until they are sorted again."""
    page = new_wall()
    page.get_by_role("radio", name="Not approved 3").check()
    before = page.evaluate(IN_SIGHT)
    page.locator(".tile-tick:visible").first.click()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(1)
    assert page.evaluate(IN_SIGHT) == before
    page.get_by_role("button", name="Sort them again").click()
    expect(page.locator(".tile")).to_have_count(2)


def test_few_tiles_stand_for_many_pieces(new_wall: Callable[..., Page]) -> None:
    """Of 300 pieces only those near are in the page; the last is reached with a key, and back."""
    page = new_wall(many(300))
    high = page.locator("#wall").evaluate("(wall) => wall.getBoundingClientRect().height")
    assert page.locator(".tile").count() < 100
    page.locator(".tile-open").first.focus()
    page.keyboard.press("End")
    assert page.evaluate(STANDS) == 301
    expect(tile(page, 301)).to_be_in_viewport()
    expect(tile(page, 301).locator("img")).to_be_visible()
    assert page.locator("#wall").evaluate("(wall) => wall.getBoundingClientRect().height") == high
    page.mouse.wheel(0, -100_000)
    expect(tile(page, 2)).to_be_in_viewport()
    assert page.evaluate(STANDS) == 301  # it stays in the page wherever one scrolls
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(STANDS) == 300
    expect(tile(page, 300)).to_be_in_viewport()


def test_a_second_window_sees_it_at_once(new_wall: Callable[..., Page], windows: Windows) -> None:
    """What is approved in one window is approved in the other without loading it anew."""
    page = new_wall()
    other = windows.open(page.url)
    expect(other.locator(".tile img")).to_have_count(3)
    page.locator(".tile-tick:visible").first.click()
    expect(other.locator(".tile[data-state='approved']")).to_have_count(1)


@pytest.mark.parametrize("size", [PHONE, TABLET, DESK], ids=["phone", "tablet", "desk"])
def test_the_wall_fits_every_width(new_wall: Callable[..., Page], size: dict[str, int]) -> None:
    """Nothing runs out sideways, targets are large, and a piece is not brought under the stub."""
    page = new_wall(many(60), size)
    beyond = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(beyond) == 0
    assert page.evaluate(SMALL.replace("document.", "document.querySelector('#look').")) == []
    page.locator(".tile-open").first.focus()
    page.keyboard.press("End")
    page.keyboard.press("Home")
    at = "const { x, y } = document.activeElement.getBoundingClientRect();"
    found = "document.elementFromPoint(x + 8, y + 8).closest('.tile') !== null"
    assert page.evaluate(f"() => {{ {at} return {found}; }}")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_on_the_wall(
    new_wall: Callable[..., Page], windows: Windows, dark: bool
) -> None:
    """The wall has no fault that axe knows, with a held and an approved piece on it."""
    page = new_wall()
    page.locator(".tile-tick:visible").first.click()
    expect(page.locator(".tile[data-state='approved']")).to_have_count(1)
    page = windows.open(page.url, dark=dark)
    expect(page.locator(".tile img")).to_have_count(3)
    windows.expected.append("Content Security Policy")  # axe's own style
    assert grave(page) == []

"""What is written on the page has its place at every width, and what is said leaves in time."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import DESK, PHONE, Served, Windows, ready

ZOOMED = {"width": 640, "height": 450}

ROWS = (
    "name\tteam\tquantity\nOscar\tGulls\t2\nMaximiliane\tPlover team of Dune End\t1\nBo\tTerns\t1\n"
)
OVER = """(tile) => {
  const [open, count, badge, tick] = [".tile-open", ".tile-count", ".badge", ".tile-tick"].map(
    (part) => tile.querySelector(part).getBoundingClientRect());
  const inside = count.right <= open.right && badge.bottom <= open.bottom;
  return inside && badge.right <= tick.left;
}"""
WAYS = """() => [...document.querySelectorAll(".slip-ways .btn")].map((way) => {
  const { left, top } = way.getBoundingClientRect();
  return [left, top];
})"""
COVERED = """() => {
  const [used, said] = [document.activeElement, document.querySelector(".said-slip")].map(
    (each) => each.getBoundingClientRect());
  return used.bottom > said.top && used.top < said.bottom;
}"""


@pytest.fixture
def new_wall(new_docket: Callable[..., Page]) -> Callable[[dict[str, int]], Page]:
    """Look at the pieces of a new docket once all are made."""

    def look(size: dict[str, int]) -> Page:
        page = new_docket(ROWS, "kite-tag", size)
        page.evaluate("location.hash = '#look'")
        expect(page.locator(".tile img")).to_have_count(3)
        return page

    return look


@pytest.mark.parametrize("size", [DESK, PHONE, ZOOMED])
def test_words_of_a_narrow_tile_stay_inside(
    new_wall: Callable[[dict[str, int]], Page], size: dict[str, int]
) -> None:
    """How many are to be made is seen whole, and the state keeps clear of the box to tick."""
    page = new_wall(size)
    expect(page.locator(".tile[data-line='2'] .tile-count")).to_contain_text("× 2")
    for tile in page.locator(".tile").all():
        assert tile.evaluate(OVER)


@pytest.mark.parametrize("size", [DESK, PHONE, ZOOMED])
def test_ways_on_a_slip_keep_their_place(
    new_wall: Callable[[dict[str, int]], Page], size: dict[str, int]
) -> None:
    """Whoever goes through the pieces presses at one place; why one is held can be said there."""
    page = new_wall(size)
    page.evaluate("location.hash = '#line-2'")
    expect(page.locator("#slip")).to_contain_text("Oscar")
    page.evaluate("document.fonts.ready")  # words are as wide as they will be
    places = [page.evaluate(WAYS)]
    for _ in range(2):
        before = page.locator(".slip-where").inner_text()
        page.locator("#slip").get_by_role("button", name="Next →").click()
        expect(page.locator(".slip-where")).not_to_have_text(before)
        places.append(page.evaluate(WAYS))
    assert places[0] == places[1] == places[2]
    expect(page.locator("#slip [name=reason]")).to_be_in_viewport()


def test_an_undo_that_is_offered_goes_with_the_next_change(
    new_docket: Callable[..., Page], windows: Windows
) -> None:
    """It would take back something else than what it stands beside."""
    page = new_docket(ROWS)
    page.evaluate("location.hash = '#lay-out'")
    page.locator("#layout-spare").fill("1")
    page.locator("#layout-spare").press("Enter")
    said = page.locator(".said-slip")
    expect(said).to_contain_text("Spares: 1.")
    expect(page.locator("#stub-undone")).to_contain_text("spares")
    other = windows.open(page.url)
    other.locator("#layout-gap").fill("4")
    other.locator("#layout-gap").press("Enter")
    expect(page.locator("#stub-undone")).to_contain_text("gap")
    expect(said).to_have_count(0)


def test_what_is_said_does_not_lie_on_what_is_used(new_docket: Callable[..., Page]) -> None:
    """A blank at the foot of the window is still seen when its change was kept."""
    page = new_docket(ROWS)
    page.evaluate("location.hash = '#lay-out'")
    blank = page.locator("#layout-spare")
    expect(blank).to_be_visible()
    blank.evaluate("(blank) => blank.scrollIntoView({ block: 'end' })")
    page.evaluate("scrollBy(0, -12)")
    blank.fill("2")
    blank.press("Enter")
    expect(page.locator(".said-slip")).to_contain_text("Spares: 2.")
    assert not page.evaluate(COVERED)


def test_keys_are_shown_from_a_choice_too(new_docket: Callable[..., Page]) -> None:
    """Nothing to choose begins with a question mark."""
    page = new_docket(ROWS)
    page.evaluate("location.hash = '#lay-out'")
    page.locator("#layout-sheet").focus()
    page.keyboard.press("?")
    expect(page.locator("dialog.keys")).to_be_visible()


def test_a_template_that_is_being_drawn_says_so(served: Served, windows: Windows) -> None:
    """An empty place would look like a template without a picture."""
    page = windows.open(f"{served.address}/workshop")
    held: list[Route] = []
    page.route("**/picture.svg", lambda route: held.append(route))
    page.goto(f"{served.address}/#new")
    ready(page)
    card = page.locator(".choice-card").first
    expect(card).to_contain_text("being drawn")
    for route in held:
        route.continue_()
    expect(card).not_to_contain_text("being drawn")

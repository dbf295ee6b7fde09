"""Why pieces need a look is read before they are approved, without a pointer that can hover."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE

ROWS = (
    "name\tquantity\nAda Marram\t1\nBo Fescue\t1\nBo Fescue\t1\nInka Samphire\t400\nAda Marram\t1\n"
)


@pytest.fixture(params=[DESK, PHONE], ids=["desk", "phone"])
def wall(request: pytest.FixtureRequest, new_docket: Callable[..., Page]) -> Page:
    """The wall of a list in which two lines repeat others and one orders very many."""
    page = new_docket(ROWS, "kite-tag", request.param)
    page.evaluate("location.hash = '#look'")
    expect(page.locator("#look-figures")).to_contain_text("3 need a look")
    expect(page.locator("#look-figures")).not_to_contain_text("being made")
    return page


def test_a_tile_says_why_and_what_its_square_does(wall: Page) -> None:
    """The reason can be read on the tile; the square says that it approves, and that it did."""
    tile = wall.locator(".tile[data-line='4']")
    expect(tile.locator(".tile-reason")).to_contain_text("Stands on line 3 already. Leave one")
    tile.locator(".tile-reason").scroll_into_view_if_needed()
    expect(wall.locator(".tile[data-line='2'] .tile-reason")).to_be_hidden()
    for part in (".tile-tick", ".tile-name", ".tile-state", ".tile-reason"):
        box = tile.locator(part).bounding_box()
        whole = tile.bounding_box()
        assert box
        assert whole
        assert box["x"] + box["width"] <= whole["x"] + whole["width"] + 0.5
        assert box["y"] + box["height"] <= whole["y"] + whole["height"] + 0.5
    assert tile.locator(".tile-reason").evaluate(
        "(one) => { const at = one.getBoundingClientRect();"
        " return document.elementFromPoint(at.x + 4, at.y + 4) === one; }"
    )
    tick = tile.locator(".tile-tick")
    expect(tick).to_have_text("✓approve")
    tick.click()
    expect(tick).to_have_text("✓approved")
    expect(tile.locator(".tile-reason")).to_be_hidden()
    box = tick.bounding_box()
    assert box
    assert min(box["width"], box["height"]) >= 44


def test_reasons_stand_above_what_is_approved_at_once(wall: Page) -> None:
    """Like reasons are told once, with how many lines have them; then all may be approved."""
    reasons = wall.locator("#wall-reasons")
    expect(reasons).to_be_hidden()
    wall.locator(".tab").filter(has_text="Needs a look").click()
    expect(reasons.locator("li")).to_have_count(2)
    expect(reasons.locator("li").first).to_contain_text("2 lines: “…” stands on line … already")
    expect(reasons.locator("li").last).to_contain_text("1 line: 400 pieces are ordered")
    button = wall.get_by_role("button", name="Approve 3 lines shown")
    assert reasons.bounding_box()["y"] < button.bounding_box()["y"]  # type: ignore[index]
    button.click()
    expect(reasons).to_be_hidden()


def test_one_is_told_as_one(wall: Page) -> None:
    """One line needs a look, several need one."""
    for line in (4, 5):
        wall.locator(f".tile[data-line='{line}'] .tile-tick").click()
    expect(wall.locator("#look-figures")).to_contain_text("1 needs a look")

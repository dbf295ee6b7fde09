"""axe finds nothing on hook and list, in both themes; targets are large enough for gloves."""

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Served, Windows, ready

ROWS = "name\tvillage\tquantity\nAda Marram\tSandreed\t2\nSøren Tidewrack\tSaltcote\tx\n"
SMALL = """() => [...document.querySelectorAll(
  'a[href], button, input:not([type=radio]), select, summary, textarea, label')]
  .filter((each) => each.checkVisibility() && !each.matches('.skip, label[for]')
    && !each.closest('.hung-title') && !(each.type === 'checkbox' && each.closest('label')))
  .map((each) => [each.outerHTML.slice(0, 120), each.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0 && (box.height < 44 || box.width < 44))
  .map(([text, box]) => `${Math.round(box.width)} by ${Math.round(box.height)}: ${text}`)"""


def grave(page: Page) -> list[str]:
    """What axe finds, each with its first element."""
    found = Axe().run(page).response["violations"]
    return [f"{each['id']}: {each['nodes'][0]['html'][:120]}" for each in found]


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_on_the_hook(served: Served, windows: Windows, dark: bool) -> None:
    """Hook and form of a new docket have no fault that axe knows."""
    page = windows.open(f"{served.address}/?template=medal#new", dark=dark)
    expect(page.get_by_role("radio").first).to_be_visible()
    assert grave(page) == []


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_on_the_list(
    new_docket: Callable[..., Page], windows: Windows, dark: bool
) -> None:
    """Stub and part 1 have no fault that axe knows, with a line to mend and all folds open."""
    page = windows.open(new_docket(ROWS, "bag-tag").url.split("#")[0] + "#list", dark=dark)
    expect(page.locator(".amend")).to_be_visible()
    page.evaluate("for (const each of document.querySelectorAll('#list details')) each.open = true")
    expect(page.locator(".choice-card").first).to_be_visible()
    assert grave(page) == []


def test_targets_are_large(new_docket: Callable[..., Page], served: Served) -> None:
    """Whatever is touched on hook, stub and list is at least 44 by 44 px, on the phone too."""
    page = new_docket(ROWS, "bag-tag", PHONE)
    page.evaluate("location.hash = '#list'")
    expect(page.locator(".amend")).to_be_visible()
    assert page.evaluate(SMALL) == []
    page.goto(f"{served.address}/?template=medal#new")
    ready(page)
    assert page.evaluate(SMALL) == []

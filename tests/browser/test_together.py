"""Two windows on one docket, and a server that goes away and comes back."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows, ready, start

ROWS = "name\tvillage\tquantity\nAda Marram\tSandreed\t2\nSøren Tidewrack\tSaltcote\tx\n"


def test_two_windows_see_the_same(new_docket: Callable[..., Page], windows: Windows) -> None:
    """What is mended in one window is told in the other, stub and list, without a reload."""
    page = new_docket(ROWS, "bag-tag")
    address = page.url.split("#")[0] + "#list"
    other = windows.open(address)
    expect(other.locator(".amend")).to_contain_text("held")
    page.evaluate("location.hash = '#list'")
    page.locator(".amend").get_by_label("pieces").fill("4")
    page.get_by_role("button", name="Keep line 3").click()
    expect(other.locator(".amend")).to_contain_text("mended")
    expect(other.locator(".amend").get_by_label("pieces")).to_have_value("4")
    expect(other.locator(".stub-sum div").filter(has_text="held")).to_contain_text("0")


def test_what_is_being_written_stays(new_docket: Callable[..., Page], windows: Windows) -> None:
    """A change from elsewhere leaves alone what somebody is writing in the same line."""
    page = new_docket(ROWS, "bag-tag")
    other = windows.open(page.url.split("#")[0] + "#list")
    other.locator(".amend").get_by_label("name").fill("Søren Tidewrack-Lyme")
    page.evaluate("location.hash = '#list'")
    page.locator(".amend").get_by_label("pieces").fill("4")
    page.get_by_role("button", name="Keep line 3").click()
    expect(other.locator(".stub-sum div").filter(has_text="held")).to_contain_text("0")
    expect(other.locator(".amend").get_by_label("name")).to_have_value("Søren Tidewrack-Lyme")


def test_a_page_outlives_its_server(own_served: Served, windows: Windows) -> None:
    """A page says that the program is gone and that it is back, and goes on with what was kept."""
    windows.expected += ["ERR_CONNECTION_REFUSED", "ERR_INCOMPLETE_CHUNKED", "403"]
    page = windows.open(f"{own_served.address}/?template=bag-tag#new")
    page.get_by_text("or paste it").click()
    page.get_by_label("Lines as they come").fill(ROWS)
    page.get_by_role("button", name="Start the docket").click()
    page.wait_for_url("**/dockets/*")
    ready(page)
    page.evaluate("location.hash = '#list'")
    expect(page.locator(".amend")).to_be_visible()
    own_served.end()
    expect(page.locator("#said")).to_contain_text("No line to the program")
    again = start(own_served.data, int(own_served.address.rsplit(":", 1)[1]))
    try:
        expect(page.locator("#said")).to_contain_text("The program answers again")
        page.locator(".amend").get_by_label("pieces").fill("5")
        page.get_by_role("button", name="Keep line 3").click()
        expect(page.locator(".amend")).to_contain_text("mended")
    finally:
        again.end()

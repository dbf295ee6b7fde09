"""What is said while nothing can be drawn yet, and while something is sent."""

import json

from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import Served, Windows, ready


def cold(page: Page) -> list[str]:
    """Let the program say that it gets ready until the list is filled; pictures asked for."""
    done: list[str] = []

    def answer(route: Route) -> None:
        body = json.dumps({"ready": bool(done)})
        route.fulfill(status=200, content_type="application/json", body=body)

    page.route("**/api/ready", answer)
    return done


def test_the_first_start_is_told_on_the_hook(served: Served, windows: Windows) -> None:
    """Templates can be chosen meanwhile; their pictures are asked for once they can be drawn."""
    page = windows.open(f"{served.address}/workshop")
    done = cold(page)
    asked: list[str] = []
    page.on("request", lambda one: asked.append(one.url))
    page.goto(f"{served.address}/?template=medal#new")
    ready(page)
    told = page.locator(".getting-ready")
    expect(told).to_contain_text("Getting ready: the first time takes about a minute.")
    expect(page.get_by_role("radio").first).to_be_visible()
    expect(page.locator(".choice-card").first).to_contain_text("being drawn")
    assert not [url for url in asked if "picture.svg" in url]
    done.append("ready")
    expect(told).to_have_count(0)
    expect(page.locator(".choice-card").first).not_to_contain_text("being drawn")


def test_the_first_start_is_told_on_a_docket(served: Served, windows: Windows) -> None:
    """A docket is opened once it can be planned; till then the page says what it waits for."""
    page = windows.open(f"{served.address}/?template=key-fob#new")
    page.get_by_role("button", name="Try it with a sample list").click()
    page.wait_for_url("**/dockets/*")
    ready(page)
    done = cold(page)
    page.reload()
    expect(page.locator(".getting-ready")).to_be_visible()
    done.append("ready")
    expect(page.locator(".getting-ready")).to_have_count(0)
    expect(page.locator(".stub-sum .sum")).to_be_visible()


def test_a_list_that_is_being_sent_says_so(served: Served, windows: Windows) -> None:
    """From the press of the button to the docket something tells that it is at work."""
    page = windows.open(f"{served.address}/?template=key-fob#new")
    held: list[Route] = []
    page.route("**/api/dockets", lambda route: held.append(route))
    page.get_by_text("or paste it").click()
    page.get_by_label("Lines as they come").fill("name\nAda\n")
    page.get_by_role("button", name="Start the docket").click()
    expect(page.locator(".new-end")).to_contain_text("The list is sent, read and planned …")
    expect(page.get_by_role("button", name="Start the docket")).to_be_disabled()
    held[0].continue_()
    page.wait_for_url("**/dockets/*")

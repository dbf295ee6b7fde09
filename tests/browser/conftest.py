"""A server of its own, a browser, and pages whose console must stay silent."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    expect,
    sync_playwright,
)

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
"""The first one has no windows of its own to draw: tests take three quarters of the time."""
DESK = {"width": 1280, "height": 900}
TABLET = {"width": 820, "height": 1180}
PHONE = {"width": 390, "height": 844}
PATIENCE_MS = 90_000
"""The machine may be busy; nothing is measured here."""

expect.set_options(timeout=PATIENCE_MS)


@dataclass
class Served:
    """A running `namebatch serve`.

    Attributes:
        address: of the page, without a stroke at its end.
        data: where its dockets are kept.
    """

    address: str
    data: Path
    process: subprocess.Popen[str]

    def end(self) -> None:
        """End it as Ctrl-C does."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        try:
            self.process.wait(30)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        if self.process.stdout:
            self.process.stdout.close()


def start(data: Path, port: int = 0) -> Served:
    """Start a server over a data folder and wait until it says where it is."""
    process = subprocess.Popen(
        [sys.executable, "-m", "namebatch", "serve", "--port", str(port), "--no-browser"]
        + ["--data", str(data)],
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )
    assert process.stdout is not None
    said = process.stdout.readline()
    if "http://" not in said:
        process.kill()
        process.wait()
        process.stdout.close()
        pytest.fail(f"namebatch serve did not start: {said!r}")
    return Served(said.split()[-1].rstrip("/"), data, process)


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server that tests share: each hangs dockets of its own on the hook."""
    running = start(tmp_path_factory.mktemp("desk"))
    yield running
    running.end()


@pytest.fixture
def own_served(tmp_path: Path) -> Iterator[Served]:
    """A server for one test alone, with nothing on the hook."""
    running = start(tmp_path / "desk")
    yield running
    running.end()


# not for the session: its event loop would run on in the tests of other rooms
@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's Chromium; without it these tests are skipped, except under CI=true."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail("no Chromium on this machine; `.ci/run` installs it")
        pytest.skip("no Chromium on this machine (Debian: apt-get install chromium)")
    with sync_playwright() as playwright:
        # a sandbox of its own is refused to root, as containers run tests
        running = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield running
        running.close()


@dataclass
class Windows:
    """Opens pages and keeps what their consoles say.

    Attributes:
        said: warnings and errors of all pages.
        expected: pieces of text that are allowed to be said (a refusal that a test asks for).
    """

    browser: Browser
    said: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)
    contexts: list[BrowserContext] = field(default_factory=list)

    def open(self, address: str, size: dict[str, int] | None = None, *, dark: bool = False) -> Page:
        """A new window of its own, with the page loaded and everything on it started."""
        context = self.browser.new_context(
            viewport={"width": (size or DESK)["width"], "height": (size or DESK)["height"]},
            color_scheme="dark" if dark else "light",
            accept_downloads=True,
        )
        context.set_default_timeout(PATIENCE_MS)
        self.contexts.append(context)
        page = context.new_page()
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.goto(address)
        ready(page)
        return page

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.said.append(message.text)

    def unexpected(self) -> list[str]:
        """What was said though no test asked for it."""
        return [text for text in self.said if not any(part in text for part in self.expected)]


def ready(page: Page) -> None:
    """Wait until the modules of a page have started."""
    page.wait_for_selector("html[data-ready]", state="attached")


@pytest.fixture
def windows(browser: Browser) -> Iterator[Windows]:
    """Pages for one test; it fails if a console has said anything unexpected."""
    opened = Windows(browser)
    yield opened
    for context in opened.contexts:
        context.close()
    assert opened.unexpected() == []


@pytest.fixture
def new_docket(served: Served, windows: Windows) -> Callable[..., Page]:
    """Start a docket from pasted rows as a person does; gives its page."""

    def begin(rows: str, template: str = "kite-tag", size: dict[str, int] | None = None) -> Page:
        page = windows.open(f"{served.address}/?template={template}#new", size)
        page.get_by_text("or paste it").click()
        page.get_by_label("Lines as they come").fill(rows)
        page.get_by_role("button", name="Start the docket").click()
        page.wait_for_url("**/dockets/*")
        ready(page)
        return page

    return begin

"""The server opens a browser where there is one."""

import sys
import webbrowser

import pytest

from namebatch.web.server import open_browser


class _Window(webbrowser.BackgroundBrowser):
    """A browser with windows that notes what it opens."""

    def __init__(self) -> None:
        super().__init__("kite-browser")
        self.opened: list[str] = []

    def open(self, url: str, new: int = 0, autoraise: bool = True) -> bool:
        self.opened.append(url)
        return True


def test_browser_opens_where_there_is_a_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    """A browser with windows is given the address."""
    window = _Window()
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("DISPLAY", ":7")
    monkeypatch.setattr(webbrowser, "get", lambda: window)
    assert open_browser("http://127.0.0.1:8417/")
    assert window.opened == ["http://127.0.0.1:8417/"]


def test_no_browser_without_a_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over a remote line or on a server nothing is opened, a text browser least of all."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setattr(webbrowser, "get", _Window)
    assert not open_browser("http://127.0.0.1:8417/")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    monkeypatch.setattr(webbrowser, "get", lambda: webbrowser.GenericBrowser("words"))
    assert not open_browser("http://127.0.0.1:8417/")


def test_no_browser_at_all_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where none is installed the address on the terminal is enough."""

    def none() -> webbrowser.BaseBrowser:
        raise webbrowser.Error("could not locate runnable browser")

    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("DISPLAY", ":7")
    monkeypatch.setattr(webbrowser, "get", none)
    assert not open_browser("http://127.0.0.1:8417/")

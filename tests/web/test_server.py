"""The server: its port, its browser, its end."""

import socket
import sys
import webbrowser

import pytest

from namebatch.errors import SettingsError
from namebatch.web.server import address, open_browser, open_port


def test_port_is_reachable_on_this_computer_alone() -> None:
    """The socket is bound to the loopback address, whatever port is taken."""
    with open_port(0) as taken:
        host, port = taken.getsockname()
        assert host == "127.0.0.1"
        with socket.create_connection(("127.0.0.1", port), timeout=5):
            pass


def test_taken_port_is_told_with_what_to_do() -> None:
    """A second server on the same port says where the first is and how to have another."""
    with open_port(0) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(SettingsError, match=rf"http://127.0.0.1:{port}/.*--port N") as told:
            open_port(port)
    assert "namebatch is open there already" in told.value.what


def test_address_leaves_out_port_80() -> None:
    """The address is what a browser shows."""
    assert address(8417) == "http://127.0.0.1:8417/"
    assert address(80) == "http://127.0.0.1/"


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

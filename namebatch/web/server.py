"""A server on this computer alone, until Ctrl-C; a browser is opened where there is one."""

import asyncio
import logging
import os
import secrets
import socket
import sys
import webbrowser
from threading import Thread
from types import FrameType

import uvicorn

from namebatch.desk import Desk
from namebatch.web.app import make_app
from namebatch.web.ending import Ending
from namebatch.web.guard import Door
from namebatch.web.port import address

TOKEN_BYTES = 32
_NO_CONCERN = ("Unsupported upgrade request", "No supported WebSocket library", "Cancel ")
"""What a stranger asked for that the page has no use for, advice on it, and answers broken off."""
SECONDS_TO_END = 3
"""For answers that are under way when the server is ended."""
SECONDS_TO_BREAK_OFF = 0.5
"""For those that were not ready by then."""


def serve(desk: Desk, taken: socket.socket, *, browser: bool) -> None:
    """Serve the page until somebody ends it.

    Args:
        desk: what lies open; it stays the caller's to close.
        taken: port to listen on, from `open_port`.
        browser: open one, where this computer has one.
    """
    port = int(taken.getsockname()[1])
    door = Door(port, secrets.token_urlsafe(TOKEN_BYTES))
    ending = Ending()
    config = uvicorn.Config(
        make_app(desk, door, ending),
        log_config=None,
        access_log=False,
        server_header=False,
        lifespan="off",
        ws="none",
        timeout_graceful_shutdown=SECONDS_TO_END,
    )
    _log_to_stderr()
    server = _Server(config, ending)
    if browser:
        Thread(target=open_browser, args=(address(port),), daemon=True).start()
    try:
        server.run(sockets=[taken])
    except KeyboardInterrupt:
        pass  # the usual way to end it; the server has closed already and passes the signal on
    finally:
        taken.close()


class _Server(uvicorn.Server):
    """Tells those who wait for news of the end before it waits for answers that are under way."""

    def __init__(self, config: uvicorn.Config, ending: Ending) -> None:
        super().__init__(config)
        self._ending = ending

    def run(self, sockets: list[socket.socket] | None = None) -> None:
        """Serve until the end; what does not end in its time is left behind.

        A list that is being planned in a thread cannot be broken off, and may take a minute.
        """
        make_loop = self.config.get_loop_factory() or asyncio.new_event_loop
        loop = make_loop()
        try:
            loop.run_until_complete(self.serve(sockets))
        finally:
            tasks = asyncio.all_tasks(loop)
            for task in tasks:
                task.cancel()
            if tasks:
                loop.run_until_complete(asyncio.wait(tasks, timeout=SECONDS_TO_BREAK_OFF))
            loop.run_until_complete(loop.shutdown_asyncgens())
            if not asyncio.all_tasks(loop):
                loop.close()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Take the signal."""
        super().handle_exit(sig, frame)
        # in a thread: this runs in the middle of whatever held the lock of `Ending`
        Thread(target=self._ending.begin, daemon=True).start()


def open_browser(url: str) -> bool:
    """Open a browser with windows, if there is one.

    Returns:
        False where there is none; nothing is opened then, no browser for terminals either.
    """
    if not _has_screen():
        return False
    try:
        browser = webbrowser.get()
    except webbrowser.Error:
        return False
    in_terminal = isinstance(browser, webbrowser.GenericBrowser) and not isinstance(
        browser, webbrowser.BackgroundBrowser
    )
    return not in_terminal and browser.open(url)


def _has_screen() -> bool:
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _is_of_concern(record: logging.LogRecord) -> bool:
    """Whether a fault is one: neither what strangers ask for, nor what the end broke off."""
    error = record.exc_info[1] if record.exc_info else None
    broken_off = isinstance(error, asyncio.CancelledError)
    return not broken_off and not record.getMessage().startswith(_NO_CONCERN)


def _log_to_stderr() -> None:
    """Faults are told on standard error; whoever looks at the page hears the rest there."""
    handler = logging.StreamHandler()
    handler.setFormatter(logging.Formatter("namebatch: %(message)s"))
    handler.addFilter(_is_of_concern)
    for name in ("namebatch", "uvicorn"):
        logger = logging.getLogger(name)
        logger.handlers = [handler]
        logger.setLevel(logging.WARNING)
        logger.propagate = False

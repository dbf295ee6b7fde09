"""The port of the page: on this computer alone, or refused with what to do."""

import socket
import sys
from typing import Final

from namebatch.errors import SettingsError

LOOPBACK: Final = "127.0.0.1"
HTTP_PORT: Final = 80
"""Browsers leave this one out."""
WAITING_AT_THE_DOOR = 128


def open_port(port: int) -> socket.socket:
    """Take a port of this computer, reachable from nowhere else.

    Args:
        port: 0 for any that is free.

    Raises:
        SettingsError: it is taken, or not ours to take.
    """
    # asyncio sends small packets at once (TCP_NODELAY) only where the protocol is named; without,
    # every answer waits 40 ms for an acknowledgement of its head
    taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if sys.platform == "win32":  # there, REUSEADDR would share a port with another program
            taken.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        taken.bind((LOOPBACK, port))
        taken.listen(WAITING_AT_THE_DOOR)
    except OSError as error:
        taken.close()
        raise SettingsError(
            f"Port {port} cannot be used: {error.strerror or error}. Perhaps namebatch is open "
            f"there already: look at {address(port)}. Otherwise give another port with --port N; "
            "--port 0 takes any that is free."
        ) from error
    return taken


def address(port: int) -> str:
    """Where the page is."""
    return f"http://{LOOPBACK}/" if port == HTTP_PORT else f"http://{LOOPBACK}:{port}/"

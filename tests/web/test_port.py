"""The port of the page."""

import asyncio
import socket

import pytest

from namebatch.errors import SettingsError
from namebatch.web.port import address, open_port


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


def test_answers_leave_at_once() -> None:
    """What a loop accepts at the port sends its packets without waiting for the other side."""

    async def said() -> int:
        heard: list[int] = []

        async def answer(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            found = writer.get_extra_info("socket")
            heard.append(found.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        with open_port(0) as taken:
            async with await asyncio.start_server(answer, sock=taken):
                reader, writer = await asyncio.open_connection(*taken.getsockname())
                await reader.read()
                writer.close()
                await writer.wait_closed()
        return heard[0]

    assert asyncio.run(said())

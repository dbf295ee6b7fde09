"""A browser that hangs up in the middle of a request."""

import asyncio
import logging

import pytest
from starlette.requests import Request
from starlette.types import Message, Receive, Scope, Send

from namebatch.web.problems import Unexpected


def test_a_browser_that_hung_up_is_no_fault(caplog: pytest.LogCaptureFixture) -> None:
    """A picture that was scrolled out of sight while it was asked for is not told as a fault."""
    sent: list[Message] = []

    async def reads(scope: Scope, receive: Receive, send: Send) -> None:
        await Request(scope, receive).body()

    async def gone() -> Message:
        return {"type": "http.disconnect"}

    async def send(message: Message) -> None:
        sent.append(message)

    scope = {"type": "http", "method": "GET", "path": "/", "headers": []}
    with caplog.at_level(logging.WARNING):
        asyncio.run(Unexpected(reads)(scope, gone, send))
    assert caplog.records == []
    assert sent == []

"""HEAD for what can be opened: the head that GET would be answered with, and nothing after it."""

from starlette.types import ASGIApp, Message, Receive, Scope, Send

API = "/api/"
"""Below it are streams that have no end."""


class Heads:
    """Answers HEAD for pages and what they load; the framework does so for files alone."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Ask for the whole, and leave out what is in it."""
        if scope["type"] != "http" or scope["method"] != "HEAD" or scope["path"].startswith(API):
            await self._app(scope, receive, send)
            return

        async def bare(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self._app({**scope, "method": "GET"}, receive, bare)

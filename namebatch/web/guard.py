"""Who is let in: browsers on this computer that were given the page by this very server.

Any web page that somebody visits can send requests to this computer. Three things keep it out:
the ``Host`` must be this computer's own name (a foreign name that was pointed here is refused),
``Origin`` and ``Sec-Fetch-Site`` must say that our own page asks, and whoever changes something
must show the token that only our own page was given.
"""

from dataclasses import dataclass
from hmac import compare_digest

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from namebatch.web.port import HTTP_PORT
from namebatch.web.problem import problem_response

TOKEN_HEADER = "X-Namebatch-Token"
READING = frozenset({"GET", "HEAD"})
OUR_SITE = frozenset({"same-origin", "none"})
NAMES = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True, slots=True)
class Door:
    """What a request must show to be let in.

    Attributes:
        port: that the server listens on.
        token: that every change must carry; made anew at each start.
    """

    port: int
    token: str

    @property
    def hosts(self) -> frozenset[str]:
        """What ``Host`` may say."""
        bare = frozenset(NAMES) if self.port == HTTP_PORT else frozenset[str]()
        return bare | {f"{name}:{self.port}" for name in NAMES}


class Guard:
    """Refuses requests of other pages and under other names, before their body is read."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self._app = app
        self._door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, or answer 403."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        refused = refusal(self._door, scope["method"], scope["path"], Headers(scope=scope))
        if refused is None:
            await self._app(scope, receive, send)
        else:
            await problem_response(403, refused)(scope, receive, send)


def refusal(door: Door, method: str, path: str, headers: Headers) -> str | None:
    """Why a request is not let in.

    Args:
        door: what it must show.
        method: of HTTP.
        path: that it asks for.
        headers: of the request.

    Returns:
        What to tell, or None if it may come in.
    """
    hosts = headers.getlist("host")
    if len(hosts) != 1 or hosts[0].lower() not in door.hosts:
        return (
            "This page answers only under this computer's own name. "
            f"Open http://127.0.0.1:{door.port}/ instead."
        )
    if any(origin.lower() != f"http://{hosts[0].lower()}" for origin in headers.getlist("origin")):
        return "Another page asked for this, and was refused. Use the page of namebatch itself."
    sites = headers.getlist("sec-fetch-site")
    if not OUR_SITE.issuperset(sites) and not _opens_page(method, path, headers):
        return "Another page asked for this, and was refused. Use the page of namebatch itself."
    if method not in READING and not _has_token(door, headers):
        return (
            "This page was opened before namebatch was started anew. Load the page again; "
            "what was shown as saved is kept."
        )
    return None


def _opens_page(method: str, path: str, headers: Headers) -> bool:
    """Following a link from elsewhere to one of our pages shows it and changes nothing."""
    return (
        method in READING
        and not path.startswith("/api/")
        and headers.get("sec-fetch-mode") == "navigate"
        and headers.get("sec-fetch-dest") == "document"
    )


def _has_token(door: Door, headers: Headers) -> bool:
    tokens = headers.getlist(TOKEN_HEADER)
    return len(tokens) == 1 and compare_digest(tokens[0].encode(), door.token.encode())

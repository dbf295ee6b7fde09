"""Who is let in, and who is not."""

import pytest
from starlette.applications import Starlette
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.testclient import TestClient

from namebatch.web.guard import TOKEN_HEADER, Door, Guard, refusal

DOOR = Door(8417, "a-token-for-tests")
HOST = {"host": "127.0.0.1:8417"}
TOKEN = {TOKEN_HEADER: DOOR.token}


def refused(method: str = "GET", path: str = "/api/dockets", **headers: str) -> bool:
    """Whether a request with these headers (underscores as hyphens) is refused."""
    given = {**HOST, **{name.replace("_", "-"): value for name, value in headers.items()}}
    return refusal(DOOR, method, path, Headers(given)) is not None


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8417", "localhost:8417", "LOCALHOST:8417", "[::1]:8417"]
)
def test_own_names_are_let_in(host: str) -> None:
    """The names of this computer itself with our port are served."""
    assert not refused(host=host)


@pytest.mark.parametrize(
    "host",
    [
        "kites.example:8417",
        "127.0.0.1",
        "127.0.0.1:8418",
        "localhost",
        "127.0.0.1:8417.kites.example",
        "kites.example@127.0.0.1:8417",
        "127.0.0.1:8417 ",
        "",
    ],
)
def test_other_names_are_refused(host: str) -> None:
    """A foreign name that was pointed at this computer gets nothing, nor does another port."""
    assert refused(host=host)


def test_host_must_be_said_once() -> None:
    """Without a host, or with two, nobody knows which was meant."""
    twice = Headers(raw=[(b"host", b"127.0.0.1:8417"), (b"host", b"localhost:8417")])
    assert refusal(DOOR, "GET", "/", twice) is not None
    assert refusal(DOOR, "GET", "/", Headers({})) is not None


def test_port_80_need_not_be_said() -> None:
    """Browsers leave the port out of the host where it is 80."""
    door = Door(80, "t")
    assert refusal(door, "GET", "/", Headers({"host": "localhost"})) is None
    assert refusal(door, "GET", "/", Headers({"host": "localhost:80"})) is None


@pytest.mark.parametrize(
    "origin",
    [
        "https://kites.example",
        "null",
        "https://127.0.0.1:8417",
        "http://127.0.0.1:8418",
        "http://127.0.0.1",
        "http://localhost:8417",
        "",
    ],
)
def test_other_origins_are_refused(origin: str) -> None:
    """Whoever says where it comes from must come from the page under the very same name."""
    assert refused("POST", origin=origin, **TOKEN)


def test_own_origin_is_let_in() -> None:
    """The page's own requests say its own origin."""
    assert not refused("POST", origin="http://127.0.0.1:8417", **TOKEN)


@pytest.mark.parametrize("site", ["cross-site", "same-site", "anything"])
@pytest.mark.parametrize("path", ["/api/dockets", "/api/dockets/1/rows/2/picture.svg", "/static/x"])
def test_requests_of_other_sites_are_refused(site: str, path: str) -> None:
    """Pages of other sites, other ports of this computer too, read and load nothing."""
    assert refused("GET", path, sec_fetch_site=site, sec_fetch_mode="no-cors")


def test_link_from_elsewhere_opens_a_page_only() -> None:
    """A link to a page may be followed from anywhere; into a frame, or to data, it may not."""
    follows = {"sec_fetch_site": "cross-site", "sec_fetch_mode": "navigate"}
    assert not refused("GET", "/dockets/1", sec_fetch_dest="document", **follows)
    assert refused("GET", "/dockets/1", sec_fetch_dest="iframe", **follows)
    assert refused("GET", "/api/dockets", sec_fetch_dest="document", **follows)
    assert refused("POST", "/dockets/1", sec_fetch_dest="document", **follows, **TOKEN)


@pytest.mark.parametrize(
    "method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "MADE-UP"]
)
def test_whoever_changes_something_needs_the_token(method: str) -> None:
    """Anything but reading carries the token of this very start."""
    assert refused(method)
    assert refused(method, **{TOKEN_HEADER: "another"})
    assert refused(method, **{TOKEN_HEADER: ""})
    assert not refused(method, **TOKEN)


def test_token_of_other_letters_is_refused_in_peace() -> None:
    """A token with bytes beyond ASCII is compared and refused like any other."""
    headers = Headers(raw=[(b"host", b"127.0.0.1:8417"), (TOKEN_HEADER.lower().encode(), b"\xff")])
    assert refusal(DOOR, "POST", "/", headers) is not None


def test_refused_request_is_never_handled() -> None:
    """The application behind the guard does not see what is refused."""
    seen: list[str] = []

    def answer(request: Request) -> Response:
        seen.append(request.method)
        return PlainTextResponse("in")

    app = Guard(Starlette(routes=[Route("/", answer, methods=["GET", "POST"])]), DOOR)
    client = TestClient(app, base_url="http://127.0.0.1:8417")
    assert client.get("/").text == "in"
    answered = client.post("/", content=b"x")
    assert answered.status_code == 403
    assert "started anew" in answered.json()["what"]
    assert client.post("/", headers=TOKEN).status_code == 200
    assert seen == ["GET", "POST"]


def test_sockets_are_refused() -> None:
    """There is no socket here, and what is no request is turned away."""
    from starlette.websockets import WebSocketDisconnect

    client = TestClient(Guard(Starlette(), DOOR), base_url="http://127.0.0.1:8417")
    with pytest.raises(WebSocketDisconnect), client.websocket_connect("/"):
        pass

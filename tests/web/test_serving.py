"""Pages, and what they load."""

from pathlib import Path
from typing import cast

import pytest
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.web.app import make_app
from namebatch.web.guard import Door
from namebatch.web.rendering import HERE, page

DOOR = Door(8417, "the-token")
STATIC = sorted(path for path in (HERE / "static").rglob("*") if path.is_file())


@pytest.fixture
def client() -> TestClient:
    """Pages that need no desk."""
    app = make_app(cast(Desk, None), DOOR)
    return TestClient(app, base_url="http://127.0.0.1:8417")


@pytest.mark.parametrize("address", ["/", "/workshop", "/templates/new"])
def test_page_carries_the_token_of_this_start(client: TestClient, address: str) -> None:
    """Each page is HTML in UTF-8, kept by no browser, and knows the token for changes."""
    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert answer.headers["cache-control"] == "no-store"
    assert '<meta name="namebatch-token" content="the-token">' in answer.text


@pytest.mark.parametrize("address", ["/", "/workshop", "/static/css/base.css"])
def test_the_head_alone_can_be_asked_for(client: TestClient, address: str) -> None:
    """Watchers of servers do so; it is that of the page, and nothing comes after it."""
    whole, head = client.get(address), client.head(address)
    assert head.status_code == 200
    assert head.headers["content-type"] == whole.headers["content-type"]
    assert head.content == b""


def test_title_is_escaped() -> None:
    """A docket's title is text, whatever it looks like."""
    title = '<script>alert("tide")</script>'
    shown = bytes(page(DOOR, "docket.html", "docket", number=7, title=title).body).decode()
    assert title not in shown
    assert "&lt;script&gt;" in shown


@pytest.mark.parametrize("path", STATIC, ids=lambda path: path.name)
def test_static_file_is_served_as_what_it_is(client: TestClient, path: Path) -> None:
    """Style sheets, modules and pictures come with their type, asked for anew each time."""
    address = f"/static/{path.relative_to(HERE / 'static').as_posix()}"
    answer = client.get(address)
    kinds = {".css": "text/css", ".mjs": "text/javascript", ".svg": "image/svg+xml"}
    assert answer.headers["content-type"].split(";")[0] == kinds[path.suffix]
    assert answer.content == path.read_bytes()
    assert answer.headers["cache-control"] == "no-cache"
    again = client.get(address, headers={"If-None-Match": answer.headers["etag"]})
    assert again.status_code == 304


@pytest.mark.parametrize(
    "address",
    [
        "/static/../guard.py",
        "/static/%2e%2e/guard.py",
        "/static/..%2fguard.py",
        "/static//etc/passwd",
        "/static/%00",
        "/static/",
        "/typefaces/../metadata.json",
        "/typefaces/..%2fmetadata.json",
        "/typefaces/LICENSE",
    ],
)
def test_nothing_else_of_the_disk_is_served(client: TestClient, address: str) -> None:
    """No address leads out of the folder of static files or to another file of the typeface."""
    assert client.get(address).status_code == 404

"""Headers of every answer."""

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.testclient import TestClient

from namebatch.web.headers import SafeHeaders


def _answer(request: Request) -> Response:
    kind = request.query_params.get("kind", "text/html")
    kept = request.query_params.get("kept")
    headers = None if kept is None else {"Cache-Control": kept}
    return Response(b"", media_type=kind, headers=headers)


@pytest.fixture
def client() -> TestClient:
    """An application that answers as it is asked to."""
    return TestClient(SafeHeaders(Starlette(routes=[Route("/", _answer)])))


@pytest.mark.parametrize("path", ["/", "/nothing-here"])
def test_policy_allows_nothing_from_elsewhere(client: TestClient, path: str) -> None:
    """No script in the page itself, nothing from other hosts, no frame round it; refusals too."""
    headers = client.get(path).headers
    policy = dict(part.split(" ", 1) for part in headers["content-security-policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == "'self'"
    assert policy["frame-ancestors"] == "'none'"
    assert not any("unsafe" in part or "http" in part or "*" in part for part in policy.values())
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"


def test_picture_opened_by_itself_runs_nothing(client: TestClient) -> None:
    """An SVG file is a document of its own: it may draw and nothing else."""
    policy = client.get("/", params={"kind": "image/svg+xml"}).headers["content-security-policy"]
    assert "script-src" not in policy
    assert "default-src 'none'" in policy
    assert "sandbox" in policy


def test_nothing_is_kept_unless_it_is_said(client: TestClient) -> None:
    """Names stay out of the browser's store; what may be kept says so itself."""
    assert client.get("/").headers["cache-control"] == "no-store"
    assert client.get("/", params={"kept": "no-cache"}).headers["cache-control"] == "no-cache"

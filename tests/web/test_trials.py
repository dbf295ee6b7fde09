"""Templates from a picture over the interface."""

from math import radians, sin
from typing import Any

import pytest
from starlette.testclient import TestClient

from namebatch.desk import Desk
from tests.desk.pictures import KITE, float_png

Json = Any


@pytest.fixture
def begun(client: TestClient) -> Json:
    """A draft."""
    files = {"file": ("kite.svg", KITE)}
    answer = client.post("/api/trials", files=files, data={"title": "Kite"})
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_from_a_picture_to_a_docket(client: TestClient, begun: Json, desk: Desk) -> None:
    """Begun, tried, kept, and a docket is made with it; then it is taken away again."""
    at = f"/api/trials/{begun['id']}"
    begun["spec"]["samples"] = ["Marlo", "Zoë"]
    tried = client.put(at, json=begun["spec"]).json()
    assert tried["problems"] == []
    assert [sample["text"] for sample in tried["samples"]] == ["Marlo", "Zoë"]
    assert tried["samples"][0]["svg"].startswith("<svg")
    # edges 0.5 mm further in meet so much further in at the corners, which open by 68.5 degrees
    corner = 0.5 / sin(radians(68.5 / 2))
    assert tried["ground"]["size_mm"][0] == pytest.approx(52 - 2 * corner, abs=0.05)
    assert client.get(at).json()["spec"]["samples"] == ["Marlo", "Zoë"]
    assert client.post(f"{at}/keep", json={"title": "Kite tag, small"}).json() == {
        "name": "kite-tag-small"
    }
    assert client.get(at).status_code == 404
    mine = [one for one in client.get("/api/templates").json() if one["own"]]
    assert [one["title"] for one in mine] == ["Kite tag, small"]
    sent = {"template": "kite-tag-small", "text": "name\nMarlo Teasel\n"}
    docket = client.post("/api/dockets", data=sent).json()
    row = client.get(f"/api/dockets/{docket['number']}/rows/2").json()
    assert row["state"] == "made"
    assert client.delete("/api/templates/kite-tag-small").status_code == 204
    assert not any(one["own"] for one in client.get("/api/templates").json())


def test_problems_come_with_the_shape(client: TestClient, begun: Json) -> None:
    """In sentences, beside what can be seen already."""
    begun["spec"]["texts"][0]["box_mm"] = [40, 5, 60, 9]
    tried = client.put(f"/api/trials/{begun['id']}", json=begun["spec"]).json()
    assert tried["problems"][0].startswith("Text 1, box: reaches from")
    assert tried["samples"] == []
    assert tried["ground"]["svg"].startswith("<svg")
    refused = client.post(f"/api/trials/{begun['id']}/keep", json={"title": "Kite"})
    assert refused.status_code == 422
    assert refused.json()["details"] == tried["problems"]


@pytest.mark.parametrize("data", [b"", b"%PDF-1.4", float_png()[:200], b"<svg/>"])
def test_what_is_no_picture_is_refused(client: TestClient, data: bytes) -> None:
    """With a way out, whatever name and type it was sent under."""
    before = client.get("/api/trials").json()
    answer = client.post("/api/trials", files={"file": ("kite.png", data, "image/png")})
    assert answer.status_code == 422
    assert answer.json()["what"]
    assert client.get("/api/trials").json() == before


def test_drafts_and_templates_that_are_not_there(client: TestClient, begun: Json) -> None:
    """A dropped draft is gone for good; bundled templates stay, names that lead elsewhere are none.

    A tab that still shows it is told, and changes no other draft.
    """
    at = f"/api/trials/{begun['id']}"
    assert client.delete(at).json() == {"complete": True, "left": []}
    assert client.delete(at).status_code == 404
    other = client.post("/api/trials", files={"file": ("kite.svg", KITE)}).json()
    assert other["id"] == begun["id"] + 1
    late = client.put(at, json=begun["spec"])
    assert late.status_code == 404
    assert "no draft" in late.json()["what"]
    for name in ("medal", "..%2F..%2Fetc", "nothing"):
        assert client.delete(f"/api/templates/{name}").status_code in (404, 422)
    assert any(one["name"] == "medal" for one in client.get("/api/templates").json())

"""Templates and typefaces over the interface."""

import xml.etree.ElementTree as ET

from starlette.testclient import TestClient

from namebatch.template import bundled_templates


def test_templates_say_what_they_take(client: TestClient) -> None:
    """Every bundled template with its fields, its size and its faces."""
    found = client.get("/api/templates").json()
    assert [one["name"] for one in found if not one["own"]] == list(bundled_templates())
    medal = next(one for one in found if one["name"] == "medal")
    assert medal["fields"] == [
        {"name": "name", "required": True},
        {"name": "award", "required": True},
    ]
    assert all(side > 10 for one in found for side in one["size_mm"])
    assert all(one["fonts"] for one in found)


def test_every_template_has_a_picture_and_a_sample(client: TestClient) -> None:
    """A picture of a real piece, without the figures of a check, and a list to try it with."""
    for name in bundled_templates():
        picture = client.get(f"/api/templates/{name}/picture.svg")
        assert picture.headers["content-type"] == "image/svg+xml", name
        assert ET.fromstring(picture.content).tag.endswith("svg")
        assert b"narrowest" not in picture.content
        assert "name" in client.get(f"/api/templates/{name}/sample").json()["text"]


def test_template_that_is_not_there(client: TestClient) -> None:
    """A name is looked up among those that there are and leads nowhere else."""
    for name in ("sea-horse", "..", "%2e%2e", "..%2ftemplates%2fkey-fob", "key-fob%00"):
        assert client.get(f"/api/templates/{name}/picture.svg").status_code == 404
        assert client.get(f"/api/templates/{name}/sample").status_code == 404


def test_typefaces_have_names(client: TestClient) -> None:
    """All typefaces that can be called by name, sorted, each once."""
    names = [font["name"] for font in client.get("/api/fonts").json()]
    assert "Lobster" in names
    assert names == sorted(set(names), key=str.casefold)

"""The workshop file over the interface."""

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.template.builtin_workshop import BUILTIN_TOML

Json = Any
JSON = {"Content-Type": "application/json"}


@pytest.fixture
def path(desk: Desk) -> Path:
    """The workshop file, which is not there yet."""
    desk.workshop_file().unlink(missing_ok=True)
    return desk.workshop_file()


def form(client: TestClient) -> Json:
    """What the page sends when nothing was changed."""
    shop = client.get("/api/workshop").json()
    return {
        "digest": shop["digest"],
        "printer": shop["printer"],
        "cutter": shop["cutter"],
        "materials": [{**one["values"], "name": one["name"]} for one in shop["materials"]],
    }


def test_a_form_is_filled_sent_back_and_kept(client: TestClient, path: Path) -> None:
    """The answer is the form as it now is; the file has the one line more."""
    sent = form(client)
    sent["printer"]["scale"] = [1.002, 1]
    answer = client.put("/api/workshop", json=sent)
    assert answer.status_code == 200, answer.text
    assert answer.json()["printer"]["scale"] == [1.002, 1]
    assert answer.json()["built_in"] is False
    assert "scale = [1.002, 1]" in path.read_text(encoding="utf-8")


def test_dockets_go_by_the_new_values(client: TestClient, path: Path) -> None:
    """One that lies open is planned anew: its cutter is no example any longer."""
    text = {"template": "key-fob", "text": "name\nMarlo\n"}
    number = client.post("/api/dockets", data=text).json()["number"]
    before = client.get(f"/api/dockets/{number}").json()["revision"]
    sent = form(client)
    sent["materials"] = [one for one in sent["materials"] if one["name"] != "plywood-3"]
    assert client.put("/api/workshop", json=sent).status_code == 200
    after = client.get(f"/api/dockets/{number}").json()
    assert after["revision"] > before
    assert "plywood-3" in after["problem"]["what"]
    path.unlink()


def test_what_cannot_be_is_told(client: TestClient, path: Path) -> None:
    """With its place, and nothing is written."""
    sent = form(client)
    sent["cutter"]["bed_mm"] = [600]
    answer = client.put("/api/workshop", json=sent)
    assert answer.status_code == 422
    assert "nothing was written" in answer.json()["what"]
    assert answer.json()["details"][0].startswith("Cutter, bed: needs 2 numbers")
    assert not path.exists()


def test_the_file_goes_down_and_up(client: TestClient, path: Path) -> None:
    """As it is, to the byte; another one takes its place, and what is none does not."""
    answer = client.get("/api/workshop/file")
    assert answer.content == BUILTIN_TOML.encode()
    assert answer.headers["content-disposition"] == 'attachment; filename="workshop.toml"'
    other = BUILTIN_TOML.replace("card-300", "card-280").encode()
    assert client.put("/api/workshop/file", files={"file": ("x.toml", other)}).status_code == 200
    assert path.read_bytes() == other
    refused = client.put("/api/workshop/file", files={"file": ("x.toml", b"[printer]\n")})
    assert refused.status_code == 422
    assert refused.json()["details"]
    assert client.put("/api/workshop/file", data={"title": "x"}).status_code == 422
    assert path.read_bytes() == other


def test_strange_tables_are_refused_in_words(client: TestClient, path: Path) -> None:
    """Lists in lists, tables for numbers, names that are none."""
    strange: Json
    for strange in ([[[]]], {"a": {"b": []}}, None, True, "\ud83e", 10**400):
        sent = form(client)
        sent["printer"]["margins_mm"] = strange
        sent["materials"][0]["name"] = strange
        content = json.dumps(sent).encode("ascii")
        answer = client.put("/api/workshop", content=content, headers=JSON)
        assert answer.status_code in (400, 422), strange
    assert not path.exists()

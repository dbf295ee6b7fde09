"""Dockets over the interface."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.web.conftest import NewDocket

SHOWN = {
    "number",
    "title",
    "created",
    "changed",
    "state",
    "revision",
    "template",
    "list_name",
    "settings",
    "counts",
    "can_undo",
    "can_redo",
    "undo_told",
    "redo_told",
    "jobs",
    "problem",
    "findings",
    "notes",
    "next",
    "latest_job",
}
PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)


def test_docket_of_a_file(client: TestClient, crew_file: Path) -> None:
    """A list file and a template make a docket that says all that the stub shows."""
    with crew_file.open("rb") as file:
        answer = client.post(
            "/api/dockets", data={"template": "key-fob", "title": "Crew"}, files={"file": file}
        )
    assert answer.status_code == 200, answer.text
    docket = answer.json()
    assert set(docket) == SHOWN
    assert docket["title"] == "Crew"
    assert docket["list_name"] == "crew.csv"
    assert docket["template"]["name"] == "key-fob"
    counts = docket["counts"]
    assert counts["lines"] == 4
    assert counts["lines"] == counts["made"] + counts["held"] + counts["waiting"]
    assert client.get(f"/api/dockets/{docket['number']}").json()["title"] == "Crew"


def test_docket_of_the_sample_list(client: TestClient) -> None:
    """One click tries a template with its example list."""
    answer = client.post("/api/dockets", data={"template": "key-fob", "sample": "1"})
    docket = answer.json()
    sample = client.get("/api/templates/key-fob/sample").json()
    assert docket["list_name"] == sample["name"]
    assert docket["counts"]["lines"] > 5
    assert docket["title"]


def test_docket_without_a_list_says_what_is_next(client: TestClient) -> None:
    """A docket may be begun before the list is there."""
    docket = client.post("/api/dockets", data={"template": "key-fob"}).json()
    assert docket["list_name"] == ""
    assert docket["counts"] is None
    assert docket["next"]["part"] == "list"


def test_newest_change_hangs_first(client: TestClient, new_docket: NewDocket) -> None:
    """All dockets, the one that was changed last first."""
    first, second = new_docket()["number"], new_docket()["number"]
    numbers = [docket["number"] for docket in client.get("/api/dockets").json()]
    assert numbers.index(second) < numbers.index(first)
    client.patch(f"/api/dockets/{first}", json={"title": "Crew again"})
    assert client.get("/api/dockets").json()[0]["title"] == "Crew again"


def test_copy_has_the_same_list(client: TestClient, new_docket: NewDocket) -> None:
    """A copy is a docket of its own with another number."""
    number = new_docket()["number"]
    copy = client.post(f"/api/dockets/{number}/copy", json={"title": "Next year"}).json()
    assert copy["title"] == "Next year"
    assert copy["number"] != number
    assert copy["counts"]["lines"] == 4
    unnamed = client.post(f"/api/dockets/{number}/copy")
    assert unnamed.status_code == 200
    assert unnamed.json()["title"]


def test_deleted_docket_is_gone(client: TestClient, new_docket: NewDocket) -> None:
    """After a deletion nothing answers under its number, neither data nor page."""
    number = new_docket()["number"]
    assert client.delete(f"/api/dockets/{number}").json() == {"complete": True, "left": []}
    for path in ("", "/list", "/rows", "/rows/2", "/rows/2/picture.svg", "/history"):
        answer = client.get(f"/api/dockets/{number}{path}")
        assert answer.status_code == 404, path
        assert "There is no docket" in answer.json()["what"]
    page = client.get(f"/dockets/{number}", headers={"Accept": "text/html"})
    assert page.status_code == 404
    assert "There is no docket" in page.text
    assert client.delete(f"/api/dockets/{number}").status_code == 404


def test_steps_are_taken_back_and_again(client: TestClient, new_docket: NewDocket) -> None:
    """A change, undone and done again, with what it was."""
    number = new_docket()["number"]
    client.patch(f"/api/dockets/{number}/settings", json={"gap_mm": 4.0})
    undone = client.post(f"/api/dockets/{number}/undo").json()
    assert undone["told"]
    docket = client.get(f"/api/dockets/{number}").json()
    assert "gap_mm" not in docket["settings"]
    assert docket["can_redo"]
    assert docket["redo_told"] == undone["told"]
    assert client.post(f"/api/dockets/{number}/redo").json()["told"] == undone["told"]
    assert client.get(f"/api/dockets/{number}").json()["settings"]["gap_mm"] == 4.0
    steps = client.get(f"/api/dockets/{number}/history").json()
    assert steps[-1]["told"] == undone["told"]
    assert steps[-1]["done"]
    assert client.post(f"/api/dockets/{number}/redo").json()["told"] is None


@pytest.mark.parametrize(
    ("form", "file", "told"),
    [
        ({}, None, "No template was chosen"),
        ({"template": "sea-horse"}, None, "There is no template"),
        ({"template": "../key-fob"}, None, "There is no template"),
        ({"template": "/etc"}, None, "There is no template"),
        ({"template": "key-fob"}, ("crew.png", PNG), "is a PNG picture"),
        ({"template": "key-fob"}, ("crew.pdf", b"%PDF-1.7"), "is a PDF document"),
        ({"template": "key-fob", "text": "Ada"}, ("crew.csv", b"name\nAda\n"), "and text, too"),
    ],
)
def test_docket_that_cannot_be_made(
    client: TestClient, form: dict[str, str], file: tuple[str, bytes] | None, told: str
) -> None:
    """What is missing or of the wrong kind is told, and no docket hangs there afterwards."""
    before = len(client.get("/api/dockets").json())
    files = None if file is None else {"file": file}
    answer = client.post("/api/dockets", data={"title": "T", **form}, files=files)
    assert answer.status_code in (404, 422)
    assert told in answer.json()["what"]
    assert len(client.get("/api/dockets").json()) == before


def test_title_is_shown_and_never_read_as_markup(client: TestClient, new_docket: NewDocket) -> None:
    """A title full of markup comes back as it is, and escaped on the page."""
    title = '<img src=x onerror="alert(1)">'
    docket = new_docket(title=title)
    assert docket["title"] == title
    page = client.get(f"/dockets/{docket['number']}").text
    assert title not in page
    assert "&lt;img src=x" in page


def test_empty_title_is_refused(client: TestClient, new_docket: NewDocket) -> None:
    """A docket keeps its title rather than losing it."""
    number = new_docket()["number"]
    answer = client.patch(f"/api/dockets/{number}", json={"title": " "})
    assert answer.status_code == 422
    assert "no title" in answer.json()["what"]

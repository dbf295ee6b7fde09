"""Rows over the interface: the wall, one piece, its picture, changes by hand, approvals."""

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.mends.file import read_mends
from namebatch.store import history
from tests.web.conftest import NewDocket

ROW = {
    "line",
    "place",
    "text",
    "fields",
    "quantity",
    "order",
    "state",
    "severity",
    "codes",
    "message",
    "looks",
    "approved",
    "mended",
    "held_by_hand",
    "picture",
    "size_mm",
}
DETAIL = ROW | {
    "revision",
    "values",
    "read",
    "findings",
    "texts",
    "measures",
    "mend",
    "alike",
    "previous",
    "next_line",
}


def test_wall_has_every_row(client: TestClient, new_docket: NewDocket) -> None:
    """All rows in the order of the list; some of them by their lines."""
    number = new_docket()["number"]
    wall = client.get(f"/api/dockets/{number}/rows").json()
    assert [row["line"] for row in wall["rows"]] == [2, 3, 4, 5]
    assert set(wall["rows"][0]) == ROW
    some = client.get(f"/api/dockets/{number}/rows", params={"lines": "5,3"}).json()
    assert [row["line"] for row in some["rows"]] == [3, 5]


@pytest.mark.parametrize("lines", ["", "a", "1,", "1;2", "-1", "1" * 20])
def test_lines_that_are_none_are_refused(
    client: TestClient, new_docket: NewDocket, lines: str
) -> None:
    """Lines are numbers with commas between them."""
    number = new_docket()["number"]
    answer = client.get(f"/api/dockets/{number}/rows", params={"lines": lines})
    assert answer.status_code == 422
    assert "numbers with commas between, as in 1,2,3" in answer.json()["what"]


def test_row_opened_large(client: TestClient, new_docket: NewDocket) -> None:
    """One row with its texts, measures and neighbours; it waits until the piece is made."""
    number = new_docket()["number"]
    row = client.get(f"/api/dockets/{number}/rows/3").json()
    assert set(row) == DETAIL
    assert row["state"] == "made"
    assert row["values"] == {"name": "Zoë Marram"}
    assert (row["previous"], row["next_line"]) == (2, 4)
    assert row["measures"]["narrowest_mm"] >= row["measures"]["required_mm"] - 0.001
    assert row["texts"][0]["text"].replace("\n", " ") == "Zoë Marram"


def test_picture_of_the_asked_digest_is_kept_for_ever(
    client: TestClient, new_docket: NewDocket
) -> None:
    """A picture is SVG; under its own digest the browser need never ask again."""
    number = new_docket()["number"]
    address = f"/api/dockets/{number}/rows/2/picture.svg"
    first = client.get(address)
    assert first.headers["content-type"] == "image/svg+xml"
    assert first.headers["cache-control"] == "no-store"
    assert ET.fromstring(first.content).tag.endswith("svg")
    digest = client.get(f"/api/dockets/{number}/rows/2").json()["picture"]
    kept = client.get(address, params={"digest": digest})
    assert "immutable" in kept.headers["cache-control"]
    assert kept.content == first.content
    large = client.get(address, params={"digest": digest, "large": "1"})
    assert ET.fromstring(large.content).tag.endswith("svg")
    stale = client.get(address, params={"digest": "another"})
    assert stale.headers["cache-control"] == "no-store"


def test_name_full_of_markup_is_text_in_the_picture(
    client: TestClient, new_docket: NewDocket
) -> None:
    """A name can bring neither elements nor scripts into the picture of its piece."""
    number = new_docket(text='name\n<script>alert("x")</script>\n')["number"]
    row = client.get(f"/api/dockets/{number}/rows/2").json()
    assert row["fields"]["name"] == '<script>alert("x")</script>'
    if row["state"] == "made":
        picture = client.get(f"/api/dockets/{number}/rows/2/picture.svg")
        tags = {element.tag.split("}")[1] for element in ET.fromstring(picture.content).iter()}
        assert "script" not in tags


def test_trial_keeps_nothing(client: TestClient, new_docket: NewDocket) -> None:
    """A change can be looked at first: its row and its picture, and the docket stays as it is."""
    number = new_docket()["number"]
    before = client.get(f"/api/dockets/{number}").json()
    mend = {"mend": {"fields": {"name": "Zoë M."}}}
    tried = client.post(f"/api/dockets/{number}/rows/3/try", json=mend).json()
    assert set(tried) == DETAIL | {"picture_svg"}
    assert tried["fields"]["name"] == "Zoë M."
    assert ET.fromstring(tried["picture_svg"]).tag.endswith("svg")
    assert client.get(f"/api/dockets/{number}/rows/3").json()["fields"]["name"] == "Zoë Marram"
    after = client.get(f"/api/dockets/{number}").json()
    assert (after["revision"], after["can_undo"]) == (before["revision"], before["can_undo"])


def test_change_by_hand_is_kept_and_taken_away(client: TestClient, new_docket: NewDocket) -> None:
    """A change makes another picture; null gives the piece of the list back."""
    number = new_docket()["number"]
    before = client.get(f"/api/dockets/{number}/rows/3").json()
    address = f"/api/dockets/{number}/rows/3/mend"
    mend = {"fields": {"name": "Zoë M."}, "quantity": 3}
    changed = client.put(address, json={"mend": mend}).json()
    assert changed["mended"]
    assert changed["mend"]["fields"] == {"name": "Zoë M."}
    assert changed["quantity"] == 3
    assert changed["picture"] != before["picture"]
    assert changed["revision"] > before["revision"]
    back = client.put(address, json={"mend": None}).json()
    assert back["picture"] == before["picture"]
    assert not back["mended"]


@pytest.mark.parametrize(
    "mend",
    [
        {"quantity": 0},
        {"quantity": 1.5},
        {"bridge_mm": -1},
        {"font": "No Such Face"},
        {"fields": {"no-field": "x"}},
        {"text": {"no-box": {"height_mm": 5}}},
        {"text": {"name": {"height_mm": 5, "most_mm": 6}}},
        {"text": {"name": {"lines": ["one"]}}},
        {"colour": "red"},
    ],
)
def test_change_that_does_not_fit_is_refused(
    client: TestClient, new_docket: NewDocket, mend: dict[str, object]
) -> None:
    """What fits neither list nor template nor material is told, and nothing is changed."""
    number = new_docket()["number"]
    answer = client.put(f"/api/dockets/{number}/rows/2/mend", json={"mend": mend})
    assert answer.status_code == 422
    assert answer.json()["what"]
    assert not client.get(f"/api/dockets/{number}/rows/2").json()["mended"]


def test_piece_held_by_hand_is_seen(client: TestClient, new_docket: NewDocket) -> None:
    """A piece held by hand is counted as held and drawn as it would be made."""
    number = new_docket()["number"]
    held = client.put(f"/api/dockets/{number}/rows/2/mend", json={"mend": {"held": "ask Inka"}})
    assert held.json()["held_by_hand"]
    assert held.json()["picture"]
    assert client.get(f"/api/dockets/{number}/rows/2/picture.svg").status_code == 200
    assert client.get(f"/api/dockets/{number}").json()["counts"]["held"] == 1


def test_approval_is_of_what_was_seen(client: TestClient, new_docket: NewDocket) -> None:
    """Approved is a piece as it was seen; another piece on the same line no longer is."""
    number = new_docket()["number"]
    row = client.get(f"/api/dockets/{number}/rows/2").json()
    address = f"/api/dockets/{number}/approvals"
    counted = client.put(address, json={"lines": {"2": row["picture"]}}).json()
    assert counted["counts"]["approved"] == 1
    client.put(
        f"/api/dockets/{number}/rows/2/mend", json={"mend": {"fields": {"name": "Marlo T."}}}
    )
    assert client.get(f"/api/dockets/{number}/rows/2").json()["approved"] == "stale"
    counted = client.put(address, json={"lines": {"2": None}}).json()
    assert counted["counts"]["approved"] == 0
    assert client.get(f"/api/dockets/{number}/rows/2").json()["approved"] == "no"


def test_change_goes_to_rows_alike(client: TestClient, new_docket: NewDocket) -> None:
    """The typeface of one row is given to all of its group, in one step."""
    text = "name\tteam\nMarlo\tTerns\nZoë\tTerns\nInka\tGulls\n"
    number = new_docket(text=text, template="kite-tag")["number"]
    detail = client.get(f"/api/dockets/{number}/rows/2").json()
    group = next(one for one in detail["alike"] if one["count"] == 1)
    client.put(f"/api/dockets/{number}/rows/2/mend", json={"mend": {"font": "Lobster"}})
    like = {"line": 2, "group": group["key"], "keys": ["font"]}
    liked = client.post(f"/api/dockets/{number}/like", json=like).json()
    assert liked["changed"] == [3]
    assert client.get(f"/api/dockets/{number}/rows/3").json()["mend"] == {"font": "Lobster"}
    client.post(f"/api/dockets/{number}/undo")
    assert client.get(f"/api/dockets/{number}/rows/3").json()["mend"] is None


def test_group_that_is_none_is_refused(client: TestClient, new_docket: NewDocket) -> None:
    """A change goes to nobody where the group is not one of the row's."""
    number = new_docket()["number"]
    like = {"line": 2, "group": "nobody", "keys": ["font"]}
    answer = client.post(f"/api/dockets/{number}/like", json=like)
    assert answer.status_code in (404, 422)
    assert answer.json()["what"]


@pytest.mark.parametrize("line", [1, 6, 999, 2**31 - 1])
def test_line_that_is_not_there(client: TestClient, new_docket: NewDocket, line: int) -> None:
    """Lines that carry no row are not there, whatever is asked of them."""
    number = new_docket()["number"]
    row = f"/api/dockets/{number}/rows/{line}"
    assert client.get(row).status_code == 404
    assert client.get(f"{row}/picture.svg").status_code == 404
    assert client.put(f"{row}/mend", json={"mend": {"quantity": 2}}).status_code == 404
    assert client.post(f"{row}/try", json={"mend": None}).status_code == 404


def test_changes_by_hand_are_a_file_for_the_command_line(
    client: TestClient, desk: Desk, new_docket: NewDocket, tmp_path: Path
) -> None:
    """What is fetched is what ``--mends`` takes, to the letter."""
    number = new_docket()["number"]
    address = f"/api/dockets/{number}/mends.json"
    file = tmp_path / "mends.json"
    file.write_bytes(client.get(address).content)
    assert read_mends(file) == {}
    mend = {"mend": {"fields": {"name": "Marla Teasel"}, "quantity": 3}}
    assert client.put(f"/api/dockets/{number}/rows/2/mend", json=mend).status_code == 200
    answer = client.get(address)
    assert "attachment" in answer.headers["content-disposition"]
    file.write_bytes(answer.content)
    assert read_mends(file) == history.choices(desk.store, number).mends
    assert read_mends(file)[2].quantity == 3
    assert client.get("/api/dockets/999999/mends.json").status_code == 404

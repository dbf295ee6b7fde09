"""Making over the interface: begin, hear, fetch, mark what is spoiled, move cut lines."""

import asyncio
import json
import zipfile
from collections.abc import AsyncIterator, Callable
from io import BytesIO
from threading import Condition
from typing import Any

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.desk.model import Event
from namebatch.web.api.events import events
from namebatch.web.ending import Ending
from tests.web.conftest import NewDocket

MOST_SECONDS = 300.0
Json = Any


@pytest.fixture(scope="module")
def made(client: TestClient, desk: Desk) -> int:
    """The number of a docket whose job was made."""
    form = {"template": "place-card", "title": "Cards", "text": "name\nMarlo Teasel\nZoë Marram\n"}
    number = int(client.post("/api/dockets", data=form).json()["number"])
    heard: list[Json] = []
    there = Condition()

    def hear(event: Event) -> None:
        with there:
            heard.append(event.data)
            there.notify_all()

    leave = desk.hub.listen(number, hear)
    answer = client.post(f"/api/dockets/{number}/make", json={})
    assert answer.json()["state"] == "running"
    with there:
        there.wait_for(lambda: any(each.get("job") for each in heard), MOST_SECONDS)
    leave()
    assert client.get(f"/api/dockets/{number}/make").json()["job"] == 1
    return number


def test_files_are_fetched_under_names_that_tell_them_apart(client: TestClient, made: int) -> None:
    """Each file of the list comes whole, as a download named after docket and job."""
    (job,) = client.get(f"/api/dockets/{made}/jobs").json()
    for file in job["files"]:
        answer = client.get(f"/api/dockets/{made}/jobs/1/files/{file['path']}")
        assert answer.status_code == 200
        assert len(answer.content) == file["bytes"]
        name = f"{made:04d}-1-{file['path'].rpartition('/')[2]}"
        assert answer.headers["content-disposition"] == f"attachment; filename*=UTF-8''{name}"
    answer = client.get(f"/api/dockets/{made}/jobs/1/all.zip")
    with zipfile.ZipFile(BytesIO(answer.content)) as archive:
        assert len(archive.namelist()) == len(job["files"]) + 2  # two pictures of pieces


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("jobs/1/files/..%2F..%2F..%2Fnamebatch.sqlite3", 404),
        ("jobs/1/files/%2Fetc%2Fhosts", 404),
        ("jobs/2/files/print.pdf", 404),
        ("jobs/1/sheets/face-009", 404),
        ("jobs/1/sheets/..", 404),
        ("jobs/0/all.zip", 404),
    ],
)
def test_what_is_not_there(client: TestClient, made: int, path: str, status: int) -> None:
    """Paths that lead elsewhere, other jobs and sheets: words, and no file."""
    answer = client.get(f"/api/dockets/{made}/{path}")
    assert answer.status_code == status
    assert answer.json()["what"]


def test_spoiled_pieces_are_said_and_taken_back(client: TestClient, made: int) -> None:
    """The whole list of them is put each time; a piece that is not there is refused."""
    where = f"/api/dockets/{made}/jobs/1/spoiled"
    assert client.put(where, json={"pieces": ["L2-1"]}).json()["spoiled"] == ["L2-1"]
    assert client.put(where, json={"pieces": ["L77-1"]}).status_code == 404
    assert client.get(f"/api/dockets/{made}/jobs").json()[0]["spoiled"] == ["L2-1"]
    assert client.put(where, json={"pieces": []}).json()["spoiled"] == []
    assert client.post(f"/api/dockets/{made}/jobs/1/remake", json={}).status_code == 422


def test_marks_move_cut_lines(client: TestClient, made: int) -> None:
    """Corners as the cutter finds them give files; figures that are none are refused."""
    sheet = client.get(f"/api/dockets/{made}/jobs/1/sheets/face-001").json()
    where = f"/api/dockets/{made}/jobs/1/sheets/face-001/align"
    marks = [
        {"mark": each["name"], "x_mm": each["x_mm"] + 20, "y_mm": each["y_mm"] + 5}
        for each in sheet["marks"]
    ]
    found = client.post(where, json={"marks": marks}).json()
    assert found["worst_mm"] == pytest.approx(0, abs=0.001)
    assert client.get(f"/api/dockets/{made}/jobs/1/files/{found['files'][0]}").status_code == 200
    assert client.post(where, json={"marks": []}).status_code == 422
    broken = '{"marks": [{"mark": "top-left", "x_mm": NaN, "y_mm": 1}]}'
    headers = {"Content-Type": "application/json"}
    assert client.post(where, content=broken, headers=headers).status_code == 422
    ruled = client.post(where, json={"frame": {"width_mm": 199.4, "height_mm": 284.2}})
    assert ruled.status_code == 200


def test_stopping_what_does_not_go_changes_nothing(client: TestClient, made: int) -> None:
    """A job that is done stays done, whoever says stop or enough."""
    before = client.get(f"/api/dockets/{made}/make").json()
    assert client.delete(f"/api/dockets/{made}/make").json() == before
    assert client.post(f"/api/dockets/{made}/make/enough").json() == before


def test_a_docket_without_a_list_cannot_be_made(client: TestClient) -> None:
    """It says what is lacking."""
    form = {"template": "key-fob", "title": "Empty"}
    number = client.post("/api/dockets", files={key: (None, form[key]) for key in form}).json()[
        "number"
    ]
    answer = client.post(f"/api/dockets/{number}/make", json={})
    assert answer.status_code == 422
    assert "no list yet" in answer.json()["what"]
    assert client.get(f"/api/dockets/{number}/layout").status_code == 422


def test_an_answer_that_nobody_may_ask_for(client: TestClient) -> None:
    """Events of a docket that is not there are refused before a line is opened."""
    assert client.get("/api/dockets/9999/events").status_code == 404


def test_events_begin_with_how_the_make_stands(app: FastAPI, new_docket: NewDocket) -> None:
    """A page hears first how the make stands, then what happens, and the end of the server."""
    number = int(new_docket()["number"])
    desk: Desk = app.state.desk
    ending = Ending()
    told = asyncio.run(_hear(desk, number, ending))
    assert told[0].startswith("retry: ")
    kind, data = told[1].strip().split("\n")
    assert kind == "event: make"
    assert json.loads(data.removeprefix("data: "))["state"] == "idle"
    # the docket's first pieces may be drawn in between, and that is told too
    others = [each for each in told[2:] if not each.startswith("event: pieces")]
    assert others == ['event: changed\ndata: {"revision": 7, "lines": [2]}\n\n']
    assert not desk.hub.watched(number)


async def _hear(desk: Desk, number: int, ending: Ending) -> list[str]:
    """Everything that a line says: something happens, then the server ends."""
    answer = await events(number, desk, ending)
    lines: AsyncIterator[str] = answer.body_iterator  # type: ignore[assignment]
    told = [await anext(lines), await anext(lines)]
    happen: list[Callable[[], None]] = [
        lambda: desk.hub.tell(number, Event("changed", {"revision": 7, "lines": [2]})),
        ending.begin,
    ]
    for each in happen:
        await asyncio.to_thread(each)
    return told + [text async for text in lines]


def test_no_sheet_is_shown_of_what_is_not_being_made(client: TestClient, made: int) -> None:
    """Sheets of a job that is done are the job's; nor is there any at a place that cannot be."""
    answer = client.get(f"/api/dockets/{made}/make/sheets/1")
    assert answer.status_code == 404
    assert "its job is done" in answer.json()["what"]
    assert client.get(f"/api/dockets/{made}/make/sheets/0").status_code == 404

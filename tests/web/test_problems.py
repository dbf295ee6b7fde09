"""How problems are told."""

import asyncio
import logging
from typing import Annotated

import pytest
from fastapi import FastAPI, Path
from pydantic import BaseModel, ConfigDict, Field
from starlette.testclient import TestClient
from starlette.types import Message

from namebatch.errors import DeskError, NotThereError
from namebatch.web.depends import TheUpload
from namebatch.web.guard import Door
from namebatch.web.problems import NotHere, Unexpected, add_problems


class Order(BaseModel):
    model_config = ConfigDict(extra="forbid")

    pieces: Annotated[int, Field(ge=1, le=9)]


@pytest.fixture
def client() -> TestClient:
    """An application that has every kind of problem."""
    app = FastAPI()
    app.state.door = Door(80, "the-token")
    add_problems(app)

    @app.get("/{address:path}/impossible")
    def impossible(address: str) -> None:
        raise DeskError('No sheet for "<b>Zoë</b>".', ["Line 2: too wide.", "Line 3: too high."])

    @app.get("/not-there")
    def not_there() -> None:
        raise NotThereError("There is no docket 0007.")

    @app.get("/not-here")
    def not_here() -> None:
        raise NotHere("There is no such file.")

    @app.get("/fault")
    def fault() -> None:
        raise ZeroDivisionError("a secret of ours")

    @app.get("/lines/{line}")
    def line(line: Annotated[int, Path(ge=1)]) -> None:
        pass

    @app.put("/lines/{number}")
    def another(number: int) -> None:
        pass

    @app.post("/orders")
    def order(sent: Order) -> None:
        pass

    app.add_middleware(Unexpected)
    return TestClient(app)


def test_impossible_job_is_told_with_its_details(client: TestClient) -> None:
    """An error for people comes as its sentence and its lines, status 422."""
    answer = client.get("/api/impossible")
    assert answer.status_code == 422
    assert answer.json() == {
        "what": 'No sheet for "<b>Zoë</b>".',
        "details": ["Line 2: too wide.", "Line 3: too high."],
    }


@pytest.mark.parametrize(
    ("path", "what"),
    [
        ("/not-there", "There is no docket 0007."),
        ("/not-here", "There is no such file."),
        ("/nowhere", "There is nothing at this address"),
        ("/lines/0", "There is nothing at this address"),
        ("/lines/first", "There is nothing at this address"),
    ],
)
def test_what_is_not_there_is_404(client: TestClient, path: str, what: str) -> None:
    """Dockets, files, addresses and numbers that there are none of."""
    answer = client.get(path)
    assert answer.status_code == 404
    assert what in answer.json()["what"]


def test_all_methods_of_an_address_are_named(client: TestClient) -> None:
    """A method that an address does not have is answered with those that it has (RFC 9110)."""
    answer = client.delete("/lines/3")
    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET, PUT"


def test_whoever_opens_a_page_reads_a_page(client: TestClient) -> None:
    """A browser that opens an address gets a page, with the texts escaped; a module gets JSON."""
    opens = {"Accept": "text/html,application/xhtml+xml"}
    answer = client.get("/dockets/impossible", headers=opens)
    assert answer.status_code == 422
    assert answer.headers["content-type"].startswith("text/html")
    assert "&lt;b&gt;Zoë&lt;/b&gt;" in answer.text
    assert "Line 3: too high." in answer.text
    assert client.get("/api/impossible", headers=opens).json()["details"]


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"pieces": 0}, "pieces: must be at least 1, not 0."),
        ({"pieces": "many"}, 'pieces: needs a whole number, not "many".'),
        ({}, "pieces: is missing; this entry is needed."),
        ({"pieces": 1, "colour": "red"}, "colour: there is no such key here; leave it out."),
    ],
)
def test_what_does_not_fit_is_told_by_name(
    client: TestClient, sent: dict[str, object], told: str
) -> None:
    """Each value that does not fit is named, with what would."""
    answer = client.post("/orders", json=sent)
    assert answer.status_code == 422
    assert answer.json()["details"] == [told]


def test_fault_of_ours_tells_nothing_of_its_inside(
    client: TestClient, caplog: pytest.LogCaptureFixture
) -> None:
    """The page hears that it was our fault; what it was stands in the log alone."""
    with caplog.at_level(logging.ERROR):
        answer = client.get("/fault")
    assert answer.status_code == 500
    assert "fault of its own" in answer.json()["what"]
    assert "secret" not in answer.text
    assert "a secret of ours" in caplog.text


@pytest.mark.parametrize("kind", [b"application/json", b"multipart/form-data; boundary=tide"])
def test_request_that_was_called_off_is_no_fault(
    kind: bytes, caplog: pytest.LogCaptureFixture
) -> None:
    """A page that goes away in the middle of what it sends leaves nothing in the log."""
    app = FastAPI()
    app.state.door = Door(80, "the-token")
    add_problems(app)

    @app.post("/orders")
    def order(sent: Order) -> None:
        pass

    @app.post("/upload")
    def upload(sent: TheUpload) -> None:
        pass

    scope = {
        "type": "http",
        "method": "POST",
        "path": "/orders" if kind == b"application/json" else "/upload",
        "query_string": b"",
        "headers": [(b"content-type", kind), (b"content-length", b"99")],
    }
    begun: Message = {"type": "http.request", "body": b"--tide", "more_body": True}
    come = [begun, {"type": "http.disconnect"}]
    answered: list[int] = []

    async def receive() -> Message:
        return come.pop(0)

    async def send(message: Message) -> None:
        answered.append(message.get("status", 0))

    app.add_middleware(Unexpected)
    asyncio.run(app(scope, receive, send))
    assert not come
    assert 500 not in answered
    assert not caplog.records

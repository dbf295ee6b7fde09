"""A page over a desk with a store of its own."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.store import open_store
from namebatch.web.app import make_app
from namebatch.web.guard import TOKEN_HEADER, Door

DOOR = Door(8417, "the-token")
CREW = "name\nMarlo Teasel\nZoë Marram\nInka Samphire\nOdile Quill\n"

Json = Any
NewDocket = Callable[..., Json]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk with one worker, for the tests of a file: starting it takes a while."""
    store = open_store(tmp_path_factory.mktemp("desk") / "data")
    with Desk(store, workers=1) as opened:
        yield opened
    store.close()


@pytest.fixture(scope="module")
def app(desk: Desk) -> FastAPI:
    """The application over it."""
    return make_app(desk, DOOR)


@pytest.fixture(scope="module")
def client(app: FastAPI) -> Iterator[TestClient]:
    """A browser that has opened the page."""
    headers = {TOKEN_HEADER: DOOR.token, "Origin": "http://127.0.0.1:8417"}
    with TestClient(app, base_url="http://127.0.0.1:8417", headers=headers) as opened:
        yield opened


@pytest.fixture
def new_docket(client: TestClient) -> NewDocket:
    """Make a docket of a pasted list and give it as the page gets it."""

    def make(text: str = CREW, template: str = "key-fob", title: str = "Crew") -> Json:
        form = {"template": template, "title": title, "text": text}
        answer = client.post("/api/dockets", data=form)
        assert answer.status_code == 200, answer.text
        return answer.json()

    return make


@pytest.fixture
def crew_file(tmp_path: Path) -> Path:
    """The list as a file."""
    path = tmp_path / "crew.csv"
    path.write_text(CREW, encoding="utf-8")
    return path

"""How much may be sent."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from namebatch.web import limits
from namebatch.web.depends import TheUpload
from namebatch.web.guard import Door
from namebatch.web.limits import BodyLimit, bare_name
from namebatch.web.problems import add_problems

FORM = "multipart/form-data; boundary=tide"


@pytest.fixture
def client(monkeypatch: pytest.MonkeyPatch) -> TestClient:
    """An application that tells what it was sent; small limits, so that they are soon reached."""
    monkeypatch.setattr(limits, "FORM_BYTES", 2000)
    monkeypatch.setattr(limits, "PLAIN_BYTES", 500)
    app = FastAPI()
    app.state.door = Door(80, "")
    add_problems(app)

    @app.post("/upload")
    def upload(sent: TheUpload) -> dict[str, object]:
        data = None if sent.data is None else sent.data.decode()
        return {"fields": dict(sent.fields), "name": sent.file_name, "data": data}

    @app.post("/plain")
    def plain(sent: dict[str, str]) -> int:
        return len(sent)

    app.add_middleware(BodyLimit)
    return TestClient(app)


def test_form_comes_whole(client: TestClient) -> None:
    """Fields and one file arrive as they were sent, the file's name without its folder."""
    answer = client.post(
        "/upload", data={"title": "Zoë"}, files={"file": ("C:\\lists\\crew.csv", b"name\nAda\n")}
    )
    assert answer.json() == {"fields": {"title": "Zoë"}, "name": "crew.csv", "data": "name\nAda\n"}


def test_long_pasted_text_is_taken(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    """A field may be as long as a list, far longer than the framework's own limit of 1 MiB."""
    monkeypatch.setattr(limits, "FORM_BYTES", 4 * limits.MIB)
    text = "name\n" + "Marlo Teasel\n" * 150_000
    answer = client.post("/upload", files={"text": (None, text)})
    assert answer.json()["fields"]["text"] == text


@pytest.mark.parametrize(
    ("path", "kind", "most"), [("/upload", FORM, 2000), ("/plain", "application/json", 500)]
)
def test_larger_body_is_refused_as_declared_and_as_counted(
    client: TestClient, path: str, kind: str, most: int
) -> None:
    """Too much is refused by what the header says, and by what comes if it says nothing."""
    headers = {"content-type": kind}
    assert client.post(path, content=b"x" * (most + 1), headers=headers).status_code == 413

    def bit_by_bit() -> Iterator[bytes]:
        yield from [b"x" * 100] * (most // 100 + 1)

    answer = client.post(path, content=bit_by_bit(), headers=headers)
    assert answer.status_code == 413
    assert "larger than" in answer.json()["what"]


def test_body_of_the_most_is_read(client: TestClient) -> None:
    """The limit itself may be sent."""
    body = b'{"a": "' + b"x" * (500 - 9) + b'"}'
    assert len(body) == 500
    answer = client.post("/plain", content=body, headers={"content-type": "application/json"})
    assert answer.json() == 1


def test_one_file_at_a_time(client: TestClient) -> None:
    """Two files in one form are refused with what to do."""
    answer = client.post("/upload", files=[("a", ("a.csv", b"x")), ("b", ("b.csv", b"y"))])
    assert answer.status_code == 422
    assert "one file at a time" in answer.json()["what"]


def test_many_fields_are_refused(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    """A form of dozens of fields is none of ours."""
    monkeypatch.setattr(limits, "FORM_BYTES", limits.MIB)
    answer = client.post("/upload", files=[(f"f{n}", (None, "x")) for n in range(40)])
    assert answer.status_code == 422


@pytest.mark.parametrize("body", [b"", b"--tide", b"--tide\r\n\r\n", b"\xff" * 50])
def test_broken_form_is_told(client: TestClient, body: bytes) -> None:
    """A form that stops in the middle is no fault of the server's."""
    answer = client.post("/upload", content=body, headers={"content-type": FORM})
    assert answer.status_code in (200, 422)
    assert answer.status_code == 422 or answer.json()["data"] is None


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ("crew.csv", "crew.csv"),
        ("../../etc/crew.csv", "crew.csv"),
        ("C:\\lists\\crew.csv", "crew.csv"),
        ("crew\x00\n\u202e.csv", "crew.csv"),
        ("/", ""),
        ("é" * 400, "é" * 255),
    ],
)
def test_name_of_a_file_loses_folders_and_unseen_signs(sent: str, kept: str) -> None:
    """What is kept of a file's name is for showing; nothing in it leads anywhere."""
    assert bare_name(sent) == kept

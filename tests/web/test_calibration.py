"""Test sheets and readings over the interface."""

from io import BytesIO
from zipfile import ZipFile

import pytest
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.template import load_workshop


@pytest.fixture(autouse=True)
def no_file(desk: Desk) -> None:
    """Each test begins without a workshop file."""
    desk.workshop_file().unlink(missing_ok=True)


def test_the_tests_can_be_had(client: TestClient) -> None:
    """Archives with the page and the form; the kerf test also with cut files."""
    assert client.get("/api/calibration").json()["print"]["lengths_mm"] == [170, 250]
    for path, names in (
        ("print", ["print-test.pdf", "print-test.csv"]),
        ("kerf/plywood-3", ["kerf-test.svg", "kerf-test.dxf", "kerf-test.pdf", "kerf-test.csv"]),
    ):
        answer = client.get(f"/api/calibration/{path}")
        assert answer.headers["content-type"] == "application/zip"
        with ZipFile(BytesIO(answer.content)) as archive:
            assert archive.namelist() == names


def test_readings_are_worked_out_and_stored(client: TestClient, desk: Desk) -> None:
    """What was found is told in sentences; the workshop file has it."""
    answer = client.post("/api/calibration/print", json={"x_mm": [170.34], "y_mm": [250]})
    assert answer.status_code == 200, answer.text
    assert answer.json()["told"][0].startswith("Printed lengths across are 100.20 %")
    sent = {"x_strips": [98, 98.1], "y_strips": [98.5], "x_slots": [10.2]}
    assert client.post("/api/calibration/kerf/plywood-3", json=sent).status_code == 200
    shop = load_workshop(desk.workshop_file())
    assert shop.printer.scale == (1.002, 1.0)
    assert shop.materials["plywood-3"].kerf_mm == (0.195, 0.15)


def test_what_cannot_be_is_told(client: TestClient, desk: Desk) -> None:
    """In the words of the bench, and nothing is stored."""
    for path, sent, told in (
        ("print", {"x_mm": [150], "y_mm": [250]}, "Was the page printed to fit?"),
        ("kerf/plywood-3", {"x_strips": [9.8], "y_strips": [98]}, "Were all the strips measured"),
        ("kerf/oak", {"x_strips": [98], "y_strips": [98]}, "has no material"),
    ):
        answer = client.post(f"/api/calibration/{path}", json=sent)
        assert answer.status_code == 422
        assert told in answer.json()["what"]
    assert not desk.workshop_file().exists()
    assert client.get("/api/calibration/kerf/oak").status_code == 422

"""The interface keeps to its own description, whatever is sent (schemathesis)."""

from typing import Any, Final, cast

import pytest
from fastapi import FastAPI
from hypothesis import HealthCheck, settings
from schemathesis.openapi import from_asgi
from schemathesis.specs.openapi.checks import negative_data_rejection, positive_data_acceptance
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.web.app import make_app
from namebatch.web.guard import TOKEN_HEADER
from tests.web.conftest import CREW, DOOR

HERE: Final = f"http://127.0.0.1:{DOOR.port}"
OURS: Final = {TOKEN_HEADER: DOOR.token}
ENDLESS: Final = r"/events$"
NOT_ON_A_REAL_ONE: Final = r"^/api/dockets/\{number\}$|/make|/remake"
"""Deleting it, and jobs, which are made in processes of their own."""
SOME: Final = settings(
    max_examples=10, deadline=None, suppress_health_check=list(HealthCheck), database=None
)

interface = from_asgi(
    "/api/openapi.json", make_app(cast(Desk, None), DOOR), headers={"Host": HERE[7:]}
).exclude(path_regex=ENDLESS)
of_dockets = interface.include(path_regex=r"\{number\}").exclude(path_regex=NOT_ON_A_REAL_ONE)


@pytest.fixture
def real(client: TestClient) -> int:
    """The number of a docket with a list, another one for each kind of request."""
    form = {"template": "kite-tag", "text": CREW}
    return int(client.post("/api/dockets", data=form).json()["number"])


def checked(case: Any, app: FastAPI, *but: Any) -> None:
    """Send a case as the page would, and hold the answer against the description.

    Args:
        case: to send.
        app: that answers.
        but: checks that do not hold for it.
    """
    # a request of the right form may still be one that no job can be made with
    excluded = [positive_data_acceptance, *but]
    case.call_and_validate(HERE, headers=OURS, app=app, excluded_checks=excluded)


@interface.parametrize()
@SOME
def test_answers_are_as_described(case: Any, app: FastAPI) -> None:
    """No fault, no status, type or shape that is not described, for good and bad requests."""
    checked(case, app)


@of_dockets.parametrize()
@SOME
def test_answers_of_a_real_docket_are_as_described(case: Any, app: FastAPI, real: int) -> None:
    """The same for what a docket with a list and pieces is asked."""
    parts: dict[str, Any] = case.path_parameters
    parts["number"] = real
    if str(parts.get("line", "")).isdecimal():
        parts["line"] = 2 + int(parts["line"]) % 4
    # what was wrong in the address has just been put right
    checked(case, app, negative_data_rejection)

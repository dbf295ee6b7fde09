"""Problems on their way out: as JSON to whoever asks the interface, as a page to who opens one."""

import logging
from collections.abc import Sequence
from http import HTTPStatus
from typing import Any, Final

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.responses import Response
from starlette.routing import Match
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from namebatch.errors import NamebatchError, NotThereError
from namebatch.template.problems import joined, sentence
from namebatch.web.problem import Problem, problem_response
from namebatch.web.rendering import page

log = logging.getLogger("namebatch.web")

METHODS = ("DELETE", "GET", "HEAD", "PATCH", "POST", "PUT")
NOTHING_HERE = "There is nothing at this address. Go back to the hook, where all dockets hang."
SAID: Final = {
    400: "What was sent cannot be read. Load the page again.",
    404: NOTHING_HERE,
    405: "This address cannot be used in that way. Load the page again.",
}
FRAMEWORK_SAYS: Final = ("There was an error parsing the body",)
FAULT = (
    "namebatch came upon a fault of its own. What was shown as saved is kept. Try again; if it "
    "comes back, please report it and say what was done before."
)
NOT_THIS_FORM = "What was sent does not have the form that is asked for here."

REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"model": Problem, "description": "Cannot be read at all."},
    403: {"model": Problem, "description": "Not asked by the page of this very server."},
    404: {"model": Problem, "description": "Not there."},
    413: {"model": Problem, "description": "Larger than is taken."},
    422: {"model": Problem, "description": "Cannot be done, and why."},
}
"""Of every router: problems that any of its addresses may tell."""


class NotHere(HTTPException):
    """Something that was asked for is not there.

    Args:
        what: for people.
    """

    def __init__(self, what: str) -> None:
        super().__init__(404, what)


def add_problems(app: FastAPI) -> None:
    """Let the application tell its problems in this form."""

    @app.exception_handler(NamebatchError)
    def _impossible(request: Request, error: NamebatchError) -> Response:
        status = 404 if isinstance(error, NotThereError) else 422
        return _told(request, status, error.what, error.problems)

    @app.exception_handler(HTTPException)
    def _refused(request: Request, error: HTTPException) -> Response:
        usual = {HTTPStatus(error.status_code).phrase, *FRAMEWORK_SAYS}
        what = SAID.get(error.status_code, error.detail) if error.detail in usual else error.detail
        response = _told(request, error.status_code, what)
        response.headers.update(error.headers or {})
        if error.status_code == 405:
            response.headers["Allow"] = ", ".join(_methods(request))
        return response

    @app.exception_handler(RequestValidationError)
    def _not_understood(request: Request, error: RequestValidationError) -> Response:
        if all(one["loc"][0] == "path" for one in error.errors()):
            return _told(request, 404, NOTHING_HERE)
        return _told(request, 422, NOT_THIS_FORM, [_where(one) for one in error.errors()])


def _told(request: Request, status: int, what: str, details: Sequence[str] = ()) -> Response:
    reads_pages = "text/html" in request.headers.get("accept", "")
    if not reads_pages or request.url.path.startswith("/api/"):
        return problem_response(status, what, details)
    door = request.app.state.door
    return page(door, "problem.html", "problem", status, what=what, details=details)


def _methods(request: Request) -> list[str]:
    """All methods of an address; the framework would name those of the first route alone."""
    asked = [(method, {**request.scope, "method": method}) for method in METHODS]
    routes = request.app.router.routes
    return [
        method
        for method, scope in asked
        if any(route.matches(scope)[0] is Match.FULL for route in routes)
    ]


def _where(error: dict[str, Any]) -> str:
    place = joined("", error["loc"][1:])
    return f"{place}: {sentence(error, BaseModel)}" if place else sentence(error, BaseModel)


class Unexpected:
    """Tells a fault of ours in the same form, and notes it for whoever runs the server.

    It stands within the safe headers; the framework's own catch-all stands outside of them.
    """

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer 500 unless an answer was begun already."""
        begun = False

        async def watched(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self._app(scope, receive, watched)
        except ClientDisconnect:
            return  # nobody is there to be told
        except Exception:
            log.exception("%s %s", scope.get("method", ""), scope.get("path", ""))
            if begun or scope["type"] != "http":
                raise
            await problem_response(500, FAULT)(scope, receive, send)

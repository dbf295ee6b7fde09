"""The application: guard, limits, problems, pages and the routers of the interface."""

from typing import Final

from fastapi import FastAPI

from namebatch import __version__
from namebatch.desk import Desk
from namebatch.web.api import (
    calibration,
    dockets,
    events,
    fonts,
    jobs,
    lists,
    make,
    ready,
    rows,
    templates,
    trials,
    workshop,
)
from namebatch.web.ending import Ending
from namebatch.web.guard import Door, Guard
from namebatch.web.headers import SafeHeaders
from namebatch.web.heads import Heads
from namebatch.web.limits import BodyLimit
from namebatch.web.problems import Unexpected, add_problems
from namebatch.web.serving import add_pages

SUBJECTS: Final = (
    ready,
    templates,
    fonts,
    dockets,
    lists,
    rows,
    make,
    jobs,
    events,
    workshop,
    calibration,
    trials,
)
"""Each has a `router`; in this order they are described."""


def make_app(desk: Desk, door: Door, ending: Ending | None = None) -> FastAPI:
    """The page and its interface over a desk.

    Args:
        desk: what lies open; it stays the caller's to close.
        door: what a request must show to be let in.
        ending: hears when the server is to end; None for one that nobody ends.
    """
    app = FastAPI(
        title="namebatch",
        version=__version__,
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        separate_input_output_schemas=False,
    )
    app.state.desk = desk
    app.state.door = door
    app.state.ending = ending or Ending()
    add_problems(app)
    for subject in SUBJECTS:
        app.include_router(subject.router, prefix="/api")
    add_pages(app)
    # the last one added meets a request first
    app.add_middleware(Heads)
    app.add_middleware(BodyLimit)
    app.add_middleware(Unexpected)
    app.add_middleware(Guard, door=door)
    app.add_middleware(SafeHeaders)
    return app

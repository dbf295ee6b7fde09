"""What went wrong, as it is sent: one sentence and its details."""

from collections.abc import Sequence

from pydantic import BaseModel
from starlette.responses import JSONResponse

MOST_DETAILS = 50


class Problem(BaseModel):
    """What went wrong: one sentence for people, and one line a problem if there are several."""

    what: str
    details: list[str]


def problem_response(status: int, what: str, details: Sequence[str] = ()) -> JSONResponse:
    """An answer that tells a problem.

    Args:
        status: of HTTP.
        what: one sentence that says what is wrong, where, and what to do.
        details: further lines; the first `MOST_DETAILS` are told.
    """
    told = Problem(what=what, details=list(details[:MOST_DETAILS]))
    return JSONResponse(told.model_dump(), status)

"""What handlers ask for: the desk, the door, a docket's number, a form with a file."""

from typing import Annotated, cast

from fastapi import Depends, Path, Request

from namebatch.desk import Desk
from namebatch.web.ending import Ending
from namebatch.web.guard import Door
from namebatch.web.limits import Upload, read_upload

MOST_NUMBER = 2**31 - 1
"""Larger ones are no numbers of dockets or lines, and more than the database can take."""


def _desk(request: Request) -> Desk:
    return cast(Desk, request.app.state.desk)


def _door(request: Request) -> Door:
    return cast(Door, request.app.state.door)


def _ending(request: Request) -> Ending:
    return cast(Ending, request.app.state.ending)


TheDesk = Annotated[Desk, Depends(_desk)]
TheDoor = Annotated[Door, Depends(_door)]
TheEnding = Annotated[Ending, Depends(_ending)]
TheUpload = Annotated[Upload, Depends(read_upload)]
DocketNumber = Annotated[int, Path(ge=1, le=MOST_NUMBER, description="number of a docket")]
LineNumber = Annotated[int, Path(ge=1, le=MOST_NUMBER, description="line of the list")]
JobNumber = Annotated[int, Path(ge=1, le=MOST_NUMBER, description="number of a job")]

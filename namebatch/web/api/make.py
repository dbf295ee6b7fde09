"""Sheets and making: what they are made of; begin, look, be content, stop."""

from typing import Annotated

from fastapi import APIRouter, Path

from namebatch.desk.layout import LayoutView
from namebatch.desk.made_model import MakeView, SheetMap
from namebatch.desk.make_process import MOST_LAID
from namebatch.desk.materials import MaterialChoice
from namebatch.web.depends import DocketNumber, TheDesk
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["make"], responses=REFUSED)


@router.get("/dockets/{number}/layout")
def layout(number: DocketNumber, desk: TheDesk) -> LayoutView:
    """What the sheets are made of, and what can be chosen about them."""
    return desk.layout(number)


@router.get("/dockets/{number}/materials")
def materials(number: DocketNumber, desk: TheDesk) -> tuple[MaterialChoice, ...]:
    """Which materials of the workshop suit it, for each kind of sheet."""
    return desk.materials(number)


@router.post("/dockets/{number}/make")
def make(number: DocketNumber, desk: TheDesk) -> MakeView:
    """Begin to make a job of the list and of what is chosen now."""
    return desk.work.make(number)


@router.get("/dockets/{number}/make")
def state(number: DocketNumber, desk: TheDesk) -> MakeView:
    """How far it is; also told by the events of the docket."""
    return desk.work.state(number)


@router.get("/dockets/{number}/make/sheets/{place}")
def laid(
    number: DocketNumber, place: Annotated[int, Path(ge=1, le=MOST_LAID)], desk: TheDesk
) -> SheetMap:
    """A sheet of the job that is being made, as soon as it is filled; the first one is 1."""
    return desk.work.laid(number, place)


@router.post("/dockets/{number}/make/enough")
def enough(number: DocketNumber, desk: TheDesk) -> MakeView:
    """Be content with the sheets that a search for fewer has found so far."""
    return desk.work.enough(number)


@router.delete("/dockets/{number}/make")
def stop(number: DocketNumber, desk: TheDesk) -> MakeView:
    """End it at once; nothing of it is left. A job that is done already stays."""
    return desk.work.stop(number)

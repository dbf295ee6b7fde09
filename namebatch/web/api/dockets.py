"""Dockets: made, listed, opened, renamed, copied, deleted; their steps taken back and again."""

from fastapi import APIRouter

from namebatch.desk.model import DocketView, Stepped, StepView
from namebatch.errors import DeskError
from namebatch.store import KeptList
from namebatch.web.depends import DocketNumber, TheDesk, TheUpload
from namebatch.web.problems import REFUSED
from namebatch.web.schemas import CopyTitle, NewTitle, WhatIsLeft, form_of
from namebatch.web.uploads import list_of

router = APIRouter(tags=["dockets"], responses=REFUSED)

_FORM = form_of(
    {"template": "text", "title": "text", "file": "file", "text": "text", "sample": "text"},
    required=("template",),
)


@router.get("/dockets")
def all_dockets(desk: TheDesk) -> tuple[DocketView, ...]:
    """All dockets, the one that was changed last first; counts as they were seen last."""
    return desk.dockets()


@router.post("/dockets", openapi_extra=_FORM)
def new_docket(desk: TheDesk, upload: TheUpload) -> DocketView:
    """A new docket, with a list as file or text, with the example list (sample=1), or without."""
    template = upload.fields.get("template", "")
    if not template:
        raise DeskError("No template was chosen. Choose what is to be made first.")
    names: KeptList | None = list_of(upload)
    if names is None and upload.fields.get("sample") == "1":
        names = desk.sample(template)
    return desk.create(upload.fields.get("title", ""), template, names)


@router.get("/dockets/{number}")
def docket(desk: TheDesk, number: DocketNumber) -> DocketView:
    """One docket."""
    return desk.docket(number)


@router.patch("/dockets/{number}")
def rename(desk: TheDesk, number: DocketNumber, sent: NewTitle) -> DocketView:
    """Give it another title."""
    return desk.rename(number, sent.title)


@router.delete("/dockets/{number}")
def delete(desk: TheDesk, number: DocketNumber) -> WhatIsLeft:
    """Delete it with all its data: list, changes, history, files."""
    deleted = desk.delete(number)
    return WhatIsLeft(deleted.complete, deleted.left)


@router.post("/dockets/{number}/copy")
def copy(desk: TheDesk, number: DocketNumber, sent: CopyTitle | None = None) -> DocketView:
    """A new docket with the same list, settings and changes by hand."""
    return desk.copy(number, None if sent is None else sent.title)


@router.post("/dockets/{number}/undo")
def undo(desk: TheDesk, number: DocketNumber) -> Stepped:
    """Take the last step back."""
    return desk.undo(number)


@router.post("/dockets/{number}/redo")
def redo(desk: TheDesk, number: DocketNumber) -> Stepped:
    """Take the step again that was taken back last."""
    return desk.redo(number)


@router.get("/dockets/{number}/history")
def history(desk: TheDesk, number: DocketNumber) -> tuple[StepView, ...]:
    """All steps in order."""
    return desk.history(number)

"""The list of a docket and how it is made: file or text, columns, settings."""

from fastapi import APIRouter

from namebatch.desk.model import DocketView, ListView
from namebatch.errors import ListError
from namebatch.web.depends import DocketNumber, TheDesk, TheUpload
from namebatch.web.problems import REFUSED
from namebatch.web.schemas import SettingsChange, form_of
from namebatch.web.uploads import list_of

router = APIRouter(tags=["lists"], responses=REFUSED)


@router.put("/dockets/{number}/list", openapi_extra=form_of({"file": "file", "text": "text"}))
def put_list(desk: TheDesk, number: DocketNumber, upload: TheUpload) -> DocketView:
    """Give a docket a list, or another one."""
    names = list_of(upload)
    if names is None:
        raise ListError("Nothing was sent. Choose a file, or paste one name a line.")
    return desk.put_list(number, names)


@router.get("/dockets/{number}/list")
def list_view(desk: TheDesk, number: DocketNumber) -> ListView:
    """The list, how its columns are used, and what is to be looked at in it."""
    return desk.list_view(number)


@router.patch("/dockets/{number}/settings")
def change_settings(desk: TheDesk, number: DocketNumber, sent: SettingsChange) -> DocketView:
    """Change settings in one step that can be taken back."""
    return desk.change_settings(number, sent.wanted)

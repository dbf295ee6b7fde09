"""The workshop file: as a form, and as a file."""

from typing import Annotated

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field, JsonValue

from namebatch.desk.shop import (
    MOST_MATERIALS,
    ShopView,
    change_shop,
    put_shop_file,
    shop_text,
    shop_view,
)
from namebatch.desk.shop_words import shop_told
from namebatch.errors import WorkshopError
from namebatch.web.depends import TheDesk, TheUpload
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["workshop"], responses=REFUSED)

FILE_NAME = "workshop.toml"
_TOML = "application/toml"

Values = Annotated[dict[str, JsonValue], Field(max_length=100)]


class ShopSent(BaseModel):
    """What the form holds; the tables are looked through as those of a file are.

    Attributes:
        digest: of the file when the form was filled; left out, any is written over.
        materials: each with its ``name``; those that are not among them are taken out.
    """

    model_config = ConfigDict(extra="forbid")

    digest: Annotated[str, Field(max_length=128)] | None = None
    printer: Values
    cutter: Values
    materials: Annotated[list[Values], Field(max_length=MOST_MATERIALS)]


@router.get("/workshop")
def workshop(desk: TheDesk) -> ShopView:
    """Printer, cutter and materials; the example values as long as nobody wrote others down."""
    return shop_view(desk.workshop_file(), desk.own_templates())


@router.put("/workshop")
def change_workshop(desk: TheDesk, sent: ShopSent) -> ShopView:
    """Write the form into the workshop file, which keeps its comments."""
    try:
        change_shop(desk.workshop_file(), sent.digest, sent.printer, sent.cutter, sent.materials)
    except WorkshopError as error:
        raise WorkshopError(error.what, tuple(map(shop_told, error.problems))) from error
    desk.renew()
    return shop_view(desk.workshop_file(), desk.own_templates())


@router.get(
    "/workshop/file",
    response_class=Response,
    responses={200: {"content": {_TOML: {}}, "description": "The workshop file."}},
)
def workshop_file(desk: TheDesk) -> Response:
    """The workshop file as it is, for the command line or another computer."""
    headers = {"Content-Disposition": f'attachment; filename="{FILE_NAME}"'}
    return Response(shop_text(desk.workshop_file()), media_type=_TOML, headers=headers)


@router.put("/workshop/file")
def put_workshop_file(desk: TheDesk, upload: TheUpload) -> ShopView:
    """Put another file in its place; a form with one file."""
    if upload.data is None:
        raise WorkshopError("No file was sent. Choose a workshop file, which ends in .toml.")
    put_shop_file(desk.workshop_file(), upload.data)
    desk.renew()
    return shop_view(desk.workshop_file(), desk.own_templates())

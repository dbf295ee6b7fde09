"""What a browser loads: pages, their style sheets and modules, the typefaces they are set in."""

from pathlib import Path

from fastapi import APIRouter, FastAPI, HTTPException
from fastapi.responses import FileResponse, Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from namebatch.store import dockets
from namebatch.web.depends import DocketNumber, TheDesk, TheDoor
from namebatch.web.problems import NotHere
from namebatch.web.rendering import HERE, page
from namebatch.web.typefaces import files, script_sheet

ASK_EACH_TIME = "no-cache"
"""Kept by the browser, and used only once the server has said that it is still the same."""
A_DAY = "private, max-age=86400"
MEDIA_TYPES = {".mjs": "text/javascript", ".svg": "image/svg+xml", ".css": "text/css"}
"""Said here: what a computer's own table says of ``.mjs`` may be anything."""

router = APIRouter(include_in_schema=False)


class StaticParts(StaticFiles):
    """Style sheets and modules; looked for again whenever a page is loaded."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """A file below the folder, or 404."""
        if "\0" in path:  # no file's name has one; older starlettes ask the disk for it
            raise HTTPException(404)
        response = await super().get_response(path, scope)
        response.headers["Cache-Control"] = ASK_EACH_TIME
        suffix = Path(path).suffix
        if response.status_code == 200 and suffix in MEDIA_TYPES:
            response.headers["Content-Type"] = f"{MEDIA_TYPES[suffix]}; charset=utf-8"
        return response


def add_pages(app: FastAPI) -> None:
    """Let the application serve pages and what they load."""
    app.include_router(router)
    app.mount("/static", StaticParts(directory=HERE / "static"), name="static")


@router.get("/")
def hook(door: TheDoor) -> Response:
    """Where the dockets hang."""
    return page(door, "hook.html", "hook")


@router.get("/dockets/{number}")
def docket(number: DocketNumber, desk: TheDesk, door: TheDoor) -> Response:
    """One docket."""
    # of the docket only its title is needed here; it is opened when the page asks for it
    title = dockets.docket(desk.store, number).title
    return page(door, "docket.html", "docket", number=number, title=title)


@router.get("/workshop")
def workshop(door: TheDoor) -> Response:
    """Printer, cutter and materials."""
    return page(door, "workshop.html", "workshop")


@router.get("/templates/new")
def new_template(door: TheDoor) -> Response:
    """A template is made from a picture."""
    return page(door, "trial.html", "trial")


@router.get("/favicon.ico")
def icon() -> Response:
    """What browsers ask for by themselves."""
    return Response(status_code=204)


@router.get("/typefaces/scripts.css")
def scripts() -> Response:
    """Which typefaces there are for scripts that the page's own lacks."""
    return Response(script_sheet(), media_type="text/css")


@router.get("/typefaces/{name}")
def typeface(name: str) -> Response:
    """A file of a typeface that the page is set in."""
    path = files().get(name)
    if path is None:
        raise NotHere("There is no typeface of this name for the page.")
    kind = f"font/{path.suffix.lower().lstrip('.')}"
    return FileResponse(path, media_type=kind, headers={"Cache-Control": A_DAY})

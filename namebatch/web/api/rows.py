"""Rows: the wall of pieces, one opened large, pictures, changes by hand, approvals."""

import re
from typing import Annotated

from anyio import CapacityLimiter, to_thread
from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from namebatch.desk.model import Counted, Liked
from namebatch.desk.row_model import RowDetail, RowsView
from namebatch.errors import DeskError
from namebatch.mends.file import written
from namebatch.store import dockets, history
from namebatch.web.depends import DocketNumber, LineNumber, TheDesk
from namebatch.web.problems import NOT_THIS_FORM, REFUSED
from namebatch.web.schemas import SVG, AlikeChange, Approvals, Mended, TriedRow, tried_row

router = APIRouter(tags=["rows"], responses=REFUSED)

ALWAYS = "private, max-age=31536000, immutable"
"""Another picture has another digest, and with it another address."""
LONGEST_LINES = 30_000
"""Below what an address may be long at all, 64 KiB."""
PICTURES_AT_ONCE = 16
"""Threads that wait for pictures; whoever changes something never waits behind them."""

SOME_LINES = re.compile(r"[0-9]{1,9}(,[0-9]{1,9})*")

_SOME_LINES = Query(
    max_length=LONGEST_LINES,
    description="1,2,3",
    json_schema_extra={"pattern": f"^{SOME_LINES.pattern}$"},
)


@router.get("/dockets/{number}/rows")
def rows(
    desk: TheDesk, number: DocketNumber, lines: Annotated[str | None, _SOME_LINES] = None
) -> RowsView:
    """All rows in the order of the list, or some by their lines."""
    if lines is None:
        return desk.rows(number)
    if not SOME_LINES.fullmatch(lines):
        raise DeskError(f"{NOT_THIS_FORM} lines: takes numbers with commas between, as in 1,2,3.")
    return desk.rows(number, [int(line) for line in lines.split(",")])


@router.get(
    "/dockets/{number}/mends.json",
    response_class=Response,
    responses={200: {"content": {"application/json": {}}, "description": "The changes by hand."}},
)
def mends(desk: TheDesk, number: DocketNumber) -> Response:
    """All changes by hand as the file that the command line takes with --mends."""
    dockets.docket(desk.store, number)
    headers = {"Content-Disposition": f'attachment; filename="docket-{number:04d}-mends.json"'}
    data = written(history.choices(desk.store, number).mends)
    return Response(data, media_type="application/json", headers=headers)


@router.get("/dockets/{number}/rows/{line}")
def row(desk: TheDesk, number: DocketNumber, line: LineNumber) -> RowDetail:
    """One row opened large; waits until it is made."""
    return desk.row(number, line)


@router.get(
    "/dockets/{number}/rows/{line}/picture.svg",
    response_class=Response,
    responses={200: {"content": {SVG: {}}, "description": "The piece as it will be cut."}},
)
async def picture(
    request: Request,
    desk: TheDesk,
    number: DocketNumber,
    line: LineNumber,
    digest: Annotated[str, Query(max_length=128)] = "",
    large: bool = False,
) -> Response:
    """The picture of a piece; waits until it is made, before those that nobody asked for."""
    await request.body()  # empty; only after it a browser that has gone is seen
    async with _at_once(request):
        if await request.is_disconnected():  # it was scrolled out of sight while it waited
            return Response(status_code=204)
        # its place is taken above; the threads of all other requests are left alone
        drawn = await to_thread.run_sync(
            lambda: desk.picture(number, line, large=large), limiter=CapacityLimiter(1)
        )
    kept = {"Cache-Control": ALWAYS} if digest == drawn.digest else {}
    return Response(drawn.svg, media_type=SVG, headers={"ETag": f'"{drawn.digest}"', **kept})


@router.post("/dockets/{number}/rows/{line}/try")
def try_mend(desk: TheDesk, number: DocketNumber, line: LineNumber, sent: Mended) -> TriedRow:
    """How a row would be with a change; nothing is kept."""
    return tried_row(desk.try_mend(number, line, sent.wanted))


@router.put("/dockets/{number}/rows/{line}/mend")
def put_mend(desk: TheDesk, number: DocketNumber, line: LineNumber, sent: Mended) -> RowDetail:
    """Change a row by hand, instead of what was changed in it before."""
    return desk.put_mend(number, line, sent.wanted)


@router.put("/dockets/{number}/approvals")
def approve(desk: TheDesk, number: DocketNumber, sent: Approvals) -> Counted:
    """Approve pieces as they were seen, or take that back."""
    return desk.approve(number, sent.lines)


@router.post("/dockets/{number}/like")
def like(desk: TheDesk, number: DocketNumber, sent: AlikeChange) -> Liked:
    """Apply parts of a row's change to the rows of a group."""
    return desk.like(number, sent.line, sent.group, sent.keys)


def _at_once(request: Request) -> CapacityLimiter:
    """One limit for all pictures of a server; made in its event loop."""
    state = request.app.state
    if not hasattr(state, "pictures"):
        state.pictures = CapacityLimiter(PICTURES_AT_ONCE)
    limiter: CapacityLimiter = state.pictures
    return limiter

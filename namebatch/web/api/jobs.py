"""Jobs that were made: their files, maps of their sheets, and what comes after cutting."""

from typing import Annotated, Literal
from urllib.parse import quote

from fastapi import APIRouter, Path
from fastapi.responses import FileResponse, StreamingResponse
from pydantic import BaseModel, ConfigDict, Field

from namebatch.desk.aligning import Measured
from namebatch.desk.made_model import AlignedView, JobView, MakeView, MarkPlace, SheetMap
from namebatch.desk.remaking import Again
from namebatch.registration.choose import LIMIT_MM
from namebatch.web.depends import DocketNumber, JobNumber, TheDesk
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["jobs"], responses=REFUSED)

MOST_SPOILED = 100_000
MOST_MARKS = 400
_FAR_MM = 10_000.0
SheetId = Annotated[str, Path(max_length=40, pattern=r"^(face|board)-[0-9]{1,6}$")]
FilePath = Annotated[str, Path(max_length=300, description="as the job's files are listed")]
PieceId = Annotated[str, Field(max_length=40)]
MEDIA = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".dxf": "image/vnd.dxf",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
}


class _Sent(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class Spoiled(_Sent):
    """Ids of all pieces of the job that are spoiled."""

    pieces: Annotated[list[PieceId], Field(max_length=MOST_SPOILED)]


class RemakeWish(_Sent):
    """What is asked of a remake: faces, boards to fill first, other sheets, as it is now."""

    faces: Annotated[list[Literal["front", "back", "board"]], Field(max_length=3)] = []
    onto: Annotated[list[PieceId], Field(max_length=100)] = []
    sheet: Annotated[str, Field(max_length=40)] | None = None
    as_now: bool = False


class MarkSent(_Sent):
    """A corner of the printed frame where the cutter finds it; one name may come several times."""

    mark: Annotated[str, Field(max_length=40)]
    x_mm: Annotated[float, Field(ge=-_FAR_MM, le=_FAR_MM)]
    y_mm: Annotated[float, Field(ge=-_FAR_MM, le=_FAR_MM)]


class FrameSent(_Sent):
    """Width and height of the printed frame, by a ruler."""

    width_mm: Annotated[float, Field(gt=0, le=_FAR_MM)]
    height_mm: Annotated[float, Field(gt=0, le=_FAR_MM)]


class AlignSent(_Sent):
    """What was measured on a print."""

    marks: Annotated[list[MarkSent], Field(max_length=MOST_MARKS)] = []
    frame: FrameSent | None = None
    model: Literal["similarity", "two-scales", "affine"] | None = None
    limit_mm: Annotated[float, Field(ge=0.05, le=5.0)] = LIMIT_MM
    turned: bool = False

    @property
    def measured(self) -> Measured:
        """As the desk takes it."""
        frame = self.frame
        return Measured(
            marks=tuple(MarkPlace(one.mark, one.x_mm, one.y_mm) for one in self.marks),
            frame_mm=None if frame is None else (frame.width_mm, frame.height_mm),
            model=self.model,
            limit_mm=self.limit_mm,
            turned=self.turned,
        )


@router.get("/dockets/{number}/jobs")
def jobs(number: DocketNumber, desk: TheDesk) -> tuple[JobView, ...]:
    """All jobs of a docket, in the order in which they were made."""
    return desk.work.jobs(number)


@router.get("/dockets/{number}/jobs/{job}/sheets/{sheet}")
def sheet_map(number: DocketNumber, job: JobNumber, sheet: SheetId, desk: TheDesk) -> SheetMap:
    """A sheet with all that lies on it."""
    return desk.work.sheet(number, job, sheet)


@router.get(
    "/dockets/{number}/jobs/{job}/files/{path:path}",
    response_class=FileResponse,
    responses={200: {"content": {"application/octet-stream": {}}, "description": "The file."}},
)
def one_file(number: DocketNumber, job: JobNumber, path: FilePath, desk: TheDesk) -> FileResponse:
    """One file of a job, if it is the one that was made."""
    file = desk.work.file(number, job, path)
    name = f"{number:04d}-{job}-{file.name}"
    return FileResponse(
        file,
        media_type=MEDIA.get(file.suffix, "application/octet-stream"),
        headers={"Content-Disposition": attachment(name)},
    )


@router.get(
    "/dockets/{number}/jobs/{job}/all.zip",
    response_class=StreamingResponse,
    responses={200: {"content": {"application/zip": {}}, "description": "All files."}},
)
def all_files(number: DocketNumber, job: JobNumber, desk: TheDesk) -> StreamingResponse:
    """All files of a job, packed while they are sent."""
    return StreamingResponse(
        desk.work.all_files(number, job),
        media_type="application/zip",
        headers={"Content-Disposition": attachment(f"docket-{number:04d}-job-{job}.zip")},
    )


@router.put("/dockets/{number}/jobs/{job}/spoiled")
def spoiled(number: DocketNumber, job: JobNumber, sent: Spoiled, desk: TheDesk) -> JobView:
    """Say which pieces of a job are spoiled, instead of those that were said before."""
    return desk.work.set_spoiled(number, job, sent.pieces)


@router.post("/dockets/{number}/jobs/{job}/remake")
def remake(number: DocketNumber, job: JobNumber, sent: RemakeWish, desk: TheDesk) -> MakeView:
    """Begin to make what is spoiled of a job again; it becomes a job of its own."""
    again = Again(tuple(sent.faces), tuple(sent.onto), sent.sheet, sent.as_now)
    return desk.work.remake(number, job, again)


@router.post("/dockets/{number}/jobs/{job}/sheets/{sheet}/align")
def align(
    number: DocketNumber, job: JobNumber, sheet: SheetId, sent: AlignSent, desk: TheDesk
) -> AlignedView:
    """Move a sheet's cut files onto its print as it lies under the cutter."""
    return desk.work.align(number, job, sheet, sent.measured)


def attachment(name: str) -> str:
    """Words for a browser to keep a file under a name."""
    return f"attachment; filename*=UTF-8''{quote(name)}"

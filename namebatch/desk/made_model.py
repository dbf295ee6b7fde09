"""What the desk hands out of making and of jobs that were made: frozen, of plain values. mm."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from namebatch.desk.model import Problem

MakeState = Literal["idle", "running", "done", "stopped", "failed"]


@dataclass(frozen=True, slots=True)
class MakeView:
    """How far the making of a job is.

    Attributes:
        state: ``idle`` where none was begun since the program was started.
        stage: what is done now, for people.
        done, total: how far that stage is; 0 of 0 where it cannot be told.
        sheets: that a search for fewer ones needs so far; of the last one only what is used.
        share: of the search's time that is gone; None where nothing is searched.
        problem: why it failed.
        job: number of the job that came of it.
        remake: pieces of an earlier job are made again.
        changed: it failed as something is not as it was then, and can be made as it is now.
        laid: how many sheets are filled and can be looked at, while it runs.
    """

    state: MakeState = "idle"
    stage: str = ""
    done: int = 0
    total: int = 0
    sheets: float | None = None
    share: float | None = None
    problem: Problem | None = None
    job: int | None = None
    remake: bool = False
    changed: bool = False
    laid: int = 0


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A sheet of a job in the list of its sheets.

    Attributes:
        id: ``face-001`` …
        kind: ``face`` or ``board``.
        size_mm: width and height.
        fill: share of the usable area that is cut out.
        seconds: that cutting is reckoned to take.
        pieces: how many things lie on it.
        part_used: the board that was cut from before; None for a new one.
        aligned: cut files were moved onto its print.
    """

    id: str
    kind: str
    size_mm: tuple[float, float]
    fill: float
    seconds: float
    pieces: int
    part_used: str | None
    aligned: bool


@dataclass(frozen=True, slots=True)
class JobFile:
    """A file of a job that can be fetched: its path in the folder, its size, what it is.

    `kind` sorts them: ``print``, ``cut``, ``jig``, ``aligned``, ``paper``, ``list``, ``order``.
    `order` is whose it is, where it is of one order only and its name is known.
    """

    path: str
    bytes: int
    what: str
    kind: str
    order: str | None = None


@dataclass(frozen=True, slots=True)
class HeldLine:
    """A row that was not made, and why."""

    line: int
    message: str


@dataclass(frozen=True, slots=True)
class CautionView:
    """What has to be said where the work is done; see `output.cautions`."""

    title: str
    text: str
    source: str
    urgent: bool


@dataclass(frozen=True, slots=True)
class JobView:
    """A job that was made.

    Attributes:
        number: within its docket.
        at: when it was made.
        remake_of: number of the first job, for a remake.
        pieces_again: ids of what a remake makes again.
        stale: list, template, workshop or choices are not what it was made from any more.
        whole: it is there as it was written; else `missing` says what is not, and there is nothing
            to fetch where its manifest is not the one that was noted.
        missing: for people; empty where it is whole.
        template: its name.
        totals: counts, as the manifest has them.
        sheets: pages first, then boards.
        spoiled: ids of pieces that were said to be spoiled.
        remade: those of them that a later remake makes again.
        files: what can be fetched.
        held: rows that were not made.
        notes: what should be known of it as a whole.
        cautions: what has to be said beside its cut files.
        faces: what of the pieces there is: front, back, board.
    """

    number: int
    at: datetime
    remake_of: int | None
    pieces_again: tuple[str, ...]
    stale: bool
    whole: bool
    missing: tuple[str, ...]
    template: str
    totals: Mapping[str, int | float | None]
    sheets: tuple[SheetLine, ...]
    spoiled: tuple[str, ...]
    remade: tuple[str, ...]
    files: tuple[JobFile, ...]
    held: tuple[HeldLine, ...]
    notes: tuple[str, ...]
    cautions: tuple[CautionView, ...]
    faces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MarkPlace:
    """A corner of the printed frame, in the cut file's coordinates, y up."""

    name: str
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece on a sheet map.

    Attributes:
        piece: its id.
        face: front, back or board.
        line: of the list.
        text: what it says, in one line.
        outline: its cut lines as data of an SVG path, in mm of the sheet, y down.
        at_mm: the middle of the room that it takes up, y down.
        room_mm: width and height of that room.
        spoiled: it was said to be.
        remade: and made again since.
    """

    piece: str
    face: str
    line: int
    text: str
    outline: str
    at_mm: tuple[float, float]
    room_mm: tuple[float, float]
    spoiled: bool
    remade: bool


@dataclass(frozen=True, slots=True)
class SheetMap:
    """A sheet with all that lies on it; rectangles are x, y, width, height, y up.

    Attributes:
        id, kind, size_mm, usable_mm, frame_mm: as the manifest has them.
        marks: corners of the printed frame, or of the board.
        measured: where they were found, if that was said.
        placements: in the order of cutting.
        used: what was gone of a part-used board before, data of an SVG path, y down.
        bed_mm: of the cutter.
    """

    id: str
    kind: str
    size_mm: tuple[float, float]
    usable_mm: tuple[float, float, float, float]
    frame_mm: tuple[float, float, float, float]
    marks: tuple[MarkPlace, ...]
    measured: tuple[MarkPlace, ...]
    placements: tuple[Placed, ...]
    used: str
    bed_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class AlignedView:
    """A sheet's cut files after they were moved onto its print.

    Attributes:
        lines: how the print lies and how far that can be trusted, for people.
        caution: for whoever cuts with them.
        worst_mm: the largest residual; 0 where only a ruler told the scale.
        residual_mm: mark → how far it is from where the others put it.
        files: paths of the moved cut files.
    """

    lines: tuple[str, ...]
    caution: str
    worst_mm: float
    residual_mm: Mapping[str, float]
    files: tuple[str, ...]

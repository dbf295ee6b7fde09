"""A job folder as it was written, and how its print lies under the cutter."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from namebatch.curves import Affine, Point, apply
from namebatch.measured.jobsheet import JobSheet
from namebatch.output.atomic import write_job
from namebatch.registration import Mark
from namebatch.sheet.model import CutPath
from tests.output import jobs

CIRCLE = CutPath("inner", "L2-1.front", ((20.0, 30.0), (26.0, 30.0)), False, (1.0, 1.0))
"""A round hole of 6 mm, as two half circles."""
SLANT = CutPath(
    "outer", "L2-1.front", ((30.0, 30.0), (60.0, 40.0), (30.0, 50.0)), False, (0.4, -0.3, 0.0)
)


def silent(stage: str, done: int, total: int) -> None:
    """Progress that nobody watches."""


def write(out: Path, files: tuple[str, ...] = ("svg", "dxf"), scale: Point = (1.0, 1.0)) -> Path:
    """The tags' job with two lines of arcs more, in a folder."""
    job = jobs.faced_job(files)
    face = replace(job.sheets[0], cuts=(*job.sheets[0].cuts, CIRCLE, SLANT))
    printer = replace(job.workshop.printer, scale=scale)
    job = replace(
        job,
        sheets=(face, *job.sheets[1:]),
        workshop=replace(job.workshop, printer=printer),
    )
    write_job(job, out, replace=False, progress=silent)
    return out


def read_by(
    sheet: JobSheet, lies: Affine, only: tuple[int, ...] = (0, 1, 2, 3)
) -> tuple[Mark, ...]:
    """The frame's corners where the print lies."""
    found = list(sheet.marks.items())
    return tuple(Mark(found[i][0], found[i][1], (apply(lies, found[i][1]),)) for i in only)


def table(marks: Mapping[str, Point], lies: Affine) -> str:
    """The corners as a file of readings, with decimal commas."""
    lines = ["mark;x_mm;y_mm"]
    for name, place in marks.items():
        x, y = apply(lies, place)
        lines.append(f"{name};{x:.4f};{y:.4f}".replace(".", ","))
    return "\n".join(lines) + "\n"

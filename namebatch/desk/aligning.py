"""A sheet's cut files moved onto its print as it lies: marks that were measured in, files out."""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.desk.jobfolder import JobFolder
from namebatch.desk.made_model import AlignedView, MarkPlace
from namebatch.desk.plainly import plainly
from namebatch.errors import MeasureError
from namebatch.measured.align import align, write_aligned
from namebatch.measured.jobsheet import JobSheet, read_job_sheet
from namebatch.measured.marks import known_marks
from namebatch.measured.telling import CAUTION, told
from namebatch.output.aligned import FOLDER
from namebatch.registration.choose import LIMIT_MM
from namebatch.registration.fit import Model


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured on a sheet's print. mm.

    Attributes:
        marks: corners of the printed frame in the cutter's coordinates; of one that was read
            several times all readings.
        frame_mm: width and height of the printed frame, by a ruler.
        model: the kind of map, if it must be one.
        limit_mm: largest misfit of a mark.
        turned: the print was laid turned by more than 45° on purpose.
    """

    marks: tuple[MarkPlace, ...] = ()
    frame_mm: tuple[float, float] | None = None
    model: Model | None = None
    limit_mm: float = LIMIT_MM
    turned: bool = False


def align_sheet(
    job: JobFolder, sheet_id: str, measured: Measured, bed_mm: tuple[float, float] | None
) -> AlignedView:
    """Write the moved cut files of a sheet into the job's folder.

    Args:
        job: that it belongs to.
        sheet_id: ``face-001`` …
        measured: what was measured.
        bed_mm: of the cutter as it is now; None for the one that the job noted.

    Raises:
        MeasureError: nothing was measured, or the files cannot be used.
        RegistrationError: the marks do not fit.
        OutputError: the folder cannot be written.
    """
    if not measured.marks and measured.frame_mm is None:
        raise MeasureError(
            "Nothing was measured yet. Give two corners of the frame or more, or its width and "
            "height."
        )
    sheet = read_job_sheet(job.folder, sheet_id)
    found = [(one.name, one.name, (one.x_mm, one.y_mm)) for one in measured.marks]
    marks = known_marks(found, sheet.marks)
    bed = bed_mm or _bed(sheet)
    aligned = align(
        sheet,
        marks,
        bed,
        measured.frame_mm,
        measured.model,
        limit_mm=measured.limit_mm,
        turned=measured.turned,
    )
    files = write_aligned(job.folder, sheet, aligned)
    reads = min((len(mark.read) for mark in marks), default=0)
    return AlignedView(
        lines=_lines(told(aligned, bed, reads)),
        caution=CAUTION,
        worst_mm=round(aligned.fit.worst_mm, 4),
        residual_mm={name: round(value, 4) for name, value in aligned.fit.residual_mm.items()},
        files=tuple(f"{FOLDER}/{path.name}" for path in files if path.suffix != ".json"),
    )


def _bed(sheet: JobSheet) -> tuple[float, float]:
    if sheet.bed_mm is None:
        raise MeasureError(
            "This job does not tell the size of the cutter's bed. Enter it in the workshop."
        )
    return sheet.bed_mm


def _lines(lines: Sequence[str]) -> tuple[str, ...]:
    """For the page, where columns are not made with spaces."""
    return tuple(plainly(" ".join(line.split())) for line in lines)

"""Running `align` and `calibrate` for someone at a terminal."""

from collections.abc import Sequence
from math import ceil
from pathlib import Path

from namebatch.errors import MeasureError
from namebatch.measured.align import Aligned, align, write_aligned
from namebatch.measured.jobsheet import JobSheet, read_job_sheet
from namebatch.measured.marks import (
    known_marks,
    marks_from_file,
    marks_from_words,
    size_from_words,
)
from namebatch.registration.fit import PARAMETERS, Model
from namebatch.template import load_workshop

CAUTION = (
    "Run the first sheet with the beam off or at its lowest, the pointer on, and watch it follow "
    "the print. The machine's manual and local rules come first; never leave the cutter unattended."
)
GOOD_MM = 0.15
UNUSUAL = 0.006
"""Printers are off by up to half a percent (common practice)."""
_UNUSUAL_SCALE = (
    "Look: most printers are off by half a percent at most. Measure again, or look whether the "
    "page was scaled when it was printed."
)


def align_and_tell(
    job: Path,
    sheet_id: str,
    measured: Path | None,
    words: Sequence[str],
    frame: str | None,
    workshop: Path | None,
    model: str | None,
    limit_mm: float,
    *,
    turned: bool,
) -> None:
    """Move a sheet's cut files onto its print and say how well they fit.

    Raises:
        NamebatchError: it cannot be done; nothing is written.
    """
    if measured is None and not words and frame is None:
        raise MeasureError(
            "Nothing was measured. Give --measured FILE, --mark NAME=X,Y for two marks or more, "
            "or --frame WIDTH,HEIGHT."
        )
    sheet = read_job_sheet(job, sheet_id)
    found = (*(marks_from_file(measured) if measured else ()), *marks_from_words(words))
    marks = known_marks(found, sheet.marks)
    size = size_from_words(frame) if frame is not None else None
    bed = _bed(sheet, workshop)
    aligned = align(sheet, marks, bed, size, _model(model), limit_mm=limit_mm, turned=turned)
    files = write_aligned(job, sheet, aligned)
    reads = min((len(mark.read) for mark in marks), default=0)
    for line in told(aligned, bed, reads):
        print(line)
    print(f"{len(files)} files in {files[0].parent}: {', '.join(path.name for path in files)}")
    print(CAUTION)


def _bed(sheet: JobSheet, workshop: Path | None) -> tuple[float, float]:
    """From the workshop file if one is named, else as the job noted it."""
    if workshop is not None:
        return load_workshop(workshop).cutter.bed_mm
    if sheet.bed_mm is None:
        raise MeasureError(
            "This job does not tell the size of the cutter's bed. Name the workshop file: "
            "--workshop FILE."
        )
    return sheet.bed_mm


def _model(word: str | None) -> Model | None:
    """The kind of map that was asked for."""
    if word is None or word == "auto":
        return None
    for model in PARAMETERS:
        if model == word.strip().lower():
            return model
    raise MeasureError(f"--model takes auto, {', '.join(PARAMETERS)}.")


def told(aligned: Aligned, bed: tuple[float, float], reads: int) -> list[str]:
    """How the print lies and how far that can be trusted.

    Args:
        aligned: what was found.
        bed: of the cutter, in mm.
        reads: how often each mark was read at least.
    """
    fit = aligned.fit
    kinds = {
        "similarity": "turn, shift and one scale",
        "two-scales": "turn, shift and a scale each in x and y",
        "affine": "turn, shift, a scale each in x and y, and skew",
    }
    x, y = (f"{100 * scale:.2f} %" for scale in fit.scales)
    strange = max(abs(scale - 1) for scale in fit.scales) > UNUSUAL
    lines = [_UNUSUAL_SCALE] if strange else []
    if not fit.residual_mm:
        lines.append(
            f"Scale {x} in x, {y} in y, about the frame's bottom left corner: lay the "
            f"{aligned.what} to the jig by that corner."
        )
        return lines
    turn = round(fit.rotation_deg, 3) + 0.0
    lines.append(f"Turned by {turn:.3f}°, scale {x} in x, {y} in y ({kinds[fit.model]}).")
    for name, residual in fit.residual_mm.items():
        lines.append(f"  {name:<13} off by {residual:.2f} mm")
    count = len(fit.residual_mm)
    if count == 2 and not fit.ruled:
        lines.append("  Two marks always fit: a slip in one of them shows in scale and turn alone.")
    if aligned.exchanged:
        lines.append("  They would fit with x and y exchanged, too: a third mark would tell.")
    if count == 3 and not fit.ruled:
        lines.append(
            "  Three marks leave little to check with: a slip along an edge of the frame looks "
            "like a stretched print. The fourth corner would tell."
        )
    alike = count == 2 and not fit.ruled
    more = _better(fit.expected_mm, count, reads) if fit.expected_mm > GOOD_MM else ""
    lines.append(
        f"If each reading is good to 0.1 mm{' and x and y stretch alike' * alike}, the cut stays "
        f"within {fit.expected_mm:.2f} mm of the {aligned.what} on 19 of 20 sheets.{more}"
    )
    lines.append(f"Coordinates are the cutter's, on its bed of {bed[0]:g} × {bed[1]:g} mm.")
    return lines


def _better(expected: float, marks: int, reads: int) -> str:
    """How to come closer; errors fall with the root of the number of readings."""
    if marks < 4:
        return " Measure all four corners to come closer."
    times = ceil(reads * (expected / GOOD_MM) ** 2)
    return f" Measure every corner {times} times (one line a reading) for {GOOD_MM:g} mm."

"""Cut files moved onto a print as it lies under the cutter."""

import json
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import Final

import numpy as np

from namebatch import __version__
from namebatch.curves import Affine
from namebatch.errors import MeasureError, RegistrationError
from namebatch.measured.jobsheet import JobSheet
from namebatch.outline.arc_shape import along_ring
from namebatch.output.aligned import FOLDER
from namebatch.output.cutfiles import FORMATS
from namebatch.output.fileset import write_together
from namebatch.output.truescale import moved_cuts
from namebatch.registration import Fit, Mark, Ruler, fit_marks
from namebatch.registration.choose import LIMIT_MM, SCALE_LIMIT
from namebatch.registration.fit import Model
from namebatch.sheet.model import CutPath

TURNED_DEG: Final = 45.0
"""A print that lies farther round was laid so on purpose, or its marks were named by the bed."""
UNCHECKED_DEG: Final = 5.0
"""Nobody lays a sheet so far askew without meaning to; two marks alone must not say so."""


@dataclass(frozen=True, slots=True)
class Aligned:
    """A sheet's cut lines where the print lies.

    Attributes:
        fit: the map and how well it fits.
        cuts: the moved lines.
        size_mm: of the new drawing: the cutter's bed, or the sheet where only a ruler told its
            scale.
        what: people call the sheet.
        exchanged: with x and y exchanged the two marks would fit as well.
    """

    fit: Fit
    cuts: tuple[CutPath, ...]
    size_mm: tuple[float, float]
    what: str = "print"
    exchanged: bool = False


def align(
    sheet: JobSheet,
    marks: tuple[Mark, ...],
    bed_mm: tuple[float, float],
    frame_mm: tuple[float, float] | None = None,
    model: Model | None = None,
    *,
    limit_mm: float = LIMIT_MM,
    turned: bool = False,
) -> Aligned:
    """Move a sheet's cut lines onto its print.

    The kerf in the lines belongs to the cutter's axes and is turned with them: at 2° and kerfs of
    0.20 and 0.15 mm the line is off by half of 0.05 mm times 0.035, 0.001 mm. A quarter turn with
    kerfs that differ is off by half their difference.

    Args:
        sheet: the sheet of the job.
        marks: measured in the cutter's coordinates; none if only `frame_mm` is known.
        bed_mm: width and depth of the cutter's bed.
        frame_mm: width and height of the printed frame, by a ruler.
        model: the kind of map, if it must be one.
        limit_mm: largest residual.
        turned: the print was laid turned by more than 45° on purpose.

    Raises:
        RegistrationError: the marks do not fit (`fit_marks`).
        MeasureError: the lines would leave the bed, or the print lies turned unasked.
    """
    ruler = None if frame_mm is None else _ruler(sheet, frame_mm)
    if marks or ruler is None:
        fit = fit_marks(marks, model, ruler, limit_mm)
        size = bed_mm
    else:
        fit = Fit("two-scales", _from_corner(sheet, ruler.scale), {}, 0.0, ruled=True)
        size = sheet.size_mm
    exchanged = len(marks) == 2 and ruler is None and _may_be_exchanged(marks)
    if len(marks) == 2 and TURNED_DEG >= abs(fit.rotation_deg) > UNCHECKED_DEG and not turned:
        alike = "; x and y that were exchanged look the same" if exchanged else ""
        raise MeasureError(
            f"By its two marks the {sheet.what} lies turned by {fit.rotation_deg:.0f}°{alike}. If "
            "it does lie so, say --turned, or measure a third mark."
        )
    if abs(fit.rotation_deg) > TURNED_DEG and not turned:
        raise MeasureError(
            f"By its marks the {sheet.what} lies turned by {fit.rotation_deg:.0f}°. If it does, "
            "say --turned. If not, marks are swapped: the names are those of the print, as one "
            "reads it, and not of the bed."
        )
    cuts = moved_cuts(sheet.drawing.cuts, fit.affine)
    _check_bed(cuts, bed_mm)
    return Aligned(fit, cuts, size, sheet.what, exchanged)


def write_aligned(job: Path, sheet: JobSheet, aligned: Aligned) -> tuple[Path, ...]:
    """Write ``aligned/ID.svg``, ``.dxf`` (as the job has them) and ``.json``.

    The job's own files and its manifest stay as they are, so that it can be checked against its
    digests as before; the JSON has the digests of the aligned files and of the cut file.

    Raises:
        OutputError: when the folder cannot be written.
    """
    colours = sheet.drawing.colours
    files = {
        f"{sheet.id}.{ending}": FORMATS[ending](aligned.cuts, aligned.size_mm, colours)
        for ending in sheet.formats
    }
    files[f"{sheet.id}.json"] = _report(sheet, aligned, files)
    return write_together(job / FOLDER, files)


def _may_be_exchanged(marks: tuple[Mark, ...]) -> bool:
    """Whether two marks would also fit, nearly straight, with x and y changed over."""
    other = tuple(replace(mark, read=tuple((y, x) for x, y in mark.read)) for mark in marks)
    try:
        return abs(fit_marks(other).rotation_deg) <= UNCHECKED_DEG
    except RegistrationError:
        return False


def _ruler(sheet: JobSheet, frame_mm: tuple[float, float]) -> Ruler:
    """What was read, beside the frame's nominal size."""
    (x0, y0), (x1, y1) = sheet.marks["bottom-left"], sheet.marks["top-right"]
    ruler = Ruler((x1 - x0, y1 - y0), frame_mm)
    if max(abs(scale - 1) for scale in ruler.scale) > SCALE_LIMIT:
        raise MeasureError(
            f"A frame of {frame_mm[0]:g} × {frame_mm[1]:g} mm is more than {100 * SCALE_LIMIT:g} % "
            f"off its {x1 - x0:.1f} × {y1 - y0:.1f} mm. Was it measured width first, on a print "
            "made at 100 %?"
        )
    return ruler


def _from_corner(sheet: JobSheet, scale: tuple[float, float]) -> Affine:
    """Scaled about the frame's bottom left corner, to which the print is laid."""
    x, y = sheet.marks["bottom-left"]
    return scale[0], 0.0, 0.0, scale[1], x * (1 - scale[0]), y * (1 - scale[1])


def _check_bed(cuts: tuple[CutPath, ...], bed_mm: tuple[float, float]) -> None:
    """Refuse lines that leave the bed, and say by how much."""
    if not cuts:
        return
    places = np.concatenate([along_ring(cut.points, cut.bulges) for cut in cuts])
    (left, front), (right, back) = places.min(axis=0), places.max(axis=0)
    beyond = {
        "left": -left,
        "front": -front,
        "right": right - bed_mm[0],
        "back": back - bed_mm[1],
    }
    over = [f"{by:.1f} mm beyond the {side} edge" for side, by in beyond.items() if by > 0.0001]
    if over:
        raise MeasureError(
            f"The moved lines would leave the cutter's bed of {bed_mm[0]:g} × {bed_mm[1]:g} mm: "
            f"{', '.join(over)}. Lay it farther in and measure again, or correct the bed in "
            "the workshop file."
        )


def _report(sheet: JobSheet, aligned: Aligned, files: dict[str, bytes]) -> bytes:
    """What was found, for people and programs."""
    fit = aligned.fit
    content = {
        "format": 1,
        "sheet": sheet.id,
        "model": "similarity" if fit.model == "similarity" else "affine",
        "scale_x": round(fit.scales[0], 6),
        "scale_y": round(fit.scales[1], 6),
        "rotation_deg": round(fit.rotation_deg, 5) + 0.0,
        "skew_deg": round(fit.skew_deg, 5) + 0.0,
        "shift_mm": [round(value, 4) + 0.0 for value in fit.shift_mm],
        "matrix": [round(value, 8) + 0.0 for value in fit.affine],
        "residual_mm": {name: round(value, 4) for name, value in fit.residual_mm.items()},
        "worst_mm": round(fit.worst_mm, 4),
        "expected_mm": round(fit.expected_mm, 3) if fit.residual_mm else None,
        "size_mm": list(aligned.size_mm),
        "cut_file": sheet.path,
        "cut_sha256": sheet.sha256,
        "files": {f"{FOLDER}/{name}": sha256(data).hexdigest() for name, data in files.items()},
        "software": {"name": "namebatch", "version": __version__},
    }
    return (json.dumps(content, indent=1, sort_keys=True) + "\n").encode()

"""The cut files of a job, in the formats that the workshop's cutter takes."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from namebatch.job import Job
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.output.truescale import cut_scale, scaled_cuts
from namebatch.sheet.model import CutPath

Drawer = Callable[[Sequence[CutPath], tuple[float, float], Mapping[str, str]], bytes]

FORMATS: Mapping[str, Drawer] = {"svg": cut_svg, "dxf": cut_dxf}
"""File ending → what draws it; a new cut format is one line here."""


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``cut/ID.svg`` and ``cut/ID.dxf`` for every sheet and board.

    Lines of printed sheets follow a printer whose scale is known (`truescale`).

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called with sheets done and sheets in all.
    """
    target = folder / "cut"
    target.mkdir(exist_ok=True)
    for done, sheet in enumerate(job.sheets, start=1):
        scale = cut_scale(job.workshop.printer, sheet.kind)
        cuts = scaled_cuts(sheet.cuts, sheet.size_mm, scale)
        write_drawing(job, target / sheet.id, cuts, sheet.size_mm)
        progress(done, len(job.sheets))


def write_drawing(
    job: Job, stem: Path, cuts: Sequence[CutPath], size_mm: tuple[float, float]
) -> None:
    """Write one drawing in each of the cutter's formats; `stem` is the path without ending."""
    cutter = job.workshop.cutter
    for ending, drawer in FORMATS.items():
        if ending in cutter.files:
            path = stem.with_name(f"{stem.name}.{ending}")
            path.write_bytes(drawer(cuts, size_mm, cutter.colours))

"""The jig: the marked frame and two corner windows, so that a print can be laid to the line."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from namebatch.job import Job
from namebatch.output.cutfiles import write_drawing
from namebatch.output.truescale import cut_scale, scaled_cuts
from namebatch.sheet.model import CutPath

EDGE_MM = 0.5
"""No line of a jig comes nearer to its edge."""


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``jig.svg`` and ``jig.dxf``; nothing when nothing is printed.

    The marked frame has the size that the printed one has (`truescale`), about the page's middle
    as on the page itself, however large the jig is.

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called once, when the jig is there.
    """
    if job.jig is not None:
        scale = cut_scale(job.workshop.printer, "face")
        cuts = scaled_cuts(job.jig.cuts, job.jig.page_mm, scale)
        if job.jig.is_larger:
            cuts = tuple(_on_sheet(cut, job.jig.size_mm) for cut in cuts)
        write_drawing(job, folder / "jig", cuts, job.jig.size_mm)
        progress(1, 1)


def _on_sheet(cut: CutPath, size_mm: tuple[float, float]) -> CutPath:
    """A line whose ends were scaled off the sheet, brought back; the frame lies farther in."""
    width, height = size_mm
    points = tuple(
        (min(max(x, EDGE_MM), width - EDGE_MM), min(max(y, EDGE_MM), height - EDGE_MM))
        for x, y in cut.points
    )
    return replace(cut, points=points)

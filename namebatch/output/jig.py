"""The jig: the marked frame and two corner windows, so that a print can be laid to the line."""

from collections.abc import Callable
from pathlib import Path

from namebatch.job import Job
from namebatch.output.cutfiles import write_drawing
from namebatch.output.truescale import cut_scale, scaled_cuts


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``jig.svg`` and ``jig.dxf``; nothing when nothing is printed.

    The marked frame has the size that the printed one has (`truescale`).

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called once, when the jig is there.
    """
    if job.jig is not None:
        scale = cut_scale(job.workshop.printer, "face")
        cuts = scaled_cuts(job.jig.cuts, job.jig.size_mm, scale)
        write_drawing(job, folder / "jig", cuts, job.jig.size_mm)
        progress(1, 1)

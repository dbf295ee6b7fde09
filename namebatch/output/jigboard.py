"""What lies under the jig, and whether there is an edge to fix the jig by. mm."""

from namebatch.job import Job
from namebatch.sheet.jig import LEAST_FLAP_MM, flap_mm, lying_board

Size = tuple[float, float]


def board_under(job: Job) -> Size | None:
    """What pages are mounted on before they are cut, as it lies; None where it is the page's size.

    Args:
        job: with or without a jig.
    """
    material = job.workshop.materials.get(job.template.material)
    if job.jig is None or not job.template.finish.mounted:
        return None
    if material is None or material.sheet_mm is None:
        return None
    return lying_board(material.sheet_mm, job.jig.page_mm, job.workshop.cutter.bed_mm)


def has_edge(job: Job) -> bool:
    """True if the jig can be fixed to the bed: it reaches past what is under it, or turns with it.

    Args:
        job: with a jig.
    """
    board = board_under(job)
    return job.jig is None or board is None or flap_mm(job.jig.size_mm, board) >= LEAST_FLAP_MM

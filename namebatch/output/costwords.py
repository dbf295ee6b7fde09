"""What a job's cost counts and what it leaves out, in words for work card and terminal."""

from namebatch.job import Job
from namebatch.output.stepwords import has_holes


def cost_words(job: Job) -> str:
    """How a cost comes about; nothing is promised by leaving something out unsaid.

    Args:
        job: one with a cost.
    """
    total, cutting = job.totals.cost or 0.0, job.totals.cutting_cost
    material = f"material {total - (cutting or 0.0):,.2f}"
    if cutting is None:
        told = f"{material}; the workshop file has no price for the cutter's time"
    else:
        told = f"{material}, cutting {cutting:,.2f}, at the workshop file's prices"
    left_out = ", ".join(_not_counted(job))
    return f"{told}; not counted: {left_out}" if left_out else told


def _not_counted(job: Job) -> list[str]:
    """What the job needs and has no price for."""
    template, finish = job.template, job.template.finish
    printed = any(sheet.kind == "face" for sheet in job.sheets)
    glued = (template.build == "faced" or finish.mounted or template.has_backs) and (
        finish.tape == "none"
    )
    joined = template.joint is not None and any(piece.parts for piece in job.pieces)
    found = {
        "part-used boards (paid for with the job that they were new for)": any(
            sheet.part_used for sheet in job.sheets
        ),
        "paper": printed and finish.mounted,
        "pouches": printed and finish.laminate == "pouch",
        "film": printed and finish.laminate == "film",
        "tape": finish.tape != "none",
        "glue": glued or joined,
        "rings": has_holes(job),
        "the jig sheet": job.jig is not None,
    }
    return [what for what, needed in found.items() if needed]

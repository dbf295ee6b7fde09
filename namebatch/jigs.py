"""The jig that suits a job, and what has to be known about it."""

from namebatch.sheet import Stock, jig_of
from namebatch.sheet.jig import LEAST_FLAP_MM, flap_mm, jig_size, lying_board
from namebatch.sheet.model import Jig
from namebatch.template.model import Template
from namebatch.template.workshop import Material, Workshop

LEAST_WEB_MM = 1.0
"""A web below this is fragile (school-safety and cutting-shop guidance)."""


def job_jig(template: Template, workshop: Workshop, stocks: tuple[Stock, ...]) -> Jig | None:
    """The jig for a job's printed pages; None where nothing is printed.

    Raises:
        SheetError: no jig can be made for these sheets.
    """
    page = next((stock.page for stock in stocks if stock.kind == "face"), None)
    if page is None:
        return None
    board = mounted_on(template, workshop)
    size = jig_size(page.size_mm, board, workshop.cutter.jig_mm, workshop.cutter.bed_mm)
    return jig_of(page, size)


def mounted_on(template: Template, workshop: Workshop) -> tuple[float, float] | None:
    """Size of the sheets that pages are mounted on before they are cut.

    None where pages are cut as they are, and where the material comes in the page's own size.
    """
    if not template.finish.mounted:
        return None
    return workshop.materials[template.material].sheet_mm


def jig_notes(jig: Jig | None, template: Template, workshop: Workshop) -> tuple[str, ...]:
    """What of a jig may not hold, and what to do about it."""
    if jig is None:
        return ()
    notes: list[str] = []
    material = workshop.materials[template.material]
    least = 0.0 if template.finish.mounted else material.minimum_width_mm
    if jig.web_mm < max(least, LEAST_WEB_MM):
        notes.append(
            f"Beside its windows the jig is only {jig.web_mm:.2g} mm wide at the edge of the "
            "sheet and tears easily. Give the printer wider margins in the workshop file "
            "(margins_mm), so that the frame lies farther in."
        )
    board = mounted_on(template, workshop)
    if board is not None:
        notes += _mounted_notes(jig, board, workshop, material)
    return tuple(notes)


def _mounted_notes(
    jig: Jig, board: tuple[float, float], workshop: Workshop, material: Material
) -> tuple[str, ...]:
    """Where a jig can be fixed beside a board that lies under it."""
    lying = lying_board(board, jig.page_mm, workshop.cutter.bed_mm)
    if flap_mm(jig.size_mm, lying) >= LEAST_FLAP_MM:
        return ()
    return (
        f"The jig of {jig.size_mm[0]:g} × {jig.size_mm[1]:g} mm does not reach past the sheets of "
        f"{material.title} ({lying[0]:g} × {lying[1]:g} mm) that lie under it, so there is no "
        "edge to fix it to the bed by. Cut the sheets smaller, or make the jig of a larger one "
        "(jig under [cutter] in the workshop file).",
    )

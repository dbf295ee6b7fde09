"""Fronts and backs on two pages that are stuck back to back and cut together. mm.

The page with the backs is the sheet turned over left to right: a point at x on the one lies at the
sheet's width less x on the other. The frame stands in the middle of the width (`sheet.frame`) and
so falls onto itself; `pages_of` says which page of the print file is which.
"""

from collections.abc import Sequence
from dataclasses import replace

from namebatch.job import Job
from namebatch.output.docpage import counted
from namebatch.output.stepwords import Step, has_holes, sheets_of
from namebatch.sheet.model import Rect, ScaleBar, Sheet


def turned_over(sheet: Sheet, bars: Sequence[ScaleBar]) -> tuple[Sheet, tuple[ScaleBar, ...]]:
    """A sheet and its scale bars for the page behind it.

    Level bars stay where they are, so that their length can be read beside them as ever.
    """
    width = sheet.size_mm[0]
    page = replace(
        sheet,
        id=f"{sheet.id} back",
        frame_mm=_mirrored(sheet.frame_mm, width),
        usable_mm=_mirrored(sheet.usable_mm, width),
    )
    return page, tuple(_behind(bar, width) for bar in bars)


def _mirrored(rect: Rect, width_mm: float) -> Rect:
    x, y, width, height = rect
    return round(width_mm - x - width, 4), y, width, height


def _behind(bar: ScaleBar, width_mm: float) -> ScaleBar:
    """An upright bar goes to the other side; a level one has room where it is."""
    (x0, y0), (x1, y1) = bar.start, bar.end
    if x0 != x1:
        return bar
    x = round(width_mm - x0, 4)
    return replace(bar, start=(x, y0), end=(x, y1))


def pages_of(job: Job) -> dict[str, tuple[int, ...]]:
    """Sheet id → its pages in the print file, counted from 1: the front, then the back."""
    found, page = {}, job.section.pages if job.section else 0
    for sheet in job.sheets:
        if sheet.kind == "face":
            count = 2 if sheet.backs else 1
            found[sheet.id] = tuple(range(page + 1, page + count + 1))
            page += count
    return found


def pages_said(job: Job) -> str:
    """How many pages the printed sheets are, and how fronts and backs come."""
    pages = [page for some in pages_of(job).values() for page in some]
    told = counted(len(pages), "page")
    if job.section is not None and pages:
        told += f" ({pages[0]:,} to {pages[-1]:,} of the file)"
    if not job.template.has_backs:
        return told
    return f"{told}, fronts and backs in turn, each on a sheet of its own,"


def pair_steps(job: Job) -> tuple[Step, ...]:
    """Fronts and backs into one sheet; nothing where there are no backs.

    Both pages are the same drawing up to an affine map each, so what they are apart is affine
    too, and is nowhere more than at the frame's worst corner.
    """
    if not job.template.has_backs or not sheets_of(job, "face"):
        return ()
    first = sheets_of(job, "face")[0].id
    bleed = f"{job.bleed_mm:g} mm" if job.bleed_mm else "a hair"
    return (
        Step(
            "Pair fronts and backs",
            f"Each front with the back of the same number ({first} with {first} back), printed "
            "sides out, against a window or on a light table until the two frames meet at all four "
            "corners. Or prick both at two opposite corners of the frame and put them on pins. "
            "Glue all over, so that no piece comes apart when it is cut, and press flat "
            "until dry. Backs are off by no more than the frames at their worst corner; more than "
            f"{bleed} would show white at the edge. From here on the front is up.",
        ),
    )


def flush_words(job: Job) -> str:
    """Where a print comes to lie on its board."""
    rim_mm = job.template.rim_mm
    hole = "flush at the hole, " if has_holes(job) else ""
    if rim_mm > 0:
        return f"{hole}the board standing out {rim_mm:g} mm all round"
    if rim_mm < 0:
        return f"{hole}the print standing {-rim_mm:g} mm over the board all round"
    return "flush at the edge and at the hole" if hole else "flush at the edge"

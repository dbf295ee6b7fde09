"""The steps of a job from the printer to the cut print, in the order in which they are done."""

from namebatch.job import Job
from namebatch.output.backs import pages_said, pair_steps
from namebatch.output.jigboard import has_edge
from namebatch.output.stepwords import (
    Step,
    bar_lengths,
    cutting,
    files_of,
    material_title,
    named,
    sheets_of,
    size_words,
)
from namebatch.sheet.model import Jig, Sheet
from namebatch.sheet.motion import run_of


def print_steps(job: Job) -> tuple[Step, ...]:
    """From the printer to the cut faces, first on the card; none where nothing is printed."""
    sheets = sheets_of(job, "face")
    if not sheets:
        return ()
    printed = (*_printing(job, sheets), *pair_steps(job))
    before = (*printed, *_finishing(job), *_jig_steps(job))
    return (*before, *_laying(job), _cutting(job, sheets, len(before) + 1))


def _printing(job: Job, sheets: tuple[Sheet, ...]) -> tuple[Step, ...]:
    """Print, and measure what came out."""
    pages = pages_said(job)
    paper = "paper" if job.template.finish.mounted else material_title(job, job.template.material)
    return (
        Step(
            "Print",
            f"{pages} on {paper}, at 100 % or “actual size”. Never “fit to page”.",
            ("print.pdf",),
        ),
        Step(
            "Measure",
            f"Hold a steel rule to the scale bars of every page: {bar_lengths(job)}. A bar of "
            "another length means the cut will miss the print: set the printer right and print "
            "again, or measure it (on the page under Workshop, or namebatch calibrate print) and "
            "make the job again.",
        ),
    )


def _finishing(job: Job) -> tuple[Step, ...]:
    """Laminate, tape and mounting, where the template asks for them."""
    finish = job.template.finish
    steps: list[Step] = []
    if finish.laminate != "none":
        steps += [_laminate(job), _measure_again(job)]
    if finish.tape == "face":
        steps.append(
            Step(
                "Tape the pages",
                "Lay double-sided tape on the back of every page, edge to edge and without "
                "bubbles. Leave the liner on: tape and print are cut in one.",
            )
        )
    if finish.mounted:
        steps.append(_mount_pages(job))
    return tuple(steps)


def _laminate(job: Job) -> Step:
    """A pouch round the page, or film on its print."""
    finish = job.template.finish
    if finish.laminate == "pouch":
        how = (
            f"One pouch a page, {finish.laminate_mm:g} mm a side, the page in its middle. As warm "
            "as the pouch's maker says, then flat under a weight until it is cold."
        )
    else:
        where = "on both printed sides" if job.template.has_backs else "on the printed side"
        how = (
            f"Film of {finish.laminate_mm:g} mm {where}, without bubbles, out to the frame and "
            "beyond it."
        )
    return Step("Laminate", how)


def _measure_again(job: Job) -> Step:
    """Heat and pull may have changed the size."""
    return Step(
        "Measure again",
        "Laminating can change the size by a little. If the bars are no longer "
        f"{bar_lengths(job)}, cut each sheet by the corners of its own frame (open it on the page "
        "under Make, or namebatch align), or measure laminated test pages (on the page under "
        "Workshop, or namebatch calibrate print) and make the job again.",
    )


def _mount_pages(job: Job) -> Step:
    """Pages onto sheets of the material that is cut with them."""
    title = material_title(job, job.template.material)
    size = _board_size(job)
    how = {
        "face": "Peel the liner off little by little.",
        "board": "Lay tape on the sheet first, as large as the page, and peel its liner off little "
        "by little.",
        "none": "Glue or tape all over, so that no piece comes off when it is cut free.",
    }[job.template.finish.tape]
    return Step(
        "Mount the pages",
        f"Each page on a sheet of {title}{f' ({size_words(size)})' if size else ''}, its lower "
        f"left corner to that of the sheet. {how} Flat under a weight until it holds.",
    )


def _jig_steps(job: Job) -> tuple[Step, ...]:
    """What is fixed to the bed, and what the cutter does to it."""
    jig = job.jig
    if jig is None:
        return ()
    old = " One of this size from the first job will do." if job.again else ""
    size, board = size_words(jig.size_mm), _board_size(job)
    material = job.workshop.materials.get(job.template.material)
    if board is not None and not has_edge(job):
        where = (
            f"The jig sheet ({size}) does not reach past the sheets of "
            f"{material_title(job, job.template.material)} ({size_words(board)}) that lie under "
            "it, so there is no edge to fix it by. Cut the sheets smaller, or make the jig of a "
            "larger one (jig under [cutter] in the workshop file), before it is made."
        )
    elif board is not None and material is not None:
        where = (
            f"Lay strips of {material.title} on the bed beyond the right or the upper edge of the "
            f"sheets, and fix a jig sheet ({size}) on them: it has to lie level with what is under "
            "it, and to turn up like a page. Its lower left corner is the zero point."
        )
    else:
        corner = " Its lower left corner is the zero point." if jig.is_larger else ""
        where = (
            f"Fix a jig sheet ({size}) to the bed along one edge, so that it turns like a page."
            f"{corner}"
        )
    run = (
        "Run the jig file: it marks the frame's lines right across the sheet, then cuts the two "
        "windows."
        if jig.is_larger
        else "Run the jig file: it marks the frame, then cuts the two windows."
    )
    files = (named(job, "jig.*"),)
    return (Step("Make the jig", f"{where} {run}{old}", files, jig_seconds(job, jig)),)


def jig_seconds(job: Job, jig: Jig) -> float | None:
    """Time for a jig of the material that is printed on; None where it is of another one."""
    material = job.workshop.materials.get(job.template.material)
    if material is None or job.template.finish.mounted:
        return None
    return run_of(jig.cuts, material, job.workshop.cutter).seconds


def _laying(job: Job) -> tuple[Step, ...]:
    """A print to the line, and fast."""
    mounted, larger = job.template.finish.mounted, job.jig is not None and job.jig.is_larger
    what = "mounted print" if mounted else "print"
    beyond = (
        " Beyond the edge of the sheet the marked lines go on: a straightedge along them finds "
        "the frame, too."
        if larger
        else ""
    )
    fast = (
        "Fix the sheet to the bed without moving it, with tape or weights beside the cut lines"
        if mounted
        else "Tape the print to the bed without moving it"
    )
    if not has_edge(job):
        return _without_edge(job, what, fast)
    return (
        Step(
            "Lay the print",
            f"Slide the {what} under the jig. Line its printed frame up with the marked frame in "
            f"both windows.{beyond}",
        ),
        Step("Tape it down", f"{fast}, then fold the jig away."),
    )


def _without_edge(job: Job, what: str, fast: str) -> tuple[Step, ...]:
    """A jig that nothing holds: nothing is slid under it, and it is not folded away."""
    first = sheets_of(job, "face")[0].id
    return (
        Step(
            "Lay the print",
            "This jig has no edge to turn about, so nothing can be laid to it: put that right "
            f"first (“Make the jig”). Or do without a jig: lay the {what} anyhow, fix it as below, "
            "measure where the pointer finds the corners of its frame, and cut with the file that "
            f"is moved there (open the sheet on the page under Make, or "
            f"namebatch align FOLDER --sheet {first} --measured marks.csv).",
        ),
        Step("Tape it down", f"{fast}."),
    )


def _cutting(job: Job, sheets: tuple[Sheet, ...], lay: int) -> Step:
    """The file with the number on the sheet; back to step `lay` with the next one."""
    again = f" Then back to step {lay} with the next sheet." if len(sheets) > 1 else ""
    return Step(
        "Cut the faces",
        f"Run the file that has the number printed on the sheet.{again}",
        files_of(job, sheets),
        cutting(sheets),
    )


def _board_size(job: Job) -> tuple[float, float] | None:
    """What the pages are mounted on before they are cut, if it has a size of its own."""
    material = job.workshop.materials.get(job.template.material)
    return material.sheet_mm if material and job.template.finish.mounted else None

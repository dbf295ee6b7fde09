"""The step in which prints are mounted on boards, of a whole job and of one face made again."""

import shapely

from namebatch.job import Job
from namebatch.output.backs import flush_words
from namebatch.output.stepwords import Step, sheets_of, uses_laser
from namebatch.piece import cut_pieces


def mount_step(job: Job) -> Step:
    """Prints onto boards; of a remake only what was made again, and on what it goes.

    Args:
        job: of a faced build, with pieces.
    """
    peel = "Peel the liner off. " if job.template.finish.tape != "none" else ""
    soot = "Wipe off the soot. " if uses_laser(job) else ""
    prints = _prints_made(job)
    if not sheets_of(job, "board") and prints and len(prints) < len(job.template.faces):
        return Step("Mount", f"{soot}{peel}{_one_face(job, *prints)}")
    return Step("Mount", f"{_which(job, prints)}{soot}{peel}{_flush(job, prints)}")


def boards_alike(job: Job) -> bool:
    """True if every board of the job, and every print on one, has the very same outline."""
    pieces = [(piece, piece.cut_from("board")) for piece in cut_pieces(job.pieces)]
    return len({tuple(shapely.to_wkb(one.outline) for one in pair) for pair in pieces}) <= 1


def two_faced(job: Job) -> bool:
    """True if both sides are printed."""
    return "back" in job.template.faces


def _prints_made(job: Job) -> tuple[str, ...]:
    """Which faces the printed sheets of this job hold, the front first."""
    there = {place.face for sheet in sheets_of(job, "face") for place in sheet.placements}
    return tuple(face for face in job.template.faces if face in there)


def _one_face(job: Job, face: str) -> str:
    """One face of two, made again: the board and the other face are good."""
    other = "back" if face == "front" else "front"
    return (
        f"Only the new {face} is mounted: on the board that has the good {other} with the same id, "
        f"{flush_words(job)}. Where that {other} is not on its board yet, it goes on the other "
        f"side of the same one."
    )


def _which(job: Job, prints: tuple[str, ...]) -> str:
    """Which print goes on which board, and which of them are from the first job."""
    boards = bool(sheets_of(job, "board"))
    if not boards:
        return (
            "The boards are the good ones of the first job: a print goes on the one with its id, "
            "or on any where all boards are alike. "
        )
    which = (
        "All boards are alike: a print goes on any of them. "
        if boards_alike(job)
        else "A board takes its own print only: find its id on the map of the board, and which "
        "sheet the print is on in the assembly list. "
    )
    good = [face for face in job.template.faces if face not in prints]
    if not good:
        return which
    if job.again:  # of a few pieces nothing can be said about the boards of all
        which = "A print goes on the new board with its id. "
    whose = f"{good[0]} is" if len(good) == 1 else "prints are"
    many = "is the good one" if len(good) == 1 else "are the good ones"
    named = whose.rpartition(" ")[0]
    if len(job.template.faces) == 1:
        named = "print"
    return f"{which}The {named} {many} of the first job. "


def _flush(job: Job, prints: tuple[str, ...]) -> str:
    """How the prints lie on the board."""
    if not two_faced(job):
        return f"The print lies {flush_words(job)}."
    where = "assembly list and sheet map"
    if "back" not in prints:
        where += " of the first job"
    return (
        f"Front first, {flush_words(job)}. Let it hold, then turn it over and mount the back "
        f"with the same id (where it was: {where})."
    )

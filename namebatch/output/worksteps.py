"""The steps of a build in the order in which they are done, with the files they need."""

from namebatch.job import Job, some_of
from namebatch.output.docpage import counted
from namebatch.output.mounting import boards_alike as boards_alike
from namebatch.output.mounting import mount_step, two_faced
from namebatch.output.printsteps import print_steps
from namebatch.output.stepwords import Step as Step
from namebatch.output.stepwords import bar_lengths as bar_lengths
from namebatch.output.stepwords import (
    cutting,
    files_of,
    has_holes,
    size_words,
    uses_laser,
)
from namebatch.output.stepwords import material_title as material_title
from namebatch.output.stepwords import sheets_of as sheets_of
from namebatch.sheet.model import Sheet
from namebatch.splitting import WITHOUT_KEY

_MOST_IDS = 12


def steps(job: Job) -> tuple[Step, ...]:
    """The steps for this job's build; none when there is nothing to make."""
    if not job.pieces:
        return ()
    if job.template.build == "bare":
        return (*_cut_boards(job), _clean(job), *_join(job), _pack(job))
    prints = print_steps(job)
    onto = _cut_boards(job) if sheets_of(job, "board") else ()
    mount = (mount_step(job),) if job.template.build == "faced" else ()
    return (*prints, *onto, *_join(job), *mount, _pack(job))


def _cut_boards(job: Job) -> tuple[Step, ...]:
    """Boards against the stop, then cut."""
    boards = sheets_of(job, "board")
    name = job.template.board if job.template.build == "faced" else job.template.material
    title = material_title(job, name)
    sizes = sorted({size_words(board.size_mm) for board in boards})
    lay = Step(
        "Lay the board",
        f"{counted(len(boards), 'board')} of {title}, {', '.join(sizes)}. Lay each flat and to "
        f"the stop: its bottom left corner is the zero point of the file.{_part_used(boards)}",
    )
    cut = Step(
        "Cut the boards" if job.template.build == "faced" else "Cut",
        "One file a board, lines in the order of the file: marks and engraving first, then "
        "inside lines, then outlines.",
        files_of(job, boards),
        cutting(boards),
    )
    if job.template.finish.tape != "board":
        return lay, cut
    sides = "both sides" if two_faced(job) else "the side that the print goes on"
    tape = Step(
        "Tape the boards",
        f"Lay double-sided tape on {sides} of every board, edge to edge and without bubbles. "
        "Leave the liner on: tape and board are cut in one.",
    )
    return tape, lay, cut


def _part_used(boards: tuple[Sheet, ...]) -> str:
    """Which files belong to which part-used board."""
    old = [f"{board.id} on {board.part_used}" for board in boards if board.part_used]
    if not old:
        return ""
    return (
        " Part-used boards lie so that what is gone of them lies as on the sheet map: "
        f"{'; '.join(old)}."
    )


def _join(job: Job) -> tuple[Step, ...]:
    """Parts into pieces: of a faced job the boards, before prints are mounted on them."""
    rule, split = job.template.joint, [piece for piece in job.pieces if piece.parts]
    faced = job.template.build == "faced"
    if rule is None or not split or (faced and not sheets_of(job, "board")):
        return ()
    count = counted(sum(piece.copies for piece in split), "piece")
    if rule.kind == "keyed":
        how = "Glue the edges thinly and set the keys in from above, the front up."
        how += _without_keys(job)
    elif two_faced(job):
        how = "Lay the parts to a straight edge and glue the edges: there is no room for a strip."
    else:
        how = (
            "Lay the parts face down to a straight edge, glue the edges, and glue a strip over the "
            "joint from behind."
        )
    gap = f" The joint leaves {rule.fit_mm:g} mm for it." if rule.fit_mm else ""
    return (
        Step(
            "Join the parts",
            f"{count} in parts: lay out the {'boards' if faced else 'parts'} by the assembly "
            f"pictures. {how}{gap} Press flat under a weight until it holds.",
        ),
    )


def _without_keys(job: Job) -> str:
    """Which pieces have joints that no key had room on, and what holds those."""
    bare = [
        piece_id
        for piece in job.pieces
        if any(finding.code == WITHOUT_KEY for finding in piece.findings)
        for piece_id in piece.ids
    ]
    if not bare:
        return ""
    how = (
        "there is no room for a strip, so glue these edge to edge, along a straight edge"
        if two_faced(job)
        else "glue these onto a strip behind"
    )
    return f" Joints without a key in {some_of(bare, _MOST_IDS)}: {how}."


def _clean(job: Job) -> Step:
    """After the cutter."""
    soot = ", and wipe off the soot" if uses_laser(job) else ""
    return Step("Clean", f"Lift the pieces off, minding thin parts{soot}.")


def _pack(job: Job) -> Step:
    """Rings, counting, spoiled pieces."""
    ring = "If hung, put in rings, cords, ribbons or screws. " if has_holes(job) else ""
    return Step(
        "Pack",
        f"{ring}Tick every piece on the assembly list: {counted(job.totals.pieces, 'piece')} in "
        "all. Write down the ids of spoiled ones, so that only they are made again (on the page "
        f"under Make, or namebatch remake FOLDER --piece {job.pieces[0].ids[0]}).",
    )

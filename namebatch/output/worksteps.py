"""The steps of a build in the order in which they are done, with the files they need."""

from dataclasses import dataclass

from namebatch.job import Job
from namebatch.output.docpage import counted
from namebatch.output.truescale import cut_scale
from namebatch.sheet.model import Sheet
from namebatch.template.workshop import Material


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what to do, how, and which files of the job folder are used."""

    title: str
    text: str
    files: tuple[str, ...] = ()


def steps(job: Job) -> tuple[Step, ...]:
    """The steps for this job's build; none when there is nothing to make."""
    if not job.pieces:
        return ()
    if job.template.build == "bare":
        return (*_cut_boards(job), _clean(job), *_join(job), _pack(job))
    prints = _print_steps(job) if sheets_of(job, "face") else ()
    onto = _cut_boards(job) if sheets_of(job, "board") else ()
    mount = (_mount(job),) if job.template.build == "faced" else ()
    return (*prints, *onto, *_join(job), *mount, _pack(job))


def sheets_of(job: Job, kind: str) -> tuple[Sheet, ...]:
    """The printed sheets (`face`) or the boards (`board`)."""
    return tuple(sheet for sheet in job.sheets if sheet.kind == kind)


def material_title(job: Job, name: str | None) -> str:
    """A material as people call it."""
    material: Material | None = job.workshop.materials.get(name or "")
    return material.title if material else (name or "material")


def bar_lengths(job: Job) -> str:
    """How long the scale bars of every printed page are, across and up, as they will be measured.

    A printer that is known to be off prints them so, and the cut follows; to 0.1 mm.
    """
    scale = cut_scale(job.workshop.printer, "face")
    true = [
        round(bar.length_mm * scale[0 if bar.start[1] == bar.end[1] else 1], 1)
        for bar in job.scale_bars
    ]
    lengths = [f"{length:g} mm" for length in true]
    if len(set(lengths)) <= 1:
        return f"{lengths[0]} across and up" if lengths else "none"
    return f"{lengths[0]} across and {lengths[1]} up"


def _named(job: Job, names: str) -> str:
    """File names with the endings that the cutter takes: `jig.svg or .dxf`."""
    first, *others = job.workshop.cutter.files or ("svg",)
    also = "".join(f" or .{suffix}" for suffix in others)
    return names.replace("*", first) + also


def _files(job: Job, sheets: tuple[Sheet, ...]) -> tuple[str, ...]:
    """Names of the cut files as a range."""
    if not sheets:
        return ()
    first, last = sheets[0].id, sheets[-1].id
    names = f"cut/{first}.*" if first == last else f"cut/{first}.* … {last}.*"
    return (_named(job, names),)


def _print_steps(job: Job) -> tuple[Step, ...]:
    """From the printer to the cut faces."""
    sheets = sheets_of(job, "face")
    pages = counted(len(sheets), "page")
    paper = material_title(job, job.template.material)
    width, height = sheets[0].size_mm if sheets else (0.0, 0.0)
    jig_size = f"{width:g} × {height:g} mm"
    again = " Then back to step 4 with the next sheet." if len(sheets) > 1 else ""
    old_jig = " One of this size from the first job will do." if job.again else ""
    return (
        Step(
            "Print",
            f"{pages} on {paper}, at 100 % or “actual size”. Never “fit to page”.",
            ("print.pdf",),
        ),
        Step(
            "Measure",
            f"Lay a steel rule on the scale bars of every page: {bar_lengths(job)}. A bar of "
            "another length means the cut will miss the print: set the printer right and print "
            "again, or measure it (namebatch calibrate print) and make the job again.",
        ),
        Step(
            "Make the jig",
            f"Fix a jig sheet ({jig_size}) to the bed along one edge, so that it turns like a "
            f"page. Run the jig file: it marks the frame, then cuts the two windows.{old_jig}",
            (_named(job, "jig.*"),),
        ),
        Step(
            "Lay the print",
            "Slide the print under the jig. Line its printed frame up with the marked frame in "
            "both windows.",
        ),
        Step(
            "Tape it down",
            "Tape the print to the bed without moving it, then fold the jig away.",
        ),
        Step(
            "Cut the faces",
            f"Run the file that has the number printed on the sheet.{again}",
            _files(job, sheets),
        ),
    )


def _cut_boards(job: Job) -> tuple[Step, ...]:
    """Boards against the stop, then cut."""
    boards = sheets_of(job, "board")
    name = job.template.board if job.template.build == "faced" else job.template.material
    title = material_title(job, name)
    sizes = sorted({f"{b.size_mm[0]:g} × {b.size_mm[1]:g} mm" for b in boards})
    lay = Step(
        "Lay the board",
        f"{counted(len(boards), 'board')} of {title}, {', '.join(sizes)}. Lay each flat and to "
        f"the stop: its bottom left corner is the zero point of the file.{_part_used(boards)}",
    )
    cut = Step(
        "Cut the boards" if job.template.build == "faced" else "Cut",
        "One file a board, lines in the order of the file: marks and engraving first, then "
        "inside lines, then outlines.",
        _files(job, boards),
    )
    return lay, cut


def _part_used(boards: tuple[Sheet, ...]) -> str:
    """Which files belong to which part-used board."""
    old = [f"{board.id} on {board.part_used}" for board in boards if board.part_used]
    if not old:
        return ""
    return (
        f" Part-used boards go as they lay before, what is gone as on the sheet map: "
        f"{'; '.join(old)}."
    )


def _join(job: Job) -> tuple[Step, ...]:
    """Parts into pieces: of a faced job the boards, before prints are mounted on them."""
    rule, split = job.template.joint, [piece for piece in job.pieces if piece.parts]
    if rule is None or not split:
        return ()
    what = "boards" if job.template.build == "faced" else "parts"
    count = counted(sum(piece.copies for piece in split), "piece")
    how = (
        "Glue the edges thinly, set the keys in from above with the front up, and press the joint "
        "flat under a weight until it holds."
        if rule.kind == "keyed"
        else "Lay the parts face down to a straight edge, glue the edges, and glue a strip over "
        "the joint from behind. Leave it under a weight until it holds."
    )
    gap = f" The parts are cut {rule.fit_mm:g} mm apart." if rule.fit_mm else ""
    return (
        Step(
            "Join the parts",
            f"{count} in parts: lay out the {what} by the assembly pictures. {how}{gap}",
        ),
    )


def _mount(job: Job) -> Step:
    """Prints onto boards; of a remake some may be good ones of the first job."""
    both = sheets_of(job, "face") and sheets_of(job, "board")
    good = "" if both else "What is not made again is the good part of the first job. "
    back = " Let it hold, then turn it over and mount the back." if _two_faced(job) else ""
    return Step(
        "Mount",
        f"Match print and board by the assembly list. {good}Wipe off the soot. Front first, flush "
        f"at the edge and at the hole.{back}",
    )


def _two_faced(job: Job) -> bool:
    """True if both sides are printed."""
    return "back" in job.template.faces


def _clean(job: Job) -> Step:
    """After the cutter."""
    return Step("Clean", "Lift the pieces off, minding thin parts, and wipe off the soot.")


def _pack(job: Job) -> Step:
    """Rings, counting, spoiled pieces."""
    ring = "Put in rings, cords or ribbons. " if job.template.holes else ""
    return Step(
        "Pack",
        f"{ring}Tick every piece on the assembly list: {counted(job.totals.pieces, 'piece')} in "
        "all. Write down the ids of spoiled ones, so that only they are made again (namebatch "
        "remake).",
    )

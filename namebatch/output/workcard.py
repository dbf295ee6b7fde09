"""`workcard.pdf`: what lies beside the machine: steps, sheet maps, assembly list, cautions."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import accumulate
from pathlib import Path
from typing import Any

from reportlab.lib.colors import HexColor

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.output.assembly import assembly_pictures
from namebatch.output.assemblylist import assembly_list
from namebatch.output.at_machine import machine_lines
from namebatch.output.cautions import Caution, cautions
from namebatch.output.docpage import (
    ACCENT,
    INK,
    PALE,
    QUIET,
    RIGHT,
    WIDTH,
    Block,
    counts,
    document_of,
    flow,
    heading,
    masthead,
    minutes,
    paragraph,
    rule,
    sign,
    text_block,
    tick_box,
    write_pages,
)
from namebatch.output.jigpicture import jig_picture
from namebatch.output.lettering import MM, draw_text, shorten, text_width, wrap
from namebatch.output.materials import Line, material_lines, settings_table
from namebatch.output.paper import paper_of
from namebatch.output.sheetmap import sheet_maps
from namebatch.output.smallparts import SmallParts
from namebatch.output.stepwords import Step, uses_laser
from namebatch.output.worksteps import steps
from namebatch.template.examples import example_parts, listed_parts

_STEPS_WIDTH = 110 * MM
_SIDE = WIDTH - _STEPS_WIDTH - 10 * MM
_INDENT = 15 * MM
_COLUMN_HEAD = 9 * MM
_TIMES = "times are the cutter's alone, laying and taping not counted"


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write `workcard.pdf` into the folder.

    Args:
        job: the batch.
        folder: the job folder; it must exist.
        progress: called with (pages written, pages in all).
    """
    paper = paper_of(job)
    pages = flow(card_blocks(job), paper.room)

    def done(number: int) -> None:
        progress(number, len(pages))

    write_pages(folder / "workcard.pdf", document_of(job, "Work card"), pages, done, paper)


def card_blocks(job: Job) -> Iterable[Block]:
    """The card from top to bottom."""
    yield from front_blocks(job)
    if not job.pieces:
        return
    yield from jig_picture(job)
    maps = list(sheet_maps(job))
    if maps:
        aside = "to scale; the marked corner is the zero point"
        if "back" in job.template.faces and not job.template.has_backs:
            aside += "; b is a back"
        yield heading("Sheet maps", aside, keep=maps[0].height)
        yield from maps
    yield from assembly_list(job)
    yield from assembly_pictures(job)


def front_blocks(job: Job, small: SmallParts | None = None) -> Iterable[Block]:
    """The card as far as it is about the job as a whole: figures, steps, cautions, material.

    Args:
        job: the batch.
        small: the result of the small-parts test, where it is known already.
    """
    if not job.pieces:
        yield from _nothing_to_make(job)
        return
    head = [masthead(document_of(job, "Work card"), _facts_line(job)), counts(_figures(job), 26)]
    yield from head
    room = paper_of(job).room - sum(block.height for block in head)
    first = list(_first_page(job, room, cautions(job, small)))
    yield from first
    yield from _materials(job, new_page=len(first) == 1)


def _nothing_to_make(job: Job) -> Iterable[Block]:
    """The whole card of a job without a piece: no orders, where the reasons are."""
    yield masthead(document_of(job, "Work card"), job.names.source)
    yield counts(_lines(job), 26)
    yield heading("Nothing to make", keep=20 * MM)
    total = job.totals.held
    place = job.names.place.lower()
    which = f"The one {place} of the list is"
    if total != 1:
        which = f"All {total:,} {place}s of the list are"
    yield text_block(
        f"{which} held, so there is nothing to print, to cut or to pack. Why, and what to do, "
        f"stands in proof.pdf under “Not made”, and in held.csv beside each {place}. Mend the list "
        "and make the job again.",
        10,
    )


def _facts_line(job: Job) -> str:
    """The list and the kind of build."""
    build = {
        "faced": "prints on cut boards",
        "printed": "the print itself is cut",
        "bare": "cut without print",
    }[job.template.build]
    return f"{job.names.source}  ·  {build}"


def _figures(job: Job) -> tuple[tuple[str, str, str], ...]:
    """The figures that cost money, and the sum of the lines."""
    t = job.totals
    items = [(f"{t.pieces:,}", "piece" if t.pieces == 1 else "pieces", "")]
    if t.sheets:
        items.append((f"{t.sheets:,}", "sheet" if t.sheets == 1 else "sheets", ""))
    if t.boards:
        items.append((f"{t.boards:,}", "board" if t.boards == 1 else "boards", ""))
    items.append((minutes(t.cut_seconds), "at the cutter, expected", ""))
    return (*items, *_lines(job, "|"))


def _lines(job: Job, before: str = "") -> tuple[tuple[str, str, str], ...]:
    """118 lines in = 115 made + 3 held."""
    t, place = job.totals, job.names.place.lower()
    return (
        (f"{t.rows:,}", f"{place}{'s' if t.rows != 1 else ''} in", before),
        (f"{t.made:,}", "made", "="),
        (f"{t.held:,}", "held", "+"),
    )


def _first_page(job: Job, room: float, care: Sequence[Caution]) -> Iterable[Block]:
    """Steps, and beside them what to mind; what has no room there goes on over the next page."""
    todo = list(enumerate(steps(job), start=1))
    left = [_step_block(number, step, _STEPS_WIDTH) for number, step in todo]
    right = [_caution_block(caution, _SIDE) for caution in care]
    steps_here, cautions_here = (
        _fitting(left, room - _COLUMN_HEAD),
        _fitting(right, room - _COLUMN_HEAD),
    )
    here = left[:steps_here], right[:cautions_here]
    height = max(sum(block.height for block in column) for column in here) + _COLUMN_HEAD
    yield Block(height, partial(_side_by_side, *here))
    if steps_here < len(todo):
        yield heading("Steps, further", _TIMES, new_page=True)
        yield from (_step_block(number, step, WIDTH) for number, step in todo[steps_here:])
    if cautions_here < len(care):
        yield heading("Take care, further", new_page=steps_here == len(todo))
        yield from (_caution_block(caution, WIDTH) for caution in care[cautions_here:])


def _fitting(blocks: Sequence[Block], room: float) -> int:
    """How many blocks, from the first on, have room one below the other."""
    heights = accumulate(block.height for block in blocks)
    return sum(height <= room for height in heights)


def _side_by_side(
    left: Sequence[Block], right: Sequence[Block], canvas: Any, x: float, y: float
) -> None:
    """Two columns of blocks under their headings, the right one on pale ground."""
    side = x + _STEPS_WIDTH + 10 * MM
    height = sum(block.height for block in right) + _COLUMN_HEAD
    canvas.setFillColor(PALE)
    canvas.rect(side - 4 * MM, y - height, RIGHT - side + 4 * MM, height, stroke=0, fill=1)
    for at, title, column in ((x, "Steps", left), (side, "Take care", right)):
        canvas.setFillColor(INK)
        end = draw_text(canvas, at, y - 6 * MM, title, 13, 700)
        if column is left:
            canvas.setFillColor(QUIET)
            draw_text(canvas, end + 4 * MM, y - 6 * MM, _TIMES, 8)
        down = y - _COLUMN_HEAD
        for block in column:
            block.draw(canvas, at, down)
            down -= block.height


def _step_block(number: int, step: Step, width: float) -> Block:
    """A step: box to tick, number, what to do, files."""
    lines = wrap(step.text, 9, 400, width - _INDENT)
    files = [line for name in step.files for line in wrap(name, 8.5, 700, width - _INDENT - 8)]
    height = 3.5 * MM + 12.5 + 12 * len(lines) + (15 if files else 0) + 11 * max(0, len(files) - 1)

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y, x + width)
        base = y - 14
        tick_box(canvas, x, base - 1.5, 10)
        canvas.setFillColor(ACCENT)
        draw_text(canvas, x + 6 * MM, base, str(number), 11, 700)
        canvas.setFillColor(INK)
        draw_text(canvas, x + _INDENT, base, step.title, 11, 700)
        if step.seconds is not None:
            told = f"about {minutes(step.seconds)}"
            canvas.setFillColor(QUIET)
            draw_text(canvas, x + width - text_width(told, 9), base, told, 9)
            canvas.setFillColor(INK)
        base = paragraph(canvas, x + _INDENT, base - 13, lines, 9, leading=12 / 9)
        for name in files:
            canvas.setFillColor(PALE)
            wide = text_width(name, 8.5, 700) + 8
            canvas.rect(x + _INDENT, base - 5, wide, 13, stroke=0, fill=1)
            canvas.setFillColor(INK)
            draw_text(canvas, x + _INDENT + 4, base - 1.2, name, 8.5, 700)
            base -= 13.5

    return Block(height, draw)


def _caution_block(caution: Caution, width: float) -> Block:
    """A caution: title, text, source."""
    title = wrap(caution.title, 9.5, 700, width - 5 * MM)
    lines = wrap(caution.text, 8.3, 400, width - 2 * MM)
    source = wrap(caution.source, 7, 400, width - 2 * MM)
    height = 12.5 * len(title) + 10.8 * len(lines) + 9 * len(source) + 3.4 * MM

    def draw(canvas: Any, x: float, y: float) -> None:
        base = y - 11
        left = x
        if caution.urgent:
            sign(canvas, x, base - 0.3, Severity.WARN, 7.5)
            left += 4 * MM
        colour = ACCENT if caution.urgent else INK
        base = paragraph(
            canvas, left, base, title, 9.5, weight=700, colour=colour, leading=12.5 / 9.5
        )
        base = paragraph(canvas, x, base + 0.5, lines, 8.3, leading=10.8 / 8.3)
        paragraph(canvas, x, base, source, 7, colour=QUIET, leading=9 / 7)

    return Block(height, draw)


def _materials(job: Job, new_page: bool) -> Iterable[Block]:
    """What is needed, the settings as the workshop file has them, and the job's notes."""
    lines = material_lines(job)
    yield heading("Material", keep=20 * MM, new_page=new_page)
    yield from (_material_block(line) for line in lines)
    table = settings_table(job)
    yield Block(5 * MM, lambda canvas, x, y: None)
    yield heading("Settings", f"from the workshop file “{job.workshop.name}”", keep=25 * MM)
    if job.workshop.built_in:
        yield text_block(
            "These are example values that come with the program, not this workshop's: kerf, "
            "speeds and times are not to be trusted until your own stand in a workshop file.",
            9,
            weight=700,
            colour=ACCENT,
        )
    examples = example_parts(job.template, job.workshop)
    if examples:
        yield text_block(
            f"Not this workshop's own yet: the values for {listed_parts(examples)} came with the "
            "program and are not to be trusted.",
            9,
            weight=700,
            colour=ACCENT,
        )
    yield from (
        _settings_row(row, head=number == 0, columns=len(table[0]))
        for number, row in enumerate(table)
    )
    yield Block(3 * MM, lambda canvas, x, y: None)
    yield from _at_the_machine(job)
    notes = [(f.severity, f"Template: {f.message}") for f in job.template.warnings]
    notes += [(Severity.NOTE, text) for text in job.notes]
    if notes:
        yield heading("Notes", keep=12 * MM)
        for severity, text in notes:
            block = text_block(text, 9, indent=5 * MM, after=1.5 * MM)
            yield Block(block.height, partial(_noted, block, severity))
    yield Block(4 * MM, lambda canvas, x, y: None)


def _at_the_machine(job: Job) -> Iterable[Block]:
    """What the workshop file says of power, passes and the like, or that it says nothing."""
    lines = machine_lines(job)
    test = (
        "Use what your own test cut on this very material gave; the machine's manual comes first."
    )
    if lines:
        yield text_block("At the machine, in the workshop's own words:", 8.5, colour=QUIET)
        yield from (text_block(line, 9, indent=5 * MM, after=1.5 * MM) for line in lines)
    else:
        lacking = "Power is" if uses_laser(job) else "Force and depth of the blade are"
        test = f"{lacking} not in the workshop file. {test}"
    yield text_block(test, 8.5, colour=QUIET)


def _noted(block: Block, severity: Severity, canvas: Any, x: float, y: float) -> None:
    """A note or a warning with its sign."""
    sign(canvas, x, y - 8.6, severity, 6.4)
    block.draw(canvas, x, y)


def _material_block(line: Line) -> Block:
    """One material: box, amount, name, remark."""
    remark = wrap(line.remark, 9, 400, WIDTH - 95 * MM, most=3)
    name = wrap(line.name, 9.5, 700, 60 * MM, most=3)
    height = 12.5 * max(1, len(remark), len(name)) + 2.4 * MM

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y, x + WIDTH)
        base = y - 13
        if line.tick:
            tick_box(canvas, x, base - 1)
        canvas.setFillColor(INK)
        draw_text(
            canvas, x + 22 * MM - text_width(line.amount, 11, 700), base, line.amount, 11, 700
        )
        paragraph(canvas, x + 27 * MM, base, name, 9.5, weight=700, leading=12.5 / 9.5)
        paragraph(canvas, x + 92 * MM, base, remark, 9, colour=QUIET, leading=12.5 / 9)

    return Block(height, draw)


def _settings_row(row: Sequence[str], *, head: bool, columns: int) -> Block:
    """A line of the settings: name, colour of the line, one value a material."""
    first = 52 * MM
    width = (WIDTH - first) / max(1, columns - 1)

    def draw(canvas: Any, x: float, y: float) -> None:
        if not head:
            rule(canvas, x, y, x + WIDTH)
        base = y - 12
        name, _, colour = row[0].partition("\t")
        canvas.setFillColor(QUIET if head else INK)
        end = draw_text(canvas, x, base, name, 8.5, 700 if head else 400)
        if colour:
            canvas.setFillColor(HexColor(colour))
            canvas.rect(x + 24 * MM, base, 7 * MM, 5, stroke=0, fill=1)
            canvas.setFillColor(QUIET)
            draw_text(canvas, max(end + 4, x + 33 * MM), base, colour, 8)
        for number, value in enumerate(row[1:]):
            canvas.setFillColor(QUIET if head else INK)
            short = shorten(value, 9, 700 if head else 400, width - 3 * MM)
            draw_text(canvas, x + first + number * width, base, short, 9, 700 if head else 400)

    return Block(17.5, draw)

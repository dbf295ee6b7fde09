"""`customer-proof.pdf`: every piece as it will look, small, to be ticked by who ordered it.

It has no measures and no findings but those that only the customer can settle; `proof` has them
all, for the workshop. Of a list with several orders there is one for each, `customer-proof/…`.
"""

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any

from namebatch.job import Job
from namebatch.names.mended import is_left_out
from namebatch.output.customerbacks import back_blocks
from namebatch.output.customercells import Grid
from namebatch.output.customergrid import grid_blocks, grid_of
from namebatch.output.customers import customers_of
from namebatch.output.decisions import Decision, decisions, numbers_by_line, of_the_whole
from namebatch.output.docpage import (
    INK,
    QUIET,
    WIDTH,
    Block,
    Document,
    counted,
    flow,
    heading,
    masthead,
    paragraph,
    rule,
    sign,
    text_block,
    tick_box,
    write_pages,
)
from namebatch.output.lettering import MM, draw_text, wrap
from namebatch.output.orders import orders_of
from namebatch.output.paper import paper_of

FILE = "customer-proof.pdf"
FOLDER = "customer-proof"
_KIND = "Please check"
_NUMBER, _TEXT, _WORDS, _ANSWER = 8 * MM, 21 * MM, 66 * MM, 133 * MM
_SIZE, _LEADING = 8.5, 11.0
_PERSONAL = (
    "This sheet shows people’s names, perhaps those of children: personal data. Give it only to "
    "those who check it, keep it safe, and destroy it when the job is done."
)


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``customer-proof.pdf``, or ``customer-proof/`` with one for each of several orders.

    Nothing is written for pieces that are only made again.

    Args:
        job: the batch.
        folder: the job folder; it must exist.
        progress: called with (pages written, pages in all), with several orders (orders written,
            orders in all).
    """
    if job.again:
        return
    customers = customers_of(job)
    if not customers:
        whose = "".join(order.name for order in orders_of(job))  # there is one, or none
        _write(job, whose, folder / FILE, progress)
        return
    (folder / FOLDER).mkdir()
    for number, one in enumerate(customers, start=1):
        path = folder / FOLDER / f"{one.stem}.pdf"
        _write(one.job, one.order.title, path, lambda done, total: None)
        progress(number, len(customers))


def _write(job: Job, whose: str, path: Path, progress: Callable[[int, int], None]) -> None:
    """One proof: of the whole job, or of a job with nothing in it but one order."""
    paper = paper_of(job)
    pages = flow(customer_blocks(job, whose, paper.room), paper.room)

    def done(number: int) -> None:
        progress(number, len(pages))

    write_pages(path, _document(job, whose), pages, done, paper)


def _document(job: Job, whose: str) -> Document:
    """Named after the order, where there is one."""
    kind = _KIND if whose else job.called(_KIND)  # an order is never parted, but by list order
    return Document(kind, whose or job.title, job.names.source)


def customer_blocks(job: Job, whose: str, room: float) -> Iterable[Block]:
    """The sheet from top to bottom.

    Args:
        job: the batch, or what of it belongs to one order.
        whose: the order; empty for a list without orders.
        room: height for blocks on a page, points.
    """
    asked = decisions(job)
    above = [*_head(job, whose, asked), *_decisions(job, asked), *back_blocks(job)]
    yield from above
    if job.pieces:
        taken = sum(block.height for block in [*flow(above, room)[-1], heading("")])
        grid = grid_of(job, room, taken)
        yield heading("Every piece", _scale(grid))
        yield from grid_blocks(job, grid, numbers_by_line(asked))


def _head(job: Job, whose: str, asked: tuple[Decision, ...]) -> Iterable[Block]:
    """What it is, how many, how to answer, and where to sign."""
    yield masthead(_document(job, whose), _facts_line(job, whose))
    yield text_block(_counts(job, whose), 10, weight=700, after=1.5 * MM)
    yield text_block(_how_to_answer(asked), 9, after=1.5 * MM)
    yield text_block(_PERSONAL, 8, colour=QUIET, after=1 * MM)
    yield _signature()


def _facts_line(job: Job, whose: str) -> str:
    """What is made, the list, and how large a piece is where all are alike."""
    parts = [job.title] if whose else []
    parts.append(f"from the list {job.names.source}")
    sizes = {tuple(round(side) for side in piece.size_mm) for piece in job.pieces}
    if len(sizes) == 1:
        width, height = sizes.pop()
        parts.append(f"each piece {width} × {height} mm")
    return "  ·  ".join(parts)


def _scale(grid: Grid) -> str:
    """How large the pictures are."""
    percent = round(100 * grid.scale)
    return "at actual size" if percent == 100 else f"pictures at {percent} % of the real size"


def _counts(job: Job, whose: str) -> str:
    """What the list or the order has = what is shown + what waits, and how many pieces that is."""
    total, place = job.totals, job.names.place.lower()
    ordered = counted(sum(piece.ordered for piece in job.pieces), "piece")
    rows = f"{counted(total.rows, place)} {_where(job, whose)}"
    if not total.held:
        return f"{rows}, all shown here; {ordered} to be made."
    out = sum(is_left_out(row) for row in job.rows)
    asked = total.held - out
    parts = [f"{total.made:,} shown here"]
    if asked:
        parts.append(f"{asked:,} that {'waits' if asked == 1 else 'wait'} for an answer")
    if out:
        parts.append(f"{out:,} left out on purpose")
    return f"{rows} = {' + '.join(parts)}; {ordered} to be made."


def _where(job: Job, whose: str) -> str:
    """Where the rows of this sheet stand."""
    if not whose:
        return "in this part of the list" if job.section else "in the list"
    named = any(order.name for order in orders_of(job))
    return "in this order" if named else "without an order"


def _how_to_answer(asked: tuple[Decision, ...]) -> str:
    """What to do with the sheet."""
    begin = "Tick every piece as right or wrong"
    text = f"{begin}; beside what is wrong, write what it should be."
    if asked:
        text += (
            " Answer each point under “Please look at these” too; a triangle with its number "
            "stands beside the piece that it is about."
        )
    return f"{text} Sign here, and send all pages back."


def _signature() -> Block:
    """Who checked it, and when: both left empty."""

    def draw(canvas: Any, x: float, y: float) -> None:
        base = y - 9 * MM
        for word, left, right in (
            ("Checked by", x, x + 0.62 * WIDTH),
            ("Date", x + 0.66 * WIDTH, x + WIDTH),
        ):
            canvas.setFillColor(QUIET)
            end = draw_text(canvas, left, base, word, 8.5)
            rule(canvas, end + 2 * MM, base - 1.5, right, INK, 0.6)

    return Block(15 * MM, draw)


def _decisions(job: Job, asked: tuple[Decision, ...]) -> Iterable[Block]:
    """What needs an answer, apart from the pieces."""
    whole = of_the_whole(job)
    if not asked and not whole:
        return
    yield heading("Please look at these", counted(len(asked), "point") if asked else "")
    for words in whole:
        yield text_block(f"The whole list: {words}", _SIZE, after=1.5 * MM)
    if asked:
        yield Block(5.5 * MM, partial(_decisions_head, job.names.place), repeat=True, leads=True)
    for one in asked:
        yield _decision_block(one)
    yield Block(0.0, lambda canvas, x, y: None, repeat=True)  # the columns end here


def _decisions_head(place: str, canvas: Any, x: float, y: float) -> None:
    """The names of the columns."""
    canvas.setFillColor(QUIET)
    columns = (
        (_NUMBER + 1 * MM, place),
        (_TEXT, "In the list"),
        (_WORDS, "Why"),
        (_ANSWER, "Your answer"),
    )
    for at, text in columns:
        draw_text(canvas, x + at, y - 8, text, 7.5, 700)


def _decision_block(one: Decision) -> Block:
    """One point: its number, the row, what the list says, why, and boxes for an answer."""
    text = wrap(one.text, _SIZE, 700, _WORDS - _TEXT - 4 * MM, most=4)
    words = wrap(" ".join(one.words), _SIZE, 400, _ANSWER - _WORDS - 5 * MM)
    rows = max(len(text), len(words))

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y, x + WIDTH)
        base = y - 10.5
        sign(canvas, x, base - 0.2, "hold" if one.held else "warn", 6)
        canvas.setFillColor(INK)
        draw_text(canvas, x + 3 * MM, base, str(one.number), _SIZE, 700)
        lines = f"{one.lines[0]} …" if len(one.lines) > 1 else str(one.lines[0])
        draw_text(canvas, x + _NUMBER + 1 * MM, base, lines, _SIZE)
        leading = _LEADING / _SIZE
        paragraph(canvas, x + _TEXT, base, text, _SIZE, weight=700, leading=leading)
        paragraph(canvas, x + _WORDS, base, words, _SIZE, leading=leading)
        _draw_answers(canvas, x + _ANSWER, base, one.held)

    return Block(max(rows * _LEADING, 21) + 2.6 * MM, draw)


def _draw_answers(canvas: Any, x: float, y: float, held: bool) -> None:
    """Two boxes, and a line to write on below them."""
    end = x
    for text in ("leave it out", "make it as:") if held else ("right as shown", "change to:"):
        tick_box(canvas, end, y - 1, 7.5)
        canvas.setFillColor(INK)
        end = draw_text(canvas, end + 10, y, text, 8) + 3 * MM
    rule(canvas, x, y - 15, x + WIDTH - _ANSWER, QUIET, 0.5)

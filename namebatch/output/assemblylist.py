"""The assembly list of the work card: every piece with the sheets that it is on, to be ticked."""

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from typing import Any

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    counted,
    heading,
    rule,
    sign,
    tick_box,
)
from namebatch.output.lettering import MM, apart, draw_text, shorten, text_width
from namebatch.output.orders import Order, orders_of
from namebatch.output.smallparts import small_parts
from namebatch.piece import Piece
from namebatch.sheet.model import PlacedFace

_LINE = 16.5
_SEPARATOR = " · "


def assembly_list(job: Job) -> Iterable[Block]:
    """Every piece with the sheets it is on, order by order in list order, to be ticked off.

    What of an order is held stands below its pieces, without a box.
    """
    where = {(p.piece, p.face): sheet.id for sheet in job.sheets for p in sheet.placements}
    columns = _assembly_columns(job)
    if not job.pieces:
        return
    orders = orders_of(job)
    named = any(order.name for order in orders)
    small = {piece.line for piece in small_parts(job).pieces}
    small = set() if len(small) == len(job.pieces) else small
    yield heading("Assembly list", "order by order" if named else "in list order", new_page=True)
    head = ("Piece", "Text", *(title for title, _ in columns))
    yield Block(6 * MM, partial(_assembly_line, head, True), repeat=True, leads=True)
    for order in orders:
        if named:
            yield _order_line(order)
        for piece in order.pieces:
            mark = "small part" if piece.line in small else ""
            for number in range(piece.copies):
                yield from _copy_lines(piece, number, where, columns, mark)
        for row in order.held:
            yield Block(_LINE, partial(_held_line, row))
    yield Block(0.0, lambda canvas, x, y: None, repeat=True)  # the columns end here


def _copy_lines(
    piece: Piece,
    copy: int,
    where: Mapping[tuple[str, PlacedFace], str],
    columns: Sequence[tuple[str, PlacedFace]],
    mark: str,
) -> Iterable[Block]:
    """A copy, counted from 0, with its sheets; of one in parts a line for each part."""
    texts = dict.fromkeys(text for text in piece.text.values() if text)
    said = _SEPARATOR.join(map(apart, texts))
    said = f"{said} (spare)" if copy >= piece.ordered else said
    if piece.parts:
        told = (piece.ids[copy], f"{said}: {len(piece.parts)} parts", *("" for _ in columns))
        yield Block(_LINE, partial(_assembly_line, told, False, mark=mark), leads=True)
    for part in piece.cut:
        own = part.ids[copy]
        what = f"part {part.part}" if piece.parts else said
        cells = (own, what, *(where.get((own, face), "–") for _, face in columns))
        own_mark = "" if piece.parts else mark
        yield Block(_LINE, partial(_assembly_line, cells, False, mark=own_mark))


def _order_line(order: Order) -> Block:
    """The order, or the customer, that the pieces below go to, and how many they are."""
    spares = f" and {counted(order.spares, 'spare')}" if order.spares else ""

    def draw(canvas: Any, x: float, y: float) -> None:
        canvas.setFillColor(INK)
        told = f"{order.counted}{spares}"
        width = WIDTH - text_width(told, 9) - 6 * MM
        draw_text(canvas, x, y - 19, shorten(order.title, 10.5, 700, width), 10.5, 700)
        canvas.setFillColor(QUIET)
        draw_text(canvas, x + WIDTH - text_width(told, 9), y - 19, told, 9)

    return Block(25.0, draw, leads=True)


def _held_line(row: Row, canvas: Any, x: float, y: float) -> None:
    """A row that was not made: its line, what the list says, that it waits; no box to tick."""
    base = y - 12
    rule(canvas, x, y, x + WIDTH)
    sign(canvas, x + 1, base - 0.2, Severity.HOLD, 6.5)
    canvas.setFillColor(INK)
    draw_text(canvas, x + 6 * MM, base, row.where, 9.5, 700)
    told = "held: waits for an answer"
    wide = text_width(told, 9.5)
    texts = [apart(text) for text in row.fields.values() if text.strip()] or ["(empty)"]
    text_at = x + 26 * MM
    said = shorten(_SEPARATOR.join(texts), 9.5, 400, x + WIDTH - wide - 4 * MM - text_at)
    draw_text(canvas, text_at, base, said, 9.5)
    canvas.setFillColor(ACCENT)
    draw_text(canvas, x + WIDTH - wide, base, told, 9.5)


def _assembly_columns(job: Job) -> tuple[tuple[str, PlacedFace], ...]:
    """Title and face of the columns that this build has."""
    if job.template.build != "faced":
        printed = job.template.build == "printed"
        return (("Sheet", "front") if printed else ("Board", "board"),)
    if "back" in job.template.faces:
        return (("Front", "front"), ("Back", "back"), ("Board", "board"))
    return (("Front", "front"), ("Board", "board"))


def _assembly_line(
    cells: Sequence[str], head: bool, canvas: Any, x: float, y: float, mark: str = ""
) -> None:
    """A line of the assembly list; in the head no box. A mark stands at the end of the text."""
    sheets = cells[2:]
    width = 25 * MM
    text_at, sheets_at = x + 26 * MM, x + WIDTH - width * len(sheets)
    base = y - 12
    if not head:
        rule(canvas, x, y, x + WIDTH)
        tick_box(canvas, x, base - 1)
    canvas.setFillColor(QUIET if head else INK)
    size = 8.5 if head else 9.5
    draw_text(canvas, x + 6 * MM, base, cells[0], size, 700)
    room = sheets_at - text_at - 4 * MM
    if mark:
        wide = text_width(mark, 8.5, 700)
        canvas.setFillColor(ACCENT)
        draw_text(canvas, text_at + room - wide, base, mark, 8.5, 700)
        canvas.setFillColor(INK)
        room -= wide + 3 * MM
    text = shorten(cells[1], size, 700 if head else 400, room)
    draw_text(canvas, text_at, base, text, size, 700 if head else 400)
    for number, cell in enumerate(sheets):
        draw_text(canvas, sheets_at + number * width, base, cell, size, 700 if head else 400)

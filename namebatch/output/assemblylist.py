"""The assembly list of the work card: every piece with the sheets that it is on, to be ticked."""

from collections.abc import Iterable, Sequence
from functools import partial
from typing import Any

from namebatch.job import Job
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    counted,
    heading,
    rule,
    tick_box,
)
from namebatch.output.lettering import MM, draw_text, shorten, text_width
from namebatch.output.smallparts import small_parts
from namebatch.piece import Piece
from namebatch.sheet.model import PlacedFace


def assembly_list(job: Job) -> Iterable[Block]:
    """Every piece with the sheets it is on, order by order in list order, to be ticked off."""
    where = {(p.piece, p.face): sheet.id for sheet in job.sheets for p in sheet.placements}
    columns = _assembly_columns(job)
    if not job.pieces:
        return
    orders: dict[str, list[Piece]] = {}
    for piece in job.pieces:
        orders.setdefault(piece.order, []).append(piece)
    aside = "order by order" if any(orders) else "in list order"
    small = {piece.line for piece in small_parts(job).pieces}
    small = set() if len(small) == len(job.pieces) else small
    yield heading("Assembly list", aside, keep=20 * MM, new_page=True)
    head = ("Piece", "Text", *(title for title, _ in columns))
    yield Block(6 * MM, partial(_assembly_line, head, True), repeat=True)
    for order, pieces in orders.items():
        if any(orders):
            yield _order_line(order, sum(piece.copies for piece in pieces))
        for piece in pieces:
            texts = " · ".join(dict.fromkeys(text for text in piece.text.values() if text))
            for number, name in enumerate(piece.ids, start=1):
                said = f"{texts} (spare)" if number > piece.ordered else texts
                mark = "small part" if piece.line in small else ""
                if piece.parts:
                    told = (name, f"{said}: {len(piece.parts)} parts", *("" for _ in columns))
                    draw = partial(_assembly_line, told, False, mark=mark)
                    yield Block(16.5, draw, keep=16.5)
                for part in piece.cut:
                    own = part.ids[number - 1]
                    what = f"part {part.part}" if piece.parts else said
                    cells = (own, what, *(where.get((own, face), "–") for _, face in columns))
                    own_mark = "" if piece.parts else mark
                    yield Block(16.5, partial(_assembly_line, cells, False, mark=own_mark))


def _order_line(order: str, count: int) -> Block:
    """The order, or the customer, that the pieces below go to."""

    def draw(canvas: Any, x: float, y: float) -> None:
        canvas.setFillColor(INK)
        told = counted(count, "piece")
        width = WIDTH - text_width(told, 9) - 6 * MM
        draw_text(canvas, x, y - 19, shorten(order or "No order", 10.5, 700, width), 10.5, 700)
        canvas.setFillColor(QUIET)
        draw_text(canvas, x + WIDTH - text_width(told, 9), y - 19, told, 9)

    return Block(25.0, draw)


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

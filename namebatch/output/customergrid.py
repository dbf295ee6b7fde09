"""The grid of the customer's proof: every piece, small but readable, with boxes to tick.

All pictures have one scale. As many columns as it takes for a batch to stay on a page or two, as
long as names can still be read in the pictures.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from namebatch.job import Job
from namebatch.output.decisions import same, typed_otherwise
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    counted,
    rule,
    sign,
    tick_box,
)
from namebatch.output.lettering import MM, Weight, draw_text, shorten, text_width, wrap
from namebatch.output.orders import Order
from namebatch.output.picture import PiecePicture, plain_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.piece import Piece

_GUTTER = 4 * MM
_MOST_COLUMNS = 7
_TALLEST_MM = 46.0
_LEAST_CAPITALS_MM = 1.3  # on the page; about those of 5 pt type
_PIECES_A_PAGE = 60
_WORDS = 20 * MM  # usual height of what stands above and below a picture
_LINE_PT = 0.35  # width of the cut line on the page
_NAME, _SMALL = 8.0, 7.0
_LEADING = 1.25
_HEAD, _SPACE = 3.6 * MM, 2.4 * MM
_ANSWER = 4.4 * MM  # for the boxes, and for the line to write on
_WIDE = 44 * MM  # a column in which boxes and line stand beside each other
_FEW = 3  # orders of fewer rows than this, by and large, have no heading


@dataclass(frozen=True, slots=True)
class Grid:
    """How the pieces stand.

    Attributes:
        columns: side by side.
        width: of a column, points.
        scale: of the pictures; 1 is actual size.
    """

    columns: int
    width: float
    scale: float


@dataclass(frozen=True, slots=True)
class _Cell:
    """One row of the list that was made, ready to be placed."""

    piece: Piece
    where: str
    order: str
    number: str
    picture: PiecePicture
    scale: float
    lines: tuple[tuple[str, float, Weight], ...]


def grid_of(job: Job, room: float) -> Grid:
    """The largest pictures with which the batch takes no more pages than it must.

    Args:
        job: the batch; at least one piece.
        room: height for blocks on a page, points.
    """
    wide, high = _largest(job)
    pages = -(-len(job.pieces) // _PIECES_A_PAGE)
    grid = Grid(1, WIDTH, min(1.0, WIDTH / MM / wide, _TALLEST_MM / high))
    for columns in range(2, _MOST_COLUMNS + 1):
        width = (WIDTH - (columns - 1) * _GUTTER) / columns
        scale = min(1.0, width / MM / wide, _TALLEST_MM / high)
        if columns > 2 and scale * _capitals(job) < _LEAST_CAPITALS_MM:
            break
        grid = Grid(columns, width, scale)
        rows = -(-len(job.pieces) // columns)
        if rows * (high * scale * MM + _WORDS) <= (pages - 0.3) * room:
            break
    return grid


def grid_blocks(
    job: Job, grid: Grid, orders: Sequence[Order], numbers: Mapping[int, tuple[int, ...]]
) -> Iterable[Block]:
    """All pieces, order by order where the list has orders.

    Orders of a row or two share the rows of the grid, each piece with the order above it; larger
    ones have a heading.

    Args:
        job: the batch.
        grid: from `grid_of`.
        orders: from `orders_of`.
        numbers: line of the list → numbers of what is to be looked at.
    """
    fields = {row.line: row.fields for row in job.rows}
    named = any(order.name for order in orders)
    headed = named and sum(len(order.pieces) for order in orders) >= _FEW * len(orders)
    groups = [order.pieces for order in orders]
    if not headed:
        groups = [tuple(piece for pieces in groups for piece in pieces)]
    for at, pieces in enumerate(groups):
        if headed:
            yield _order_heading(orders[at])
        for start in range(0, len(pieces), grid.columns):
            row = tuple(
                _cell(job, grid, piece, fields.get(piece.line, {}), numbers, named and not headed)
                for piece in pieces[start : start + grid.columns]
            )
            yield _row_block(row, grid)


def _largest(job: Job) -> tuple[float, float]:
    """Width and height that all pictures stay within, but for the odd giant; mm."""
    step = 1 + len(job.pieces) // 200
    sizes = [plain_picture(job, piece, 0.3).size_mm for piece in job.pieces[::step]]
    result = []
    for sides in zip(*sizes, strict=True):
        ordered = sorted(sides)
        usual = ordered[(len(ordered) - 1) * 9 // 10]
        result.append(ordered[-1] if ordered[-1] < 1.5 * usual else usual)
    return result[0], result[1]


def _capitals(job: Job) -> float:
    """Height of the capitals that most names reach, mm; fixed lines do not count."""
    heights = [
        max((one.height_mm for one in piece.letterings if one.box in piece.text), default=0.0)
        for piece in job.pieces
    ]
    return sorted(heights)[len(heights) // 10]


def _cell(
    job: Job,
    grid: Grid,
    piece: Piece,
    fields: Mapping[str, str],
    numbers: Mapping[int, tuple[int, ...]],
    named: bool,
) -> _Cell:
    """Picture and words of a piece."""
    picture = plain_picture(job, piece, _LINE_PT / MM / grid.scale)
    width, height = picture.size_mm
    scale = min(grid.scale, grid.width / MM / width, 1.5 * _TALLEST_MM / height)
    texts: list[str] = []
    for text in piece.text.values():
        if text and not any(same(text, other) for other in texts):
            texts.append(text)
    name, *more = texts or [""]
    times = text_width(f"× {piece.ordered}", _NAME, 700) + 1.5 * MM if piece.ordered > 1 else 0.0
    lines: list[tuple[str, float, Weight]] = [
        (line, _NAME, 700) for line in wrap(name, _NAME, 700, grid.width - times, most=2)
    ]
    small = [(", ".join(more), 2)] if more else []
    small += [(f"typed: {text}", 2) for text in typed_otherwise(job.template, piece, fields)]
    if scale < 0.98 * grid.scale:
        small.append(("shown smaller", 1))
    for text, most in small:
        lines += [(line, _SMALL, 400) for line in wrap(text, _SMALL, 400, grid.width, most=most)]
    return _Cell(
        piece=piece,
        where=f"{job.names.place} {piece.line}",
        order=piece.order if named else "",
        number=", ".join(map(str, numbers.get(piece.line, ()))),
        picture=picture,
        scale=scale,
        lines=tuple(lines),
    )


def _order_heading(order: Order) -> Block:
    """The name of an order and how many pieces it has."""

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y - 1 * MM, x + WIDTH, INK, 0.7)
        told = counted(order.count, "piece")
        name = shorten(order.title, 10, 700, WIDTH - text_width(told, 8) - 6 * MM)
        canvas.setFillColor(INK)
        draw_text(canvas, x, y - 5.6 * MM, name, 10, 700)
        canvas.setFillColor(QUIET)
        draw_text(canvas, x + WIDTH - text_width(told, 8), y - 5.6 * MM, told, 8)

    return Block(8.5 * MM, draw, keep=30 * MM)


def _row_block(row: Sequence[_Cell], grid: Grid) -> Block:
    """Cells side by side, their pictures on one level and their boxes too."""
    picture = max(cell.picture.size_mm[1] * cell.scale * MM for cell in row)
    words = max(sum(size * _LEADING for _, size, _ in cell.lines) for cell in row)
    answers = _ANSWER if grid.width >= _WIDE else 2 * _ANSWER
    height = _HEAD + picture + words + answers + _SPACE
    return Block(height, partial(_draw_row, row, grid, (picture, words)))


def _draw_row(
    row: Sequence[_Cell],
    grid: Grid,
    heights: tuple[float, float],
    canvas: Any,
    x: float,
    y: float,
) -> None:
    for cell in row:
        _draw_cell(cell, grid.width, heights, canvas, x, y)
        x += grid.width + _GUTTER


def _draw_cell(
    cell: _Cell,
    width: float,
    heights: tuple[float, float],
    canvas: Any,
    x: float,
    y: float,
) -> None:
    """Place in the list, picture, words, boxes."""
    picture, words = heights
    canvas.setFillColor(QUIET)
    end = draw_text(canvas, x, y - 6.4, cell.where, 6.5) + 1.5 * MM
    right = x + width
    if cell.number:
        at = x + width - text_width(cell.number, 7.5, 700)
        canvas.setFillColor(ACCENT)
        draw_text(canvas, at, y - 6.6, cell.number, 7.5, 700)
        sign(canvas, at - 8, y - 6.4, "warn", 6)
        right = at - 10
    if cell.order:
        canvas.setFillColor(INK)
        draw_text(canvas, end, y - 6.4, shorten(cell.order, 6.5, 700, right - end), 6.5, 700)
    wide, tall = (side * cell.scale * MM for side in cell.picture.size_mm)
    left, low = x + (width - wide) / 2, y - _HEAD - (picture + tall) / 2
    draw_picture(canvas, cell.picture, left, low, cell.scale)
    base = y - _HEAD - picture - 0.6 * MM
    if cell.piece.ordered > 1:
        times = f"× {cell.piece.ordered}"
        canvas.setFillColor(ACCENT)
        end = x + width - text_width(times, _NAME, 700)
        draw_text(canvas, end, base - _NAME, times, _NAME, 700)
    for text, size, weight in cell.lines:
        canvas.setFillColor(INK if weight == 700 else QUIET)
        draw_text(canvas, x, base - size, text, size, weight)
        base -= size * _LEADING
    _draw_answers(canvas, x, y - _HEAD - picture - words - _ANSWER, width)


def _draw_answers(canvas: Any, x: float, y: float, width: float) -> None:
    """Right, wrong, and a line to write on: beside them, or below where there is no room."""
    end = x
    for word in ("right", "wrong"):
        tick_box(canvas, end, y, 7)
        canvas.setFillColor(INK)
        end = draw_text(canvas, end + 9, y + 1, word, _SMALL) + 2 * MM
    if width >= _WIDE:
        rule(canvas, end, y, x + width, QUIET, 0.5)
    else:
        rule(canvas, x, y - _ANSWER, x + width, QUIET, 0.5)

"""A cell of the customer's proof: a piece's place in the list, picture, words, boxes to tick."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from namebatch.job import Job
from namebatch.output.customerbacks import front_alone
from namebatch.output.decisions import same, typed_otherwise
from namebatch.output.docpage import ACCENT, INK, QUIET, Block, rule, sign, tick_box
from namebatch.output.lettering import MM, Weight, draw_text, fits_unbroken, text_width, wrap
from namebatch.output.picture import PiecePicture, plain_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.piece import Piece

GUTTER = 4 * MM
TALLEST_MM = 46.0
LINE_PT = 0.35
"""Width of the cut line on the page."""
_NAMES = (8.0, 7.5, 7.0, 6.5, 6.0)
"""Sizes of names: the largest at which none of their words is broken, on a line or two."""
_SMALL = 7.0
_LEADING = 1.25
_HEAD, _SPACE = 3.6 * MM, 2.4 * MM
_ANSWER = 4.4 * MM  # for the boxes, and for the line to write on
_WIDE = 44 * MM  # a column in which boxes and line stand beside each other

Words = tuple[tuple[str, float, Weight], ...]
"""Lines below a picture: text, size, weight."""


@dataclass(frozen=True, slots=True)
class Grid:
    """How the pieces stand.

    Attributes:
        columns: side by side.
        width: of a column, points.
        scale: of the pictures; 1 is actual size.
        backs: backs are shown, not fronts alone.
    """

    columns: int
    width: float
    scale: float
    backs: bool


@dataclass(frozen=True, slots=True)
class Cell:
    """One row of the list that was made, ready to be placed.

    Attributes:
        piece: of that row.
        where: its place in the list.
        number: of the points to be looked at.
        picture: of the piece.
        scale: of the picture.
        words: below it.
    """

    piece: Piece
    where: str
    number: str
    picture: PiecePicture
    scale: float
    words: Words


def cell_of(
    job: Job,
    grid: Grid,
    piece: Piece,
    fields: Mapping[str, str],
    numbers: Mapping[int, tuple[int, ...]],
) -> Cell:
    """Picture and words of a piece.

    Args:
        job: the batch.
        grid: that it stands in.
        piece: of one row.
        fields: of that row, as the list has them.
        numbers: line of the list → numbers of what is to be looked at.
    """
    shown = piece if grid.backs else front_alone(piece)
    picture = plain_picture(job, shown, LINE_PT / MM / grid.scale)
    width, height = picture.size_mm
    scale = min(grid.scale, grid.width / MM / width, 1.5 * TALLEST_MM / height)
    words = words_of(job, piece, fields, grid.width)
    if scale < 0.98 * grid.scale:
        words = (*words, ("shown smaller", _SMALL, 400))
    return Cell(
        piece=piece,
        where=f"{job.names.place} {piece.line}",
        number=", ".join(map(str, numbers.get(piece.line, ()))),
        picture=picture,
        scale=scale,
        words=words,
    )


def words_of(job: Job, piece: Piece, fields: Mapping[str, str], width: float) -> Words:
    """What stands below a picture: the name, other texts, what was typed otherwise.

    Args:
        job: the batch.
        piece: of one row.
        fields: of that row, as the list has them.
        width: of a column, points.
    """
    texts: list[str] = []
    for text in piece.text.values():
        if text and not any(same(text, other) for other in texts):
            texts.append(text)
    name, *more = texts or [""]
    words: list[tuple[str, float, Weight]] = [
        (line, size, 700) for line, size in _name_lines(name, width - _times_width(piece))
    ]
    small = [", ".join(more)] if more else []
    small += [f"typed: {text}" for text in typed_otherwise(job.template, piece, fields)]
    for text in small:
        words += [(line, _SMALL, 400) for line in wrap(text, _SMALL, 400, width, most=2)]
    return tuple(words)


def words_height(words: Words) -> float:
    """Height of the lines below a picture, points."""
    return sum(size * _LEADING for _, size, _ in words)


def beside_picture(width: float) -> float:
    """Height of a row beside its pictures and words, in a column of a width; points."""
    return _HEAD + (_ANSWER if width >= _WIDE else 2 * _ANSWER) + _SPACE


def row_block(row: Sequence[Cell], grid: Grid) -> Block:
    """Cells side by side, their pictures on one level and their boxes too."""
    picture = max(cell.picture.size_mm[1] * cell.scale * MM for cell in row)
    words = max(words_height(cell.words) for cell in row)
    height = picture + words + beside_picture(grid.width)
    return Block(height, partial(_draw_row, row, grid, (picture, words)))


def _name_lines(name: str, width: float) -> list[tuple[str, float]]:
    """A name on a line or two and the size of each; in the least size its words may be cut."""
    size = next((one for one in _NAMES if fits_unbroken(name, one, 700, width, most=2)), _NAMES[-1])
    return [(line, size) for line in wrap(name, size, 700, width, most=3)]


def _times_width(piece: Piece) -> float:
    """Room at the right of the name for the quantity."""
    return text_width(_times(piece), _NAMES[0], 700) + 1.5 * MM if piece.ordered > 1 else 0.0


def _times(piece: Piece) -> str:
    return f"× {piece.ordered}"


def _draw_row(
    row: Sequence[Cell],
    grid: Grid,
    heights: tuple[float, float],
    canvas: Any,
    x: float,
    y: float,
) -> None:
    for cell in row:
        _draw_cell(cell, grid.width, heights, canvas, x, y)
        x += grid.width + GUTTER


def _draw_cell(
    cell: Cell,
    width: float,
    heights: tuple[float, float],
    canvas: Any,
    x: float,
    y: float,
) -> None:
    """Place in the list, picture, words, boxes."""
    picture, words = heights
    canvas.setFillColor(QUIET)
    draw_text(canvas, x, y - 6.4, cell.where, 6.5)
    if cell.number:
        at = x + width - text_width(cell.number, 7.5, 700)
        canvas.setFillColor(ACCENT)
        draw_text(canvas, at, y - 6.6, cell.number, 7.5, 700)
        sign(canvas, at - 8, y - 6.4, "warn", 6)
    wide, tall = (side * cell.scale * MM for side in cell.picture.size_mm)
    left, low = x + (width - wide) / 2, y - _HEAD - (picture + tall) / 2
    draw_picture(canvas, cell.picture, left, low, cell.scale)
    base = y - _HEAD - picture - 0.6 * MM
    if cell.piece.ordered > 1:
        size = _NAMES[0]
        canvas.setFillColor(ACCENT)
        end = x + width - text_width(_times(cell.piece), size, 700)
        draw_text(canvas, end, base - size, _times(cell.piece), size, 700)
    for text, size, weight in cell.words:
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

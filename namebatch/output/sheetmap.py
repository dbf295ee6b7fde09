"""Maps of the sheets for the work card: every outline to scale with its piece id in it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.pathobject import PDFPathObject
from shapely import Polygon, box, maximum_inscribed_circle

from namebatch.curves import Point as Place
from namebatch.curves import apply
from namebatch.job import Job
from namebatch.outline.arc_shape import along_ring
from namebatch.output.docpage import (
    ACCENT,
    INK,
    PALE,
    QUIET,
    RULE,
    WIDTH,
    Block,
    counted,
    minutes,
    rule,
    tick_box,
)
from namebatch.output.lettering import MM, draw_text, shorten, text_width
from namebatch.output.picture_data import pdf_path
from namebatch.piece import Piece, cut_pieces
from namebatch.sheet.model import Placement, Sheet

_GUTTER = 8 * MM
_TALLEST = 118 * MM
_LABEL, _LEAST_LABEL, _MOST_LABEL = 5.2, 3.6, 8.0
_HEAD = 17 * MM
_HATCH = 5.0
_DETAIL_MM = 0.1  # finer lines cannot be seen on a map


@dataclass(frozen=True, slots=True)
class _Label:
    """A piece id on a map: where it stands and how much room it has there, mm.

    `solid` is False where lines of the piece run under it.
    """

    text: str
    x: float
    y: float
    width: float
    height: float
    solid: bool


@dataclass(frozen=True, slots=True)
class _Mark:
    """A piece, and where an id stands in its own coordinates."""

    piece: Piece
    middle: Place
    solid: bool


def sheet_maps(job: Job) -> Iterable[Block]:
    """All sheets in order, two or three side by side where the ids stay readable."""
    marks = _marks(cut_pieces(job.pieces))
    for kind in ("face", "board"):
        sheets = [sheet for sheet in job.sheets if sheet.kind == kind]
        if not sheets:
            continue
        if kind == "board":
            marks |= _marks(piece.cut_from(kind) for piece in cut_pieces(job.pieces) if piece.board)
        labels = {sheet.id: _labels(sheet, marks) for sheet in sheets}
        columns = _columns(sheets, labels)
        width = (WIDTH - (columns - 1) * _GUTTER) / columns
        for start in range(0, len(sheets), columns):
            row = sheets[start : start + columns]
            scales = [_scale(sheet, width) for sheet in row]
            height = max(s.size_mm[1] * k for s, k in zip(row, scales, strict=True))
            draw = partial(_draw_row, job, row, labels, width)
            yield Block(height + _HEAD + 7 * MM, draw)


def _marks(pieces: Iterable[Piece]) -> dict[str, _Mark]:
    """Where the ids of all copies stand."""
    marks: dict[str, _Mark] = {}
    for piece in pieces:
        middle, solid = _middle(piece.outline)
        marks |= dict.fromkeys(piece.ids, _Mark(piece, middle, solid))
    return marks


def _labels(sheet: Sheet, marks: Mapping[str, _Mark]) -> tuple[_Label, ...]:
    """Where the ids stand; a back says so."""
    return tuple(_label(place, marks[place.piece]) for place in sheet.placements)


def _label(place: Placement, mark: _Mark) -> _Label:
    """The id of one placed face, in the middle of it or where the piece is widest."""
    x0, y0, x1, y1 = mark.piece.outline.bounds
    corners = [apply(place.outline_affine, (x, y)) for x in (x0, x1) for y in (y0, y1)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    text = f"{place.piece} b" if place.face == "back" else place.piece
    x, y = apply(place.outline_affine, mark.middle)
    return _Label(text, x, y, max(xs) - min(xs), max(ys) - min(ys), mark.solid)


def _middle(outline: Polygon) -> tuple[Place, bool]:
    """Where a label stands in a piece, and whether the middle half of the piece is solid."""
    x0, y0, x1, y1 = outline.bounds
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    w, h = 0.3 * (x1 - x0), 0.12 * (y1 - y0)
    if outline.contains(box(x - w, y - h, x + w, y + h)):
        return (x, y), True
    centre = maximum_inscribed_circle(outline, tolerance=0.5).coords[0]
    return (centre[0], centre[1]), False


def _scale(sheet: Sheet, width: float) -> float:
    """Points on the page for a millimetre of the sheet."""
    return min(width / sheet.size_mm[0], _TALLEST / sheet.size_mm[1])


def _columns(sheets: Sequence[Sheet], labels: Mapping[str, Sequence[_Label]]) -> int:
    """As many maps side by side as leave every id at a readable size."""
    for columns in (3, 2):
        width = (WIDTH - (columns - 1) * _GUTTER) / columns
        if all(
            _readable(one, _scale(sheet, width)) for sheet in sheets for one in labels[sheet.id]
        ):
            return columns
    return 1


def _readable(one: _Label, scale: float) -> bool:
    """True if an id fits its piece at a size that can be read, with air round it."""
    long, short = max(one.width, one.height) * scale, min(one.width, one.height) * scale
    air = 0.3 if one.solid else 0.12
    return text_width(one.text, _LABEL, 700) <= 0.94 * long and air * short >= _LABEL


def _draw_row(
    job: Job,
    row: Sequence[Sheet],
    labels: Mapping[str, Sequence[_Label]],
    width: float,
    canvas: Any,
    x: float,
    y: float,
) -> None:
    """Maps side by side."""
    for sheet in row:
        _draw_head(job, sheet, width, canvas, x, y)
        scale = _scale(sheet, width)
        _draw_map(job, sheet, labels[sheet.id], scale, canvas, x, y - _HEAD)
        x += width + _GUTTER


def _draw_head(job: Job, sheet: Sheet, width: float, canvas: Any, x: float, y: float) -> None:
    """Id, count and time, and the boxes to tick."""
    rule(canvas, x, y, x + width)
    canvas.setFillColor(INK)
    end = draw_text(canvas, x, y - 14, sheet.id, 11, 700)
    ids = {place.piece for place in sheet.placements}
    which = f"on {sheet.part_used}  ·  " if sheet.part_used else ""
    what = "part" if all(name.count("-") > 1 for name in ids) else "piece"
    facts = f"{which}{counted(len(ids), what)}  ·  {minutes(sheet.seconds)}"
    facts = shorten(facts, 8, 400, width - (end - x) - 3 * MM)
    canvas.setFillColor(QUIET)
    draw_text(canvas, x + width - text_width(facts, 8), y - 14, facts, 8)
    left = x
    for text in ("printed", "cut") if sheet.kind == "face" else ("cut",):
        tick_box(canvas, left, y - 31, 8)
        canvas.setFillColor(INK)
        left = draw_text(canvas, left + 11, y - 30, text, 8) + 5 * MM
    size = f"{sheet.size_mm[0]:g} × {sheet.size_mm[1]:g} mm"
    canvas.setFillColor(QUIET)
    draw_text(canvas, x + width - text_width(size, 8), y - 30, size, 8)


def _draw_map(
    job: Job,
    sheet: Sheet,
    labels: Sequence[_Label],
    scale: float,
    canvas: Any,
    x: float,
    y: float,
) -> None:
    """The sheet with its outlines; x, y is its upper left corner."""
    width, height = sheet.size_mm
    material = job.workshop.materials.get(sheet.material)
    canvas.saveState()
    canvas.translate(x, y - height * scale)
    canvas.scale(scale, scale)
    canvas.setFillColor(PALE)
    canvas.setStrokeColor(QUIET)
    canvas.setLineWidth(0.4 / scale)
    canvas.rect(0, 0, width, height, stroke=1, fill=1)
    canvas.setStrokeColor(RULE)
    canvas.setDash([2 / scale, 2 / scale])
    canvas.rect(*sheet.frame_mm, stroke=1, fill=0)
    canvas.setDash([])
    _draw_used(sheet, scale, canvas)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.25 / scale)
    tint = material.colour if material and sheet.kind == "board" else "#ffffff"
    for operation, fill in (("outer", tint), ("inner", "#f4f1ea")):
        code = _outlines(sheet, operation)
        if code:
            canvas.setFillColor(HexColor(fill))
            # even-odd: a hollow with pieces in it is an outer line, too
            canvas.drawPath(PDFPathObject([code]), stroke=1, fill=1, fillMode=0)
    canvas.restoreState()
    _zero_point(canvas, x, y - height * scale)
    canvas.setFillColor(INK)
    for one in labels:
        _draw_label(one, scale, canvas, x, y - height * scale)


def _draw_used(sheet: Sheet, scale: float, canvas: Any) -> None:
    """What is gone of a part-used board, hatched."""
    if sheet.used.is_empty:
        return
    code = " ".join(pdf_path(part) for part in sheet.used.geoms)
    width, height = sheet.size_mm
    step = _HATCH / scale
    canvas.saveState()
    canvas.setFillColor(HexColor("#ffffff"))
    canvas.setStrokeColor(QUIET)
    canvas.setLineWidth(0.4 / scale)
    canvas.drawPath(PDFPathObject([code]), stroke=1, fill=1, fillMode=0)
    canvas.clipPath(PDFPathObject([code]), stroke=0, fill=0, fillMode=0)
    lines = range(1, int((width + height) / step) + 1)
    canvas.lines(
        [
            (
                max(0.0, k * step - height),
                min(k * step, height),
                min(k * step, width),
                max(0.0, k * step - width),
            )
            for k in lines
        ]
    )
    canvas.restoreState()


def _zero_point(canvas: Any, x: float, y: float) -> None:
    """A small angle at the corner where the file's coordinates begin."""
    canvas.setStrokeColor(ACCENT)
    canvas.setLineWidth(1.6)
    canvas.lines([(x - 0.8, y, x + 9, y), (x, y - 0.8, x, y + 9)])


def _outlines(sheet: Sheet, operation: str) -> str:
    """All lines of an operation as one path, no finer than a map shows."""
    rings = (
        Polygon(along_ring(cut.points, cut.bulges, _DETAIL_MM / 4))
        for cut in sheet.cuts
        if cut.operation == operation and len(cut.points) >= 2
    )
    return " ".join(
        pdf_path(ring.simplify(_DETAIL_MM, preserve_topology=False)) or pdf_path(ring)
        for ring in rings
    )


def _draw_label(one: _Label, scale: float, canvas: Any, x: float, y: float) -> None:
    """An id in the middle of its piece, upright where it fits, along the piece otherwise."""
    em = text_width(one.text, 1.0, 700)
    upright = one.width >= one.height or one.width * scale * 0.9 >= em * _LABEL
    room = (one.width if upright else one.height) * scale * 0.9
    across = (one.height if upright else one.width) * scale * 0.8
    size = max(_LEAST_LABEL, min(_MOST_LABEL, room / em, across))
    canvas.saveState()
    canvas.translate(x + one.x * scale, y + one.y * scale)
    if not upright:
        canvas.rotate(90)
    if not one.solid:
        wide = em * size + 0.5 * size
        canvas.setFillColor(HexColor("#ffffff"))
        canvas.roundRect(-wide / 2, -0.52 * size, wide, 1.04 * size, 0.3 * size, stroke=0, fill=1)
        canvas.setFillColor(INK)
    draw_text(canvas, -em * size / 2, -0.34 * size, one.text, size, 700)
    canvas.restoreState()

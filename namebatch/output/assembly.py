"""Assembly pictures for the work card: the parts of a piece, moved apart, each with its number."""

from collections.abc import Iterable
from dataclasses import replace
from hashlib import sha256
from typing import Any

import shapely
from reportlab.lib.colors import HexColor

from namebatch.curves import Point
from namebatch.job import Job, some_of
from namebatch.output.docpage import INK, QUIET, WIDTH, Block, counted, heading, rule
from namebatch.output.lettering import MM, draw_text, shorten, text_width
from namebatch.output.picture import plain_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.piece import Piece

_TALLEST = 78 * MM
_HEAD = 11 * MM
_BELOW = 6 * MM
_APART = 0.09
"""Parts are drawn so much farther apart than they are, of the distance of their middles."""
_DISC = 3.6 * MM
_LINE_MM = 0.25
_MOST_IDS = 8


def assembly_pictures(job: Job) -> Iterable[Block]:
    """One picture for all pieces that are split alike; nothing where none is."""
    alike: dict[str, list[Piece]] = {}
    for piece in job.pieces:
        if piece.parts:
            shapes = b"".join(shapely.to_wkb(part.outline) for part in piece.parts)
            alike.setdefault(sha256(shapes).hexdigest(), []).append(piece)
    for number, pieces in enumerate(alike.values()):
        block = _picture(job, pieces)
        if number == 0:
            yield heading(
                "How parts go together", "front up; numbers end the ids", keep=block.height
            )
        yield block


def _picture(job: Job, pieces: list[Piece]) -> Block:
    """The first of some pieces that are split alike, and the ids of all."""
    piece = pieces[0]
    shifts = _shifts(piece)
    x0, y0, x1, y1 = _extent(piece, shifts)
    scale = min(MM, WIDTH / (x1 - x0), _TALLEST / (y1 - y0))
    height = _HEAD + (y1 - y0) * scale + _BELOW

    def draw(canvas: Any, x: float, y: float) -> None:
        _draw_head(pieces, canvas, x, y)
        left, low = x - x0 * scale, y - _HEAD - y1 * scale
        for part, (dx, dy) in zip(piece.cut, shifts, strict=True):
            at = left + dx * scale, low + dy * scale
            _draw_part(job, part, at, scale, canvas)
        for part, (dx, dy) in zip(piece.cut, shifts, strict=True):
            px, py = _free_place(part)
            _draw_number(part.part, left + (px + dx) * scale, low + (py + dy) * scale, canvas)

    return Block(height, draw)


def _draw_head(pieces: list[Piece], canvas: Any, x: float, y: float) -> None:
    """Which pieces, and of how many parts."""
    rule(canvas, x, y, x + WIDTH)
    ids = [name for piece in pieces for name in piece.ids]
    parts = counted(len(pieces[0].parts), "part")
    told = f"{some_of(ids, _MOST_IDS)}: {parts}"
    canvas.setFillColor(INK)
    end = draw_text(canvas, x, y - 15, shorten(told, 10, 700, WIDTH), 10, 700)
    if len(pieces) == 1:
        text = " · ".join(dict.fromkeys(text for text in pieces[0].text.values() if text))
        room = x + WIDTH - end - 5 * MM
        if room > 15 * MM:
            canvas.setFillColor(QUIET)
            draw_text(canvas, end + 4 * MM, y - 15, shorten(text, 9, 400, room), 9)


def _shifts(piece: Piece) -> list[Point]:
    """How far each part is moved out of its place, mm of the piece."""
    x0, y0, x1, y1 = piece.outline.bounds
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    centres = [part.outline.centroid for part in piece.parts]
    return [(_APART * (c.x - middle[0]), _APART * (c.y - middle[1])) for c in centres]


def _extent(piece: Piece, shifts: list[Point]) -> tuple[float, float, float, float]:
    """The upright rectangle round all parts as they are drawn."""
    boxes = [part.outline.bounds for part in piece.parts]
    return (
        min(b[0] + dx for b, (dx, _) in zip(boxes, shifts, strict=True)),
        min(b[1] + dy for b, (_, dy) in zip(boxes, shifts, strict=True)),
        max(b[2] + dx for b, (dx, _) in zip(boxes, shifts, strict=True)),
        max(b[3] + dy for b, (_, dy) in zip(boxes, shifts, strict=True)),
    )


def _draw_part(job: Job, part: Piece, at: Point, scale: float, canvas: Any) -> None:
    """The front of a part, the origin of its piece at a place on the page."""
    picture = plain_picture(job, part, _LINE_MM * MM / scale)
    alone = replace(picture, faces=picture.faces[:1])
    shift = alone.faces[0].shift_mm
    draw_picture(canvas, alone, at[0] - shift[0] * scale, at[1] - shift[1] * scale, scale / MM)


def _free_place(part: Piece) -> Point:
    """The middle of the largest place in a part without lettering."""
    inks = [text.shape for text in part.letterings if text.face == "front"]
    free = shapely.difference(part.outline, shapely.union_all(inks))
    place = shapely.maximum_inscribed_circle(free, tolerance=0.5).coords[0]
    return float(place[0]), float(place[1])


def _draw_number(number: int, x: float, y: float, canvas: Any) -> None:
    """A part's number on a white disc."""
    canvas.setFillColor(HexColor("#ffffff"))
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.6)
    canvas.circle(x, y, _DISC, stroke=1, fill=1)
    canvas.setFillColor(INK)
    text, size = str(number), 11.0
    draw_text(canvas, x - text_width(text, size, 700) / 2, y - 0.34 * size, text, size, 700)

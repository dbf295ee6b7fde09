"""Backs on the customer's proof: one by one where they say something of their own, else once."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from namebatch.job import Job
from namebatch.output.decisions import same
from namebatch.output.docpage import INK, QUIET, WIDTH, Block, paragraph
from namebatch.output.lettering import MM, draw_text, wrap
from namebatch.output.picture import plain_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.piece import Piece

_WIDEST, _TALLEST = 84 * MM, 48 * MM
_LINE_MM = 0.25
_SIZE = 8.5


def backs_differ(job: Job) -> bool:
    """True if a back says anything of the list that its front does not say."""
    return any(_says_more(piece) for piece in job.pieces)


def front_alone(piece: Piece) -> Piece:
    """The piece without what stands on its back, which is then not drawn."""
    front = tuple(one for one in piece.letterings if one.face == "front")
    return replace(piece, letterings=front)


def back_blocks(job: Job) -> Iterable[Block]:
    """Both sides of the first piece, where no back is shown at its own piece; else nothing."""
    if not job.pieces or backs_differ(job):
        return
    first = job.pieces[0]
    own = [one.box in first.text for one in first.letterings if one.face == "back"]
    if not own:
        return
    others = (
        "Every other back says the same as its front, in this way; so only the fronts are shown "
        "below."
        if any(own)
        else "All backs are the same."
    )
    begin = f"Front and back of {job.names.place.lower()} {first.line}."
    told = wrap(f"{begin} {others}", _SIZE, 400, WIDTH - _WIDEST - 6 * MM)
    picture = plain_picture(job, first, _LINE_MM)
    scale = min(1.0, _WIDEST / MM / picture.size_mm[0], _TALLEST / MM / picture.size_mm[1])
    wide, tall = (side * scale * MM for side in picture.size_mm)
    percent = f"{100 * scale:.0f} % of the real size"

    def draw(canvas: Any, x: float, y: float) -> None:
        draw_picture(canvas, picture, x, y - tall, scale)
        left = x + wide + 6 * MM
        canvas.setFillColor(INK)
        base = paragraph(canvas, left, y - 10, told, _SIZE)
        canvas.setFillColor(QUIET)
        draw_text(canvas, left, base - 3, percent, 7)

    yield Block(tall + 4 * MM, draw)


def _says_more(piece: Piece) -> bool:
    """True if the list's words on the back are not on the front as well."""
    given = [one for one in piece.letterings if one.box in piece.text]
    front = [one.text for one in given if one.face == "front"]
    back = [one.text for one in given if one.face == "back"]
    return any(not any(same(text, other) for other in front) for text in back)

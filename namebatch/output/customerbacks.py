"""Backs on the customer's proof: one by one where they say something of their own, else once."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from namebatch.job import Job
from namebatch.output.decisions import same
from namebatch.output.docpage import INK, WIDTH, Block, heading, paragraph
from namebatch.output.lettering import MM, wrap
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
    others = "Below, the front is shown alone."
    if len(job.pieces) > 1:
        others = _of_others(any(own))
    begin = f"Front and back of {job.names.place.lower()} {first.line}."
    told = wrap(f"{begin} {others}", _SIZE, 400, WIDTH - _WIDEST - 6 * MM)
    picture = plain_picture(job, first, _LINE_MM)
    scale = min(1.0, _WIDEST / MM / picture.size_mm[0], _TALLEST / MM / picture.size_mm[1])
    wide, tall = (side * scale * MM for side in picture.size_mm)
    aside = f"at {100 * scale:.0f} % of the real size"

    def draw(canvas: Any, x: float, y: float) -> None:
        draw_picture(canvas, picture, x, y - tall, scale)
        left = x + wide + 6 * MM
        canvas.setFillColor(INK)
        paragraph(canvas, left, y - 10, told, _SIZE)

    yield heading("Front and back", aside, keep=tall + 4 * MM)
    yield Block(tall + 4 * MM, draw)


def _of_others(repeats: bool) -> str:
    """What the backs of the other pieces are like."""
    if not repeats:
        return "All backs are the same."
    return (
        "Every other back says the same as its front, in this way; so only the fronts are shown "
        "below."
    )


def _says_more(piece: Piece) -> bool:
    """True if the list's words on the back are not on the front as well."""
    given = [one for one in piece.letterings if one.box in piece.text]
    front = [one.text for one in given if one.face == "front"]
    back = [one.text for one in given if one.face == "back"]
    return any(not any(same(text, other) for other in front) for text in back)

"""What is kept of a row that was tried: its figures and its picture, and not its geometry.

The picture is kept without its artwork, which many pieces share; where that belongs there stands a
mark, and what is put in its place is small on the wall and as large as a preview's elsewhere. The
wall leaves out the dimension line and the plumb line.
"""

import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from threading import Lock

from namebatch.desk.row_model import Measures, TextView
from namebatch.names.mend import Mend
from namebatch.names.row import Row
from namebatch.outline import Limits
from namebatch.output.picture import Batch, Bounds, piece_picture, unit_for
from namebatch.output.preview import MOST_PX, artwork_svg, picture_svg
from namebatch.output.wall import without_notes
from namebatch.piece import Lettering, Piece
from namebatch.template.model import FaceName, Template
from namebatch.template.textbox import AlongPath, Arc

WALL_PX = 240
"""Longer side of a photograph in a picture on the wall."""
_READ = 0.03  # of a long piece, so that its figure is read where the piece is 690 pixels long
_QUICK = 1  # of zlib: path data shrinks to a third at once, and little more with patience


@dataclass(frozen=True, slots=True)
class Drawing:
    """The picture of a piece without its artwork.

    Attributes:
        digest: of all that is seen, artwork too.
        packed: the SVG document, with marks for the artwork, compressed.
        bare_box_mm: what is left of it on the wall; see `output.picture.PiecePicture`.
        height_mm: of the whole picture.
    """

    digest: str
    packed: bytes
    bare_box_mm: Bounds
    height_mm: float


@dataclass(frozen=True, slots=True)
class Shown:
    """A row that was tried.

    Attributes:
        row: with all its findings.
        texts: what is set on its piece; none where it is held.
        measures: of the piece; None where the row is held.
        drawing: None where the row is held, or where it was left out to save memory.
    """

    row: Row
    texts: tuple[TextView, ...] = ()
    measures: Measures | None = None
    drawing: Drawing | None = None


def shown(batch: Batch, row: Row, piece: Piece | None, limits: Limits) -> Shown:
    """What is kept of a row and its piece.

    Args:
        batch: template and workshop.
        row: with all findings.
        piece: None where the row is held.
        limits: what the material asks for.
    """
    if piece is None:
        return Shown(row)
    return Shown(
        row,
        _texts(batch.template, row, piece),
        _measures(batch.template, piece, limits),
        draw(batch, piece),
    )


def draw(batch: Batch, piece: Piece, unit_mm: float | None = None) -> Drawing:
    """The picture of a piece, artwork left out.

    Args:
        batch: template and workshop.
        piece: what is drawn.
        unit_mm: height of figures, lines in proportion; as is read on a slip if not given.
    """
    marks = {face: _mark(face) for face in batch.template.artwork}
    unit = unit_mm or max(unit_for(piece.size_mm), _READ * max(piece.size_mm))
    picture = piece_picture(batch, piece, unit)
    text = picture_svg(picture, piece, marks).encode()
    digest = sha256(text)
    digest.update(" ".join(f"{side:.3f}" for side in picture.bare_box_mm).encode())
    for face, artwork in sorted(batch.template.artwork.items()):
        seen = b"" if artwork.seen is None else artwork.seen.wkb
        digest.update(f"{face} {artwork.digest} {artwork.box_mm}".encode() + seen)
    return Drawing(
        digest.hexdigest()[:32],
        zlib.compress(text, _QUICK),
        picture.bare_box_mm,
        picture.size_mm[1],
    )


class Artworks:
    """The artwork of a template as SVG, for the wall and for a piece opened large.

    Each is drawn once, when it is needed first; may be shared by threads.

    Args:
        template: whose artwork it is.
    """

    def __init__(self, template: Template) -> None:
        self._template = template
        self._drawn: dict[int, Mapping[FaceName, bytes]] = {}
        self._lock = Lock()

    def put_in(self, drawing: Drawing, *, large: bool) -> bytes:
        """The picture of a piece, UTF-8; on the wall without dimension and plumb line.

        Raises:
            OutputError: a photograph cannot be decoded.
        """
        data = zlib.decompress(drawing.packed)
        if not large:
            data = without_notes(data, drawing.bare_box_mm, drawing.height_mm)
        for face, svg in self._of(MOST_PX if large else WALL_PX).items():
            data = data.replace(_mark(face).encode(), svg)
        return data

    def _of(self, most_px: int) -> Mapping[FaceName, bytes]:
        with self._lock:
            if most_px not in self._drawn:
                artwork = self._template.artwork.items()
                self._drawn[most_px] = {
                    face: artwork_svg(one, most_px).encode() for face, one in artwork
                }
            return self._drawn[most_px]


def _mark(face: FaceName) -> str:
    """Cannot come from a text, whose brackets are written otherwise."""
    return f"<artwork-{face}/>"


def _texts(template: Template, row: Row, piece: Piece) -> tuple[TextView, ...]:
    mend = row.mend or Mend()
    boxes = {box.name: box for box in template.boxes}
    return tuple(
        _text(part, boxes[part.box].min_height_mm, _is_bent(template, part), mend)
        for part in piece.letterings
        if part.box in piece.text
    )


def _text(part: Lettering, least: float, bent: bool, mend: Mend) -> TextView:
    return TextView(
        box=part.box,
        face=part.face,
        text=part.text,
        font=part.font,
        height_mm=round(part.height_mm, 3),
        min_height_mm=least,
        bent=bent,
        lines=part.lines,
        shift_mm=mend.of_text(part.box).shift_mm,
    )


def _is_bent(template: Template, part: Lettering) -> bool:
    box = next(box for box in template.boxes if box.name == part.box)
    return isinstance(box.place, Arc | AlongPath)


def _measures(template: Template, piece: Piece, limits: Limits) -> Measures:
    proof, (width, height) = piece.proof, piece.size_mm
    tilt = proof.hang_tilt_deg
    return Measures(
        size_mm=(round(width, 3), round(height, 3)),
        area_mm2=round(piece.outline.area, 2),
        narrowest_mm=round(proof.narrowest_mm, 3),
        required_mm=proof.required_mm,
        bridges=proof.bridges,
        bridge_least_mm=limits.required_mm,
        has_bridges=template.rule != "base",
        hang_tilt_deg=None if tilt is None else round(tilt, 2),
        holes=len(template.holes) + len(template.found_holes),
    )

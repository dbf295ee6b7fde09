"""One printed face: artwork clipped to the outline and its bleed, names as filled shapes.

Everything here is in mm in the coordinates of the face as one sees it (`template.model`).
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from hashlib import sha256

from reportlab.pdfgen.canvas import Canvas
from shapely import MultiPolygon, Polygon, box, prepare, total_bounds

from namebatch.job import Job
from namebatch.output.artwork_form import draw_artwork, unit_rgb
from namebatch.output.blend_form import fill_blend
from namebatch.output.coats import Coat, Painted, painted_texts
from namebatch.output.pdfpath import shape_operators
from namebatch.output.welded import outline_seen, whole_seen
from namebatch.piece import Lettering, Piece, cut_pieces
from namebatch.sheet.hollows import with_hollows
from namebatch.template.model import Artwork, FaceName
from namebatch.text.glyphs import as_multipolygon

_MITRE_LIMIT = 1.5
"""A corner of the bleed reaches at most 1.5 times the bleed from the outline. The bleed is at
most half the gap, so this keeps it off the neighbour's finished piece, and right angles keep
their corner."""


class FacePainter:
    """Draws faces of pieces on the pages of one document.

    What several faces share is put into a form object once: clip and artwork for outlines that
    are equal, a line of text that many pieces carry, the whole face for the copies of a piece.
    """

    def __init__(self, canvas: Canvas, job: Job) -> None:
        self._canvas = canvas
        self._job = job
        pieces = cut_pieces(job.pieces)
        self._outlines = Counter(piece.outline.wkb for piece in pieces)
        self._texts = Counter(_key(text) for piece in pieces for text in piece.letterings)

    def draw(self, piece: Piece, face: FaceName) -> None:
        """Draw one face at the canvas's present origin and scale (mm)."""
        clip = self._clip(piece, face)
        if piece.copies == 1:
            self._face(piece, face, clip)
        else:
            part = f"-{piece.part}" if piece.part else ""
            name = f"face-L{piece.line}{part}-{face}"
            self._shared(name, clip, lambda: self._face(piece, face, clip))

    def _face(self, piece: Piece, face: FaceName, clip: Polygon | MultiPolygon) -> None:
        """Artwork, then the printed texts of this face in painting order."""
        artwork = self._job.template.artwork.get(face)
        if artwork is not None:

            def clipped() -> None:
                self._within(clip, lambda: draw_artwork(self._canvas, artwork))

            if self._outlines[piece.outline.wkb] > 1:
                self._shared(f"ground-{_ground_key(clip, artwork)[:16]}", clip, clipped)
            else:
                clipped()
        prepare(clip)
        # letters run on over a joint: only where the whole piece ends they are printed past it
        outline = whole_seen(self._job.template, piece, face)
        for painted in painted_texts(self._job.template, piece, face):
            self._text(painted, outline, clip)

    def _with_bleed(self, coat: Coat, outline: Polygon) -> Coat:
        """Letters that are cut along their edge are printed past it, as artwork is."""
        bleed = self._job.bleed_mm
        if coat.made != "outline" or bleed <= 0:
            return coat
        beyond = coat.shape.buffer(bleed, quad_segs=8).difference(outline)
        return replace(coat, shape=as_multipolygon(coat.shape.union(beyond)))

    def _text(self, painted: Painted, outline: Polygon, clip: Polygon | MultiPolygon) -> None:
        """A text as the shapes it was given, clipped only if it leaves the piece."""
        printed = (coat for coat in painted.coats if coat.colour and not coat.shape.is_empty)
        coats = [self._with_bleed(coat, outline) for coat in printed]
        if not any(clip.intersects(coat.shape) for coat in coats):
            return

        def fill() -> None:
            for coat in coats:
                self._fill(coat)

        def paint() -> None:
            if self._texts[_key(painted.text)] > 1:
                self._shared(f"text-{_coats_key(coats)[:16]}", _extent(coats), fill)
            else:
                fill()

        if all(clip.covers(coat.shape) for coat in coats):
            paint()
        else:
            self._within(clip, paint)

    def _fill(self, coat: Coat) -> None:
        """One shape in its colour or its gradient."""
        if coat.blend is not None:
            fill_blend(self._canvas, shape_operators(coat.shape), coat.blend)
        elif coat.colour is not None:
            self._canvas.setFillColorRGB(*unit_rgb(coat.colour))
            self._canvas.addLiteral(shape_operators(coat.shape))
            self._canvas.addLiteral("f*")

    def _clip(self, piece: Piece, face: FaceName) -> Polygon | MultiPolygon:
        """What may be printed: the outline without its smaller holes, grown by the bleed.

        Print runs on over holes, so that a cut that is a little off shows no bare rim; other
        pieces may lie in hollows.
        """
        ground = with_hollows(outline_seen(self._job.template, piece, face))
        if self._job.bleed_mm <= 0:
            return ground
        return ground.buffer(
            self._job.bleed_mm, join_style="mitre", mitre_limit=_MITRE_LIMIT, quad_segs=8
        )

    def _within(self, clip: Polygon | MultiPolygon, paint: Callable[[], None]) -> None:
        """Paint inside a clip, then take it away again."""
        self._canvas.saveState()
        self._canvas.addLiteral(shape_operators(clip))
        self._canvas.addLiteral("W* n")
        paint()
        self._canvas.restoreState()

    def _shared(self, name: str, bounds: Polygon | MultiPolygon, paint: Callable[[], None]) -> None:
        """Paint through a form object that is made on first use."""
        if not self._canvas.hasForm(name):
            x0, y0, x1, y1 = bounds.bounds
            # a little room, so that the form's own box never cuts into the clip
            self._canvas.beginForm(name, x0 - 1, y0 - 1, x1 + 1, y1 + 1)
            paint()
            self._canvas.endForm()
        self._canvas.doForm(name)


def _ground_key(clip: Polygon | MultiPolygon, artwork: Artwork) -> str:
    """The same for equal pictures in the same place within the same clip; hexadecimal."""
    seen = b"" if artwork.seen is None else artwork.seen.wkb
    return sha256(clip.wkb + f"{artwork.digest} {artwork.box_mm}".encode() + seen).hexdigest()


def _key(lettering: Lettering) -> str:
    """The same for texts that look the same in the same place; hexadecimal."""
    return sha256(lettering.shape.wkb + (lettering.colour or "").encode()).hexdigest()


def _coats_key(coats: Sequence[Coat]) -> str:
    """The same for coats that look the same in the same place; hexadecimal."""
    digest = sha256()
    for coat in coats:
        digest.update(coat.shape.wkb + f"{coat.colour} {coat.blend}".encode())
    return digest.hexdigest()


def _extent(coats: Sequence[Coat]) -> Polygon:
    """The upright rectangle round all coats."""
    return box(*total_bounds([coat.shape for coat in coats]))

"""The drawing of a piece on a PDF page, its artwork kept once as a form.

Pages measure in points; inside a picture one unit is one millimetre.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.pathobject import PDFPathObject
from shapely import MultiPolygon, Polygon

from namebatch.curves import Point as Place
from namebatch.output.artwork_form import draw_artwork
from namebatch.output.blend_form import fill_blend
from namebatch.output.bridge_marks import Triangle
from namebatch.output.lettering import MM, figure_path
from namebatch.output.pdfpath import path_operators
from namebatch.output.picture import (
    CUT_COLOUR,
    MEASURE_COLOUR,
    FacePicture,
    Measure,
    PiecePicture,
)
from namebatch.output.picture_data import pdf_path
from namebatch.output.plumb import PLUMB_COLOUR, Plumb

EVEN_ODD, NON_ZERO = 0, 1
_FIGURE_EM = 100.0
_DETAIL_MM = 0.02  # on paper: a third of a dot at 400 dpi


def draw_picture(canvas: Any, picture: PiecePicture, x: float, y: float, scale: float) -> None:
    """Draw a piece with its lower left corner at x, y (points).

    Args:
        canvas: a reportlab canvas.
        picture: what to draw.
        x: left edge, points.
        y: lower edge, points.
        scale: 1 is actual size.
    """
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(MM * scale, MM * scale)
    for face in picture.faces:
        _draw_face(canvas, face, picture, _DETAIL_MM / scale)
    canvas.restoreState()


def _draw_face(canvas: Any, face: FacePicture, picture: PiecePicture, detail: float) -> None:
    """One face: tint, print and texts within the outline, the cut line above them."""
    canvas.saveState()
    canvas.translate(*face.shift_mm)
    if face.board is not None:
        _draw_board(canvas, face.board, picture, detail)
    outline = _operators(face.outline, detail)
    canvas.saveState()
    canvas.clipPath(PDFPathObject([outline]), stroke=0, fill=0, fillMode=EVEN_ODD)
    x0, y0, x1, y1 = face.outline.bounds
    canvas.setFillColor(HexColor(picture.tint))
    canvas.rect(x0, y0, x1 - x0, y1 - y0, stroke=0, fill=1)
    if face.artwork is not None:
        draw_artwork(canvas, face.artwork)
    for ink in face.inks:
        if ink.blend is not None:
            fill_blend(canvas, _operators(ink.shape, detail), ink.blend)
            continue
        colour = HexColor(ink.colour)
        canvas.setFillColor(colour)
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(picture.line_mm)
        path = PDFPathObject([_operators(ink.shape, detail)])
        filled = int(ink.filled)
        canvas.drawPath(path, stroke=1 - filled, fill=filled, fillMode=EVEN_ODD)
    canvas.restoreState()
    canvas.setStrokeColor(HexColor(CUT_COLOUR))
    canvas.setLineWidth(picture.line_mm)
    canvas.setLineJoin(1)
    canvas.drawPath(PDFPathObject([outline]), stroke=1, fill=0)
    _draw_joints(canvas, face.joints, picture.line_mm)
    if face.plumb is not None:
        _draw_plumb(canvas, face.plumb, picture.line_mm)
    if face.measure is not None:
        _draw_measure(canvas, face.measure, picture.line_mm)
    _draw_triangles(canvas, face.bridges, picture.line_mm)  # the narrowest place is often a bridge
    canvas.restoreState()


def _draw_board(canvas: Any, board: Polygon, picture: PiecePicture, detail: float) -> None:
    """What of a board stands out of the print, with its own cut line."""
    canvas.setFillColor(HexColor(picture.board_tint))
    canvas.setStrokeColor(HexColor(CUT_COLOUR))
    canvas.setLineWidth(picture.line_mm)
    canvas.setLineJoin(1)
    path = PDFPathObject([_operators(board, detail)])
    canvas.drawPath(path, stroke=1, fill=1, fillMode=EVEN_ODD)


@lru_cache(maxsize=512)
def _operators(shape: Polygon | MultiPolygon, detail: float) -> str:
    """A shape as path operators, without what is finer than the paper shows.

    Bases and fixed lines are the same on piece after piece.
    """
    return pdf_path(shape.simplify(detail, preserve_topology=False)) or pdf_path(shape)


def _draw_joints(canvas: Any, joints: Sequence[Sequence[Place]], line: float) -> None:
    """The lines between parts, with a pale edge so that they are seen on any print."""
    for colour, width in (("#ffffff", 2.5 * line), (CUT_COLOUR, line)) if joints else ():
        canvas.setStrokeColor(HexColor(colour))
        canvas.setLineWidth(width)
        for way in joints:
            path = canvas.beginPath()
            path.moveTo(*way[0])
            for place in way[1:]:
                path.lineTo(*place)
            canvas.drawPath(path, stroke=1, fill=0)


def _draw_triangles(canvas: Any, triangles: Sequence[Triangle], line: float) -> None:
    """Marks of bridges, with a pale edge like the dimension line."""
    for colour in ("#ffffff", MEASURE_COLOUR):
        canvas.setStrokeColor(HexColor(colour))
        canvas.setFillColor(HexColor(colour))
        canvas.setLineWidth(2 * line)
        _fill_triangles(canvas, triangles, edge=colour == "#ffffff")


def _fill_triangles(canvas: Any, triangles: Sequence[Triangle], *, edge: bool) -> None:
    for corners in triangles:
        path = canvas.beginPath()
        path.moveTo(*corners[0])
        path.lineTo(*corners[1])
        path.lineTo(*corners[2])
        path.close()
        canvas.drawPath(path, stroke=int(edge), fill=1)


def _draw_plumb(canvas: Any, plumb: Plumb, line: float) -> None:
    """The plumb line and the centre of mass, with a pale edge like the dimension line."""
    canvas.saveState()
    canvas.setLineCap(1)
    canvas.setDash(list(plumb.dashes_mm), 0)
    for colour, width in (("#ffffff", 2.5 * line), (PLUMB_COLOUR, line)):
        canvas.setStrokeColor(HexColor(colour))
        canvas.setLineWidth(width)
        canvas.line(*plumb.start, *plumb.end)
    canvas.setDash([], 0)
    canvas.setFillColor(HexColor("#ffffff"))
    canvas.circle(*plumb.mass, plumb.ring_mm + 1.25 * line, stroke=0, fill=1)
    canvas.circle(*plumb.mass, plumb.ring_mm, stroke=1, fill=0)
    canvas.setFillColor(HexColor(PLUMB_COLOUR))
    canvas.circle(*plumb.mass, plumb.dot_mm, stroke=0, fill=1)
    canvas.restoreState()


def _draw_measure(canvas: Any, measure: Measure, line: float) -> None:
    """The dimension line, with a pale edge below it so that it reads on any print."""
    canvas.setLineCap(1)
    for colour, width in (("#ffffff", 3 * line), (MEASURE_COLOUR, line)):
        canvas.setStrokeColor(HexColor(colour))
        canvas.setFillColor(HexColor(colour))
        canvas.setLineWidth(width)
        canvas.lines([(*start, *end) for start, end in measure.lines])
        _fill_triangles(canvas, measure.arrows, edge=colour == "#ffffff")
    canvas.translate(*measure.text_at)
    canvas.scale(measure.text_size / _FIGURE_EM, measure.text_size / _FIGURE_EM)
    canvas.drawPath(PDFPathObject([_figure(measure.text)]), stroke=0, fill=1, fillMode=NON_ZERO)


@lru_cache(maxsize=4096)
def _figure(text: str) -> str:
    """Path operators of a figure; many pieces share it."""
    return path_operators(figure_path(text, _FIGURE_EM, 700)[0])

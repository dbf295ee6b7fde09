"""`previews/PIECE.svg`: one picture a piece, true colours and real geometry, in mm."""

from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from xml.sax.saxutils import escape

from PIL import Image

from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output.bridge_marks import Triangle
from namebatch.output.lettering import figure_path
from namebatch.output.picture import (
    CUT_COLOUR,
    MEASURE_COLOUR,
    Batch,
    FacePicture,
    Ink,
    Measure,
    PiecePicture,
    piece_picture,
)
from namebatch.output.picture_data import svg_curves, svg_path
from namebatch.output.plumb_svg import plumb_svg
from namebatch.piece import Piece
from namebatch.template.model import Artwork, FaceName, PaintedPath, RasterPicture

MOST_PX = 640
"""Of an embedded photograph's longer side; the print keeps every pixel."""
_FIGURE_EM = 100.0  # figures are drawn at this size and scaled, so that they can be shared
_UNSEEN_MM = 0.02  # points are left out where a line stays this near: a tenth of a pixel on screen


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write one SVG for every copy of every piece into `folder/previews`.

    Args:
        job: the batch.
        folder: the job folder; it must exist.
        progress: called with (copies written, copies in all).
    """
    target = folder / "previews"
    target.mkdir(exist_ok=True)
    pictures = {face: artwork_svg(artwork) for face, artwork in job.template.artwork.items()}
    total = sum(piece.copies for piece in job.pieces)
    done = 0
    for piece in job.pieces:
        data = preview_svg(job, piece, pictures).encode()
        for name in piece.ids:
            (target / f"{name}.svg").write_bytes(data)
        done += piece.copies
        progress(done, total)


def preview_svg(job: Batch, piece: Piece, artworks: Mapping[FaceName, str] | None = None) -> str:
    """The picture of a piece as an SVG document.

    Args:
        job: the batch, or what is to be one: template and workshop are read.
        piece: one of its pieces.
        artworks: face → `artwork_svg`, when many pieces share them.
    """
    if artworks is None:
        artworks = {face: artwork_svg(art) for face, art in job.template.artwork.items()}
    return picture_svg(piece_picture(job, piece), piece, artworks)


def picture_svg(picture: PiecePicture, piece: Piece, artworks: Mapping[FaceName, str]) -> str:
    """A drawing of a piece as an SVG document.

    Args:
        picture: the drawing.
        piece: whose it is.
        artworks: face → `artwork_svg`.
    """
    width, height = (f"{side:.3f}".rstrip("0").rstrip(".") for side in picture.size_mm)
    title = printable(" · ".join(filter(None, piece.text.values())) or f"line {piece.line}")
    body = "".join(_face(face, picture, artworks.get(face.face, "")) for face in picture.faces)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><title>{title}</title>{body}</svg>\n'
    )


def printable(text: str) -> str:
    """Text for XML: escaped, characters that XML 1.0 does not allow left out."""
    kept = "".join(
        c
        for c in text
        if c in "\t\n\r" or " " <= c < "\ud800" or "\ue000" <= c <= "\ufffd" or c > "\uffff"
    )
    return escape(kept, {'"': "&quot;", "'": "&#39;"})


def _face(face: FacePicture, picture: PiecePicture, artwork: str) -> str:
    """One face: tint, print and texts within the outline, the cut line above them."""
    x, y = face.shift_mm
    name = face.face
    inks = (_ink(ink, f"{name}-blend-{n}", picture.line_mm) for n, ink in enumerate(face.inks))
    texts = "".join(inks)
    outline = svg_path(face.outline, _UNSEEN_MM)
    return (
        f'<g id="{name}" transform="matrix(1 0 0 -1 {x:.3f} {picture.size_mm[1] - y:.3f})">'
        f'<defs><path id="{name}-line" d="{outline}" fill-rule="evenodd" '
        f'clip-rule="evenodd"/><clipPath id="{name}-clip"><use href="#{name}-line"/></clipPath>'
        f"</defs>{_board(face, picture)}"
        f'<use href="#{name}-line" fill="{picture.tint}"/>'
        f'<g clip-path="url(#{name}-clip)">{artwork}{texts}</g>'
        f'<use href="#{name}-line" fill="none" stroke="{CUT_COLOUR}" '
        f'stroke-width="{picture.line_mm:.3g}" stroke-linejoin="round"/>'
        f"{_joints(face, picture.line_mm)}"
        f"{plumb_svg(face.plumb, picture.line_mm)}{_measure(face.measure, picture.line_mm)}"
        f"{_bridges(face.bridges, picture.line_mm)}</g>"
    )


def _board(face: FacePicture, picture: PiecePicture) -> str:
    """What of a board stands out of the print, with its own cut line."""
    if face.board is None:
        return ""
    return (
        f'<path class="board" d="{svg_path(face.board, _UNSEEN_MM)}" fill="{picture.board_tint}" '
        f'fill-rule="evenodd" stroke="{CUT_COLOUR}" stroke-width="{picture.line_mm:.3g}" '
        'stroke-linejoin="round"/>'
    )


def _ink(ink: Ink, name: str, line: float) -> str:
    """One shape of a text: filled with a colour or a gradient, or drawn as a line."""
    path = f'<path d="{svg_path(ink.shape, _UNSEEN_MM)}"'
    if not ink.filled:
        return f'{path} fill="none" stroke="{ink.colour}" stroke-width="{line:.3g}"/>'
    if ink.blend is None:
        return f'{path} fill="{ink.colour}" fill-rule="evenodd"/>'
    (x1, y1), (x2, y2) = ink.blend.start_mm, ink.blend.end_mm
    return (
        f'<linearGradient id="{name}" gradientUnits="userSpaceOnUse" x1="{x1:.3f}" y1="{y1:.3f}" '
        f'x2="{x2:.3f}" y2="{y2:.3f}"><stop offset="0" stop-color="{ink.blend.start}"/>'
        f'<stop offset="1" stop-color="{ink.blend.end}"/></linearGradient>'
        f'{path} fill="url(#{name})" fill-rule="evenodd"/>'
    )


def _triangles(triangles: Sequence[Triangle]) -> str:
    return "".join("M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in t) + "z" for t in triangles)


def _joints(face: FacePicture, line: float) -> str:
    """The lines between parts, with a pale edge so that they are seen on any print."""
    if not face.joints:
        return ""
    data = "".join("M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in way) for way in face.joints)
    return "".join(
        f'<path class="joints" d="{data}" fill="none" stroke="{colour}" '
        f'stroke-width="{width:.3g}" stroke-linejoin="round"/>'
        for colour, width in (("#fff", 2.5 * line), (CUT_COLOUR, line))
    )


def _bridges(triangles: Sequence[Triangle], line: float) -> str:
    """Marks that point at bridges."""
    if not triangles:
        return ""
    return (
        f'<path class="bridges" d="{_triangles(triangles)}" fill="{MEASURE_COLOUR}" '
        f'stroke="#fff" stroke-width="{line:.3g}" paint-order="stroke"/>'
    )


def _measure(measure: Measure | None, line: float) -> str:
    """The dimension line: a pale edge below it, so that it can be read on any print."""
    if measure is None:
        return ""
    (x, y), size = measure.text_at, measure.text_size / _FIGURE_EM
    lines = "".join(f"M{a:.3f} {b:.3f}L{c:.3f} {d:.3f}" for (a, b), (c, d) in measure.lines)
    arrows = _triangles(measure.arrows)
    return (
        f'<g class="narrowest" stroke-linejoin="round" stroke-linecap="round">'
        f"<title>narrowest place {measure.text}</title>"
        f'<path d="{lines}{arrows}" fill="#fff" stroke="#fff" stroke-width="{3 * line:.3g}"/>'
        f'<path d="{lines}" fill="none" stroke="{MEASURE_COLOUR}" stroke-width="{line:.3g}"/>'
        f'<path d="{arrows}" fill="{MEASURE_COLOUR}"/><path transform="matrix({size:.4g} 0 0 '
        f'{size:.4g} {x:.3f} {y:.3f})" d="{_figure(measure.text)}" fill="{MEASURE_COLOUR}"/></g>'
    )


@lru_cache(maxsize=4096)
def _figure(text: str) -> str:
    """Path data of a figure; many pieces share it."""
    return svg_curves(figure_path(text, _FIGURE_EM, 700)[0])


def artwork_svg(artwork: Artwork, most_px: int = MOST_PX) -> str:
    """What is seen of a picture as SVG, in the coordinates of its face (y up).

    Args:
        artwork: the picture.
        most_px: longer side of a photograph as it is embedded; larger ones are made smaller.
    """
    whole = _whole_svg(artwork, most_px)
    if artwork.seen is None:
        return whole
    name, mask = f"{artwork.face}-seen", svg_path(artwork.seen, _UNSEEN_MM)
    return (
        f'<clipPath id="{name}"><path d="{mask}" clip-rule="evenodd"/></clipPath>'
        f'<g clip-path="url(#{name})">{whole}</g>'
    )


def _whole_svg(artwork: Artwork, most_px: int) -> str:
    x, y, width, height = artwork.box_mm
    picture = artwork.picture
    if isinstance(picture, RasterPicture):
        kind, data = _smaller(picture, most_px)
        return (
            f'<image transform="matrix(1 0 0 -1 {x:.3f} {y + height:.3f})" width="{width:.3f}" '
            f'height="{height:.3f}" preserveAspectRatio="none" '
            f'href="data:image/{kind};base64,{b64encode(data).decode()}"/>'
        )
    w, h = picture.size_mm
    shapes = "".join(_painted(shape) for shape in picture.shapes)
    return f'<g transform="matrix({width / w:.6g} 0 0 {height / h:.6g} {x:g} {y:g})">{shapes}</g>'


def _painted(shape: PaintedPath) -> str:
    """One flat shape."""
    marks = [f'<path d="{svg_curves(shape.path)}" fill="{shape.fill or "none"}"']
    if shape.fill and shape.fill_rule == "evenodd":
        marks.append('fill-rule="evenodd"')
    if shape.fill and shape.fill_opacity < 1:
        marks.append(f'fill-opacity="{shape.fill_opacity:.3g}"')
    if shape.stroke and shape.stroke_width > 0:
        marks.append(f'stroke="{shape.stroke}" stroke-width="{shape.stroke_width:.3g}"')
        marks.append(f'stroke-linecap="{shape.line_cap}" stroke-linejoin="{shape.line_join}"')
        if shape.stroke_opacity < 1:
            marks.append(f'stroke-opacity="{shape.stroke_opacity:.3g}"')
    return " ".join(marks) + "/>"


def _smaller(picture: RasterPicture, most_px: int) -> tuple[str, bytes]:
    """A photograph at the size of a preview, which repeats it: kind and bytes, few of them."""
    try:
        with Image.open(BytesIO(picture.data)) as image:
            if max(picture.size_px) > most_px:
                image.thumbnail((most_px, most_px), Image.Resampling.LANCZOS)
                found = [("png", _saved(image, "png"))]
            else:
                found = [(str(picture.kind), picture.data)]
            if "A" not in image.getbands():
                found.append(("jpeg", _saved(image, "jpeg")))
    except (OSError, ValueError, SyntaxError) as error:
        raise OutputError(
            "A picture of the template cannot be decoded for the previews. Save it again as "
            "PNG or JPEG and put it back into the template's folder."
        ) from error
    return min(found, key=lambda one: len(one[1]))


def _saved(image: Image.Image, kind: str) -> bytes:
    out = BytesIO()
    image.save(out, kind.upper(), quality=85)
    return out.getvalue()

"""Artwork in a PDF: embedded once, drawn as often as pieces use it."""

from io import BytesIO

from PIL import UnidentifiedImageError
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFResourceDictionary
from reportlab.pdfgen.canvas import Canvas

from namebatch.errors import OutputError
from namebatch.output.numbers import rgb
from namebatch.output.pdfpath import path_operators, shape_operators
from namebatch.template.model import Artwork, PaintedPath, RasterPicture, VectorPicture

_CAPS = {"butt": 0, "round": 1, "square": 2}
_JOINS = {"miter": 0, "round": 1, "bevel": 2}
_SVG_MITRE_LIMIT = 4.0  # SVG's default; PDF's own is 10


def draw_artwork(canvas: Canvas, artwork: Artwork) -> None:
    """Draw what is seen of a picture into its box, in the canvas's present units (mm).

    Vector pictures become one form object, raster pictures one image object, named after the
    file's digest: however often this is called, the document holds the picture once.

    Args:
        canvas: the page or form being drawn; its state is left as it was.
        artwork: the picture and where it lands.

    Raises:
        OutputError: when a raster picture cannot be decoded.
    """
    x, y, width, height = artwork.box_mm
    picture = artwork.picture
    canvas.saveState()
    if artwork.seen is not None:
        canvas.addLiteral(shape_operators(artwork.seen))
        canvas.addLiteral("W* n")
    canvas.translate(x, y)
    if isinstance(picture, VectorPicture):
        canvas.scale(width / picture.size_mm[0], height / picture.size_mm[1])
        canvas.doForm(_vector_form(canvas, picture, artwork.digest))
    else:
        canvas.scale(width, height)
        canvas.doForm(_raster_form(canvas, picture, artwork))
    canvas.restoreState()


def _vector_form(canvas: Canvas, picture: VectorPicture, digest: str) -> str:
    """The form of a vector picture, made on first use; its name."""
    name = f"artwork-{digest[:16]}"
    if not canvas.hasForm(name):
        canvas.beginForm(name, 0, 0, *picture.size_mm)
        canvas.setMiterLimit(_SVG_MITRE_LIMIT)
        opacities: set[float] = set()
        for shape in picture.shapes:
            opacities |= _paint(canvas, shape)
        # given by hand: the library leaves opacities out of a form's own resources
        states = {
            _state(value): PDFDictionary({"ca": value, "CA": value}) for value in sorted(opacities)
        }
        canvas.endForm(Resources=PDFResourceDictionary(ExtGState=states))
    return name


def _paint(canvas: Canvas, shape: PaintedPath) -> set[float]:
    """One shape: its inside, then its line over it; the opacities that were used."""
    operators = path_operators(shape.path)
    used: set[float] = set()
    if not operators:
        return used
    if shape.fill is not None:
        used.add(_set_opacity(canvas, shape.fill_opacity))
        canvas.setFillColorRGB(*unit_rgb(shape.fill))
        canvas.addLiteral(operators)
        canvas.addLiteral("f*" if shape.fill_rule == "evenodd" else "f")
    if shape.stroke is not None and shape.stroke_width > 0:
        used.add(_set_opacity(canvas, shape.stroke_opacity))
        canvas.setStrokeColorRGB(*unit_rgb(shape.stroke))
        canvas.setLineWidth(shape.stroke_width)
        canvas.setLineCap(_CAPS[shape.line_cap])
        canvas.setLineJoin(_JOINS[shape.line_join])
        canvas.addLiteral(operators)
        canvas.addLiteral("S")
    return used


def _set_opacity(canvas: Canvas, opacity: float) -> float:
    """Choose the graphics state of an opacity; the opacity as it is kept, three decimals."""
    kept = round(opacity, 3)
    canvas.addLiteral(f"/{_state(kept)} gs")
    return kept


def _state(opacity: float) -> str:
    """Name of the graphics state of an opacity."""
    return f"opacity{round(opacity * 1000)}"


def _raster_form(canvas: Canvas, picture: RasterPicture, artwork: Artwork) -> str:
    """The form of a raster picture on the unit square, made on first use; its name.

    The library finds an image again by hashing its pixels on every call; a form around it
    spares that for each further piece.
    """
    name = f"artwork-{artwork.digest[:16]}"
    if not canvas.hasForm(name):
        try:
            reader = ImageReader(BytesIO(picture.data))
            reader.getRGBData()
        except (OSError, ValueError, SyntaxError, UnidentifiedImageError) as error:
            raise OutputError(
                f"The picture of the {artwork.face} cannot be decoded for the print. "
                "Save it again as PNG or JPEG and put it back into the template's folder."
            ) from error
        canvas.beginForm(name, 0, 0, 1, 1)
        canvas.drawImage(reader, 0, 0, 1, 1, mask="auto")
        canvas.endForm()
    return name


def unit_rgb(colour: str) -> tuple[float, float, float]:
    """Red, green and blue, 0 to 1, of ``#rrggbb``."""
    red, green, blue = rgb(colour)
    return red / 255, green / 255, blue / 255

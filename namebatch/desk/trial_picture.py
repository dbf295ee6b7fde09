"""A picture that somebody sent: told by its content, bounded before it is read."""

from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import register_namespace, tostring

from defusedxml.ElementTree import fromstring
from shapely import Polygon

from namebatch.curves import Point
from namebatch.desk.trial_spec import PictureKind
from namebatch.errors import TemplateError
from namebatch.output.picture_data import svg_path
from namebatch.template.artwork import pixel_size, read_raster
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg.node import LARGEST_BYTES as LARGEST_SVG
from namebatch.template.svg.node import SVG_NAMESPACE, parse
from namebatch.template.svg.walk import read_drawing, root_size

MOST_BYTES: Final = 24 * 1024 * 1024
MOST_PIXELS: Final = 40_000_000
"""A4 at 600 dpi has 35 million; more is nothing to be read while somebody waits."""
_NAME: Final = "The picture"
_LIKELY: Final = (
    (b"%PDF", "a PDF"),
    (b"GIF8", "a GIF"),
    (b"RIFF", "a WebP picture"),
    (b"PK\x03\x04", "an archive"),
    (b"\x1f\x8b", "a packed file"),
    (b"II*\x00", "a TIFF"),
    (b"MM\x00*", "a TIFF"),
    (b"BM", "a BMP"),
)
"""What files begin with that people send instead (published file signatures)."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that can be used.

    Attributes:
        kind: how it is read.
        data: what is kept of it; a PNG is written anew, with nothing but its pixels in the file.
        size: in pixels, or in mm of a drawing.
        sized: False for a drawing that does not say how large it is.
    """

    kind: PictureKind
    data: bytes
    size: tuple[float, float]
    sized: bool = True


def read_picture(data: bytes) -> Picture:
    """Look a picture through.

    Raises:
        TemplateError: it cannot be used, with every reason.
    """
    kind = kind_of(data)
    try:
        if kind == "svg":
            return _drawing(data)
        width, height = pixel_size(data, _NAME)
        if width * height > MOST_PIXELS:
            raise FileProblem(
                _NAME,
                f"has {width} × {height} pixels; {MOST_PIXELS // 10**6} million are plenty, scale "
                "it down.",
            )
        raster = read_raster(data, _NAME)
    except FileProblem as problem:
        raise TemplateError("This picture cannot be used.", [str(problem)]) from None
    return Picture(raster.kind, raster.data, (float(raster.size_px[0]), float(raster.size_px[1])))


def kind_of(data: bytes) -> PictureKind:
    """The kind of a picture by its first bytes; nothing is decoded.

    Raises:
        TemplateError: it is too large, empty, or of another kind.
    """
    if len(data) > MOST_BYTES:
        raise TemplateError(
            f"The picture is larger than {MOST_BYTES >> 20} MiB. Save it smaller: a few thousand "
            "pixels each way are plenty."
        )
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if data.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    start = data[:200].replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n")
    if start.startswith(b"<"):
        return "svg"
    what = next((name for magic, name in _LIKELY if data.startswith(magic)), "")
    said = f"This is {what}" if what else "The file is empty" if not data else "This is no picture"
    raise TemplateError(
        f"{said}, and a template is made from a PNG, a JPEG or an SVG. Save it as one of these."
    )


def _drawing(data: bytes) -> Picture:
    problems = Problems()
    if len(data) > LARGEST_SVG:
        raise FileProblem(_NAME, f"is larger than {LARGEST_SVG >> 20} MiB; simplify it.")
    try:
        drawing = read_drawing(data, _NAME, problems)
    except FileProblem as problem:
        problems.add(problem.place, problem.message)
        raise TemplateError("This drawing cannot be used.", problems.told()) from None
    return Picture("svg", data, drawing.size_mm, drawing.sized)


def only_lines(data: bytes) -> bool:
    """True for a drawing that was looked through and fills nothing with paint."""
    shapes = read_drawing(data, _NAME, Problems()).shapes
    return bool(shapes) and all(shape.style["fill"] == "none" for shape in shapes)


def scaled_drawing(data: bytes, width_mm: float | None, height_mm: float | None) -> bytes:
    """A drawing at another size; one side follows from the other.

    Args:
        data: an SVG file that was looked through.
        width_mm: of the whole drawing, or None.
        height_mm: of the whole drawing, or None; both None leave it as it is.

    Raises:
        FileProblem: it does not say its shape.
    """
    if width_mm is None and height_mm is None:
        return data
    try:
        root = fromstring(data, forbid_dtd=True)
        width, height, _ = root_size(parse(data, _NAME))
    except FileProblem:
        raise
    except Exception:  # the parser has many kinds; all of them were looked for before
        raise FileProblem(_NAME, "cannot be read as a drawing; save it as plain SVG.") from None
    by = width_mm / width if width_mm is not None else (height_mm or 1.0) / height
    if not (root.get("viewBox") or "").strip():
        root.set("viewBox", f"0 0 {width:.9g} {height:.9g}")
    root.set("width", f"{width * by:.6g}mm")
    root.set("height", f"{height * by:.6g}mm")
    register_namespace("", SVG_NAMESPACE)
    text: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return text


def own_size_mm(picture: Picture) -> tuple[float, float] | None:
    """The size that a drawing says it has."""
    return picture.size if picture.kind == "svg" and picture.sized else None


def drawing_of(base: Polygon) -> bytes:
    """An outline as a drawing that can be a base: y down, from its own corner."""
    x0, y0, x1, y1 = base.bounds
    turned = Polygon(
        _turned(base.exterior.coords, x0, y1), [_turned(r.coords, x0, y1) for r in base.interiors]
    )
    return (
        f'<svg xmlns="{SVG_NAMESPACE}" width="{x1 - x0:.6g}mm" height="{y1 - y0:.6g}mm" '
        f'viewBox="0 0 {x1 - x0:.6g} {y1 - y0:.6g}">\n'
        f'<path d="{svg_path(turned)}" fill="none" stroke="#000" stroke-width="0.1"/>\n</svg>\n'
    ).encode()


def _turned(ring: "list[Point]", x0: float, y1: float) -> "list[Point]":
    return [(x - x0, y1 - y) for x, y in ring]

"""Print that can hardly be told from what lies beneath it: white on white card, blue on blue."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from PIL import Image
from shapely.affinity import affine_transform

from namebatch.curves import Flattener, draw
from namebatch.finding import Finding, warn
from namebatch.piece import Lettering
from namebatch.template.guide import Floats
from namebatch.template.model import Artwork, FaceName, PaintedPath, RasterPicture, Template
from namebatch.template.regions import region_of
from namebatch.template.textbox import Paint

LEAST: Final = 1.5
"""Contrast below which letters are hardly seen; text that is read wants 4.5 (WCAG 2.2, 1.4.3).
Common practice, no source: pale print on pale card may be wanted, so only the palest is told."""
MOST_OF: Final = 0.5
"""So much of the letters has to be hard to see."""
POINTS: Final = 2000
FLAT_MM: Final = 0.1
SEEN_PX: Final = 600
"""Pictures are looked at with so many pixels at most along a side."""
Colours = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Layer:
    """What is painted of a picture in one colour.

    Attributes:
        area: in the coordinates of its face.
        colour: red, green and blue, 0 to 255.
        opacity: 0 to 1.
    """

    area: shapely.Geometry
    colour: tuple[float, float, float]
    opacity: float


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """Artwork ready to be asked for its colours.

    Attributes:
        box_mm: where it lies.
        pixels: (height, width, 4), 0 to 255, or None for a drawing.
        layers: of a drawing, in painting order.
    """

    box_mm: tuple[float, float, float, float]
    pixels: Colours | None
    layers: tuple[Layer, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Beneath:
    """What lies beneath print.

    Attributes:
        paper: ``#rrggbb`` of the material.
        pictures: by face.
    """

    paper: str
    pictures: Mapping[FaceName, Picture]

    def colours(self, face: FaceName, points: Floats) -> Colours:
        """Red, green and blue at points of a face, (n, 3), 0 to 255."""
        found = np.tile(np.array(_rgb(self.paper), dtype=float), (len(points), 1))
        picture = self.pictures.get(face)
        if picture is None:
            return found
        for layer in picture.layers:
            hit = shapely.contains_xy(layer.area, points[:, 0], points[:, 1])
            found[hit] += layer.opacity * (np.array(layer.colour) - found[hit])
        if picture.pixels is not None:
            x, y, width, height = picture.box_mm
            rows, columns = picture.pixels.shape[:2]
            across = ((points[:, 0] - x) / width * columns).astype(int)
            down = ((y + height - points[:, 1]) / height * rows).astype(int)
            on = (across >= 0) & (across < columns) & (down >= 0) & (down < rows)
            pixel = picture.pixels[down[on], across[on]]
            found[on] += pixel[:, 3:] / 255 * (pixel[:, :3] - found[on])
        return found


WHITE: Final = Beneath("#ffffff", {})
"""Plain white paper."""


def beneath_of(template: Template, paper: str) -> Beneath:
    """Make ready what a template prints on.

    Args:
        template: with its artwork.
        paper: ``#rrggbb`` of the material that is printed on.
    """
    used = {box.face for box in template.boxes if box.colour or box.paint.colour_field}
    pictures = {face: _picture(art) for face, art in template.artwork.items() if face in used}
    return Beneath(paper, pictures)


def contrast(one: Colours, other: Colours) -> Colours:
    """Contrast of colours, 1 to 21, by WCAG 2.2 (relative luminance of sRGB).

    Args:
        one: (n, 3) or (3,), 0 to 255.
        other: as many, or one.
    """
    first, second = _luminance(one), _luminance(other)
    lighter, darker = np.maximum(first, second), np.minimum(first, second)
    result: Colours = (lighter + 0.05) / (darker + 0.05)
    return result


def faint_boxes(template: Template, beneath: Beneath) -> tuple[Finding, ...]:
    """A warning for each text box whose own colour can hardly be seen where it lies."""
    findings = []
    for box in template.boxes:
        colour = _painted(box.colour, box.paint)
        if box.made == "print" and colour and not box.paint.colour_field:
            found = _least(region_of(box), colour, box.face, beneath)
            if found is not None:
                findings.append(_told(f'The text "{box.name}"', colour, box.face, found))
    return tuple(findings)


def faint(texts: Iterable[Lettering], beneath: Beneath) -> tuple[Finding, ...]:
    """A warning for each text with a colour from the list that can hardly be seen."""
    findings = []
    for text in texts:
        if text.made != "print" or not text.paint.colour_field or text.shape.is_empty:
            continue
        colour = _painted(text.colour, text.paint)
        found = _least(text.shape, colour, text.face, beneath) if colour else None
        if colour and found is not None:
            findings.append(_told(f'"{text.text}"', colour, text.face, found))
    return tuple(findings)


def _painted(colour: str | None, paint: Paint) -> str | None:
    """The one colour of letters; None where stroke, shadow or gradient set them off."""
    if paint.gradient or paint.shadow or paint.stroke:
        return None
    return colour


def _least(area: shapely.Geometry, colour: str, face: FaceName, beneath: Beneath) -> float | None:
    """The contrast that most of an area stays below, if that is too little; else None."""
    points = _points(area)
    if not len(points):
        return None
    found = np.sort(contrast(np.array(_rgb(colour)), beneath.colours(face, points)))
    middle = float(found[int(MOST_OF * (len(found) - 1))])
    return middle if middle < LEAST else None


def _points(area: shapely.Geometry) -> Floats:
    """Points of a grid that lie in an area, (n, 2)."""
    x0, y0, x1, y1 = area.bounds
    step = ((x1 - x0) * (y1 - y0) / POINTS) ** 0.5
    if not step > 0:
        return np.empty((0, 2))
    x, y = np.meshgrid(np.arange(x0 + step / 2, x1, step), np.arange(y0 + step / 2, y1, step))
    points: Floats = np.column_stack([x.ravel(), y.ravel()])
    inside: Floats = points[shapely.contains_xy(area, points[:, 0], points[:, 1])]
    return inside


def _told(what: str, colour: str, face: FaceName, found: float) -> Finding:
    return warn(
        "print-faint",
        f"{what} is printed in {colour} on ground of nearly the same colour ({face}; contrast "
        f"{found:.1f} to 1) and will hardly be seen. Take a darker or lighter colour, or give the "
        "letters a stroke in the template.",
    )


def _rgb(colour: str) -> tuple[float, float, float]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _luminance(colours: Colours) -> Colours:
    share = np.asarray(colours, dtype=float) / 255
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    result: Colours = linear @ np.array([0.2126, 0.7152, 0.0722])
    return result


def _picture(art: Artwork) -> Picture:
    if isinstance(art.picture, RasterPicture):
        image = Image.open(BytesIO(art.picture.data)).convert("RGBA")
        image.thumbnail((SEEN_PX, SEEN_PX))
        return Picture(art.box_mm, np.asarray(image, dtype=float))
    x, y, width, height = art.box_mm
    own_width, own_height = art.picture.size_mm
    affine = (width / own_width, 0.0, 0.0, height / own_height, x, y)
    layers = [_layer(shape, affine) for shape in art.picture.shapes]
    return Picture(art.box_mm, None, tuple(layer for layer in layers if layer is not None))


def _layer(shape: PaintedPath, affine: tuple[float, ...]) -> Layer | None:
    """The filled area of a shape; lines round it are too thin to be ground."""
    if shape.fill is None:
        return None
    flat = Flattener(FLAT_MM)
    draw(shape.path, flat)
    area: shapely.Geometry = shapely.Polygon()
    hollow: shapely.Geometry = shapely.Polygon()
    for ring in flat.finish():
        if len(ring) < 3:
            continue
        part = shapely.make_valid(shapely.Polygon(ring))
        if shape.fill_rule == "evenodd":
            area = shapely.symmetric_difference(area, part)
        elif shapely.is_ccw(shapely.LinearRing(ring)):
            area = shapely.union(area, part)
        else:
            hollow = shapely.union(hollow, part)
    if shape.fill_rule != "evenodd":
        # nonzero: where rings of both senses lie over each other they take each other away
        area = shapely.symmetric_difference(area, hollow)
    area = affine_transform(area, affine)
    shapely.prepare(area)
    return Layer(area, _rgb(shape.fill), shape.fill_opacity)

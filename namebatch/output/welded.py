"""What is printed of names that are cut with the base in one line.

Bridges and thickened strokes belong to the letters beside them. On the back there are no
letters to read, and yet what stands out of the base is seen: it takes their colour.
"""

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import MultiPolygon, Polygon, affinity, box, make_valid

from namebatch.piece import Lettering, Piece
from namebatch.template.model import FaceName, Template
from namebatch.text.glyphs import as_multipolygon

_TOUCHING_MM = 0.02
"""What was added to a letter lies as near as this to it."""
_OVER_MM = 0.01
"""Shapes are painted this far over one another, so that no hairline is left between them."""


def texts_seen(template: Template, piece: Piece, face: FaceName) -> tuple[Lettering, ...]:
    """The texts of a face in painting order, shapes in mm as one sees the face.

    Args:
        template: base, rule and artwork are read.
        piece: whose texts they are.
        face: front or back.

    Returns:
        Of welded texts first what stands out of the base, bridges and all, then on the front
        the letters themselves as plain print on it. On the back nothing is added where the
        template's picture covers the whole piece.
    """
    own = tuple(text for text in piece.letterings if text.face == face)
    welded = [text for text in piece.letterings if _welded(template, text)]
    if not welded or (face == "back" and _covered(template, piece)):
        return own
    beside = [
        replace(text, face=face, shape=_as_seen(template, shape, face))
        for text, shape in zip(welded, _beside(template, piece, welded), strict=True)
        if not shape.is_empty
    ]
    plain = (replace(text, made="print") if _welded(template, text) else text for text in own)
    return (*beside, *plain)


def outline_seen(template: Template, piece: Piece, face: FaceName) -> Polygon:
    """The outline as one sees a face: the back is the front turned over."""
    return _seen_on(template, piece.outline, face)


def whole_seen(template: Template, piece: Piece, face: FaceName) -> Polygon:
    """The same of the whole piece, where this is a part of one."""
    return _seen_on(template, piece.whole_outline, face)


def _seen_on(template: Template, outline: Polygon, face: FaceName) -> Polygon:
    return outline if face == "front" else affinity.affine_transform(outline, _over(template))


def _welded(template: Template, text: Lettering) -> bool:
    return template.rule == "weld" and text.made == "outline" and text.colour is not None


def _beside(template: Template, piece: Piece, texts: Sequence[Lettering]) -> list[shapely.Geometry]:
    """For each text what stands out of the base and belongs to it: all that touches it.

    What touches several texts is parted between them, the first gets the bridges.
    """
    ground = shapely.union_all([template.base, *template.holes])
    left = shapely.get_parts(shapely.difference(piece.whole_outline, ground))
    found = []
    for text in texts:
        touching = shapely.dwithin(left, text.shape, _TOUCHING_MM)
        mine = shapely.union_all(left[touching])
        others = [other.shape for other in texts if other is not text]
        if others and not mine.is_empty:
            mine = shapely.difference(mine, shapely.union_all(others))
            left = shapely.get_parts(shapely.difference(shapely.union_all(left), mine))
        found.append(mine)
    return found


def _covered(template: Template, piece: Piece) -> bool:
    """Whether the picture of the back reaches over the whole piece and so is its ground."""
    picture = template.artwork.get("back")
    if picture is None or picture.seen is not None:
        return False
    x, y, width, height = picture.box_mm
    return bool(box(x, y, x + width, y + height).covers(whole_seen(template, piece, "back")))


def _as_seen(template: Template, shape: shapely.Geometry, face: FaceName) -> MultiPolygon:
    """A shape turned over for the back, and a hair larger."""
    wide = shape.buffer(_OVER_MM, quad_segs=2)
    if face == "back":
        wide = affinity.affine_transform(wide, _over(template))
    # turning rounds anew, and parts that just do not touch may touch
    return as_multipolygon(wide if wide.is_valid else make_valid(wide, method="structure"))


def _over(template: Template) -> tuple[float, ...]:
    """Turning over: x counts from the base's right edge."""
    return (-1.0, 0.0, 0.0, 1.0, template.size_mm[0], 0.0)

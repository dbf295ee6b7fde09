"""Small triangles that point at bridges from outside the outline, in mm, y up."""

from math import hypot

from shapely import Point, Polygon, contains_xy

from namebatch.curves import Point as Place
from namebatch.outline import Bridge
from namebatch.piece import Piece
from namebatch.template.model import FaceName

Triangle = tuple[Place, Place, Place]
SIZE = 0.45
"""Height of a triangle in units of the figures."""
CLEAR = 0.12


def bridge_marks(
    piece: Piece, face: FaceName, outline: Polygon, base_width_mm: float, unit_mm: float
) -> tuple[Triangle, ...]:
    """One triangle a bridge, its tip at the middle of the bar's open side.

    Args:
        piece: whose bridges are marked.
        face: the back is seen turned over.
        outline: as one sees the face.
        base_width_mm: of the template.
        unit_mm: height of figures in the picture.
    """
    marks = []
    for bridge in piece.bridges:
        (x0, y0), (x1, y1) = (
            _seen(point, face, base_width_mm) for point in (bridge.start, bridge.end)
        )
        marks.append(_mark(bridge, (x0, y0), (x1, y1), outline, unit_mm))
    return tuple(marks)


def _seen(point: Place, face: FaceName, width: float) -> Place:
    return (width - point[0], point[1]) if face == "back" else point


def _mark(bridge: Bridge, start: Place, end: Place, outline: Polygon, unit: float) -> Triangle:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    nx, ny = (-dy / length, dx / length) if length > 1e-9 else (0.0, 1.0)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    half = bridge.width_mm / 2
    side = max((1.0, -1.0), key=lambda s: _openness(middle, (s * nx, s * ny), half, outline, unit))
    ux, uy = side * nx, side * ny
    tip = (middle[0] + ux * (half + CLEAR * unit), middle[1] + uy * (half + CLEAR * unit))
    back = (tip[0] + ux * SIZE * unit, tip[1] + uy * SIZE * unit)
    wing = 0.3 * unit
    return (
        tip,
        (back[0] - uy * wing, back[1] + ux * wing),
        (back[0] + uy * wing, back[1] - ux * wing),
    )


def _openness(middle: Place, way: Place, half: float, outline: Polygon, unit: float) -> float:
    """How free the place beside the bar is: distance to the piece if outside, else below zero."""
    reach = half + (CLEAR + SIZE) * unit
    x, y = middle[0] + way[0] * reach, middle[1] + way[1] * reach
    distance = float(outline.boundary.distance(Point(x, y)))
    return -distance if contains_xy(outline, x, y) else distance

"""The narrowest neck of a shape: how wide, and where. Lengths in mm."""

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import MultiPolygon, Polygon

PRECISION_MM = 0.01
QUARTER = 8
"""Chords a quarter circle of an erosion: its error is 0.5 % of the radius, on the safe side."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest place.

    Attributes:
        width_mm: within 0.01 mm, never above the true width by more than that.
        at: a point in the neck; None when the shape has none and shrinks away evenly.
    """

    width_mm: float
    at: tuple[float, float] | None


def narrowest_neck(shape: Polygon, at_most_mm: float = 1000.0) -> Neck:
    """Find the narrowest neck by bisection on erosions.

    A neck narrower than w is where erosion by w/2 changes the number of parts or of holes
    (a wall that opens, a bar that parts). Tails that hang by one end change neither and are
    not necks.

    Args:
        shape: a valid polygon.
        at_most_mm: stop looking beyond this width and report it.
    """
    return _narrowest(shapely.to_wkb(shape), at_most_mm)


@lru_cache(maxsize=4096)
def _narrowest(wkb: bytes, at_most_mm: float) -> Neck:
    shape = shapely.from_wkb(wkb)
    holes = len(shape.interiors)
    low, high = 0.0, _first_failure(shape, holes, at_most_mm)
    if high is None:
        return Neck(at_most_mm, None)
    while high - low > PRECISION_MM:
        middle = (low + high) / 2
        low, high = (middle, high) if _whole(shape, middle, holes) else (low, middle)
    return Neck(low, _place(shape, low, high))


def _first_failure(shape: Polygon, holes: int, at_most_mm: float) -> float | None:
    """A width at which the shape no longer holds, found by doubling; None if it always does."""
    width = min(1.0, at_most_mm)
    while _whole(shape, width, holes):
        if width >= at_most_mm:
            return None
        width = min(2 * width, at_most_mm)
    return width


def _erode(shape: Polygon, width_mm: float) -> shapely.Geometry:
    return shapely.buffer(shape, -width_mm / 2, quad_segs=QUARTER)


def _parts(shape: shapely.Geometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(shape) if not part.is_empty]


def _whole(shape: Polygon, width_mm: float, holes: int) -> bool:
    parts = _parts(_erode(shape, width_mm))
    return len(parts) == 1 and len(parts[0].interiors) == holes


def _place(shape: Polygon, low: float, high: float) -> tuple[float, float] | None:
    """A point in the neck that parts between the two widths."""
    after = _parts(_erode(shape, high))
    if len(after) > 1:
        first, *others = sorted(after, key=lambda part: -part.area)
        line = shapely.shortest_line(first, MultiPolygon(others))
    elif len(after) == 1 and len(after[0].interiors) < len(shape.interiors):
        line = _thinnest_wall(shape)
    else:
        return None
    middle = shapely.line_interpolate_point(line, 0.5, normalized=True)
    return float(middle.x), float(middle.y)


def _thinnest_wall(shape: Polygon) -> shapely.LineString:
    """The shortest line between two rings of a polygon."""
    rings = [shape.exterior, *shape.interiors]
    lines = [
        shapely.shortest_line(ring, other)
        for index, ring in enumerate(rings)
        for other in rings[index + 1 :]
    ]
    return min(lines, key=lambda line: line.length)

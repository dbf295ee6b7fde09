"""Glyph outlines as polygons: non-zero winding, glyph by glyph, in font units.

168 of 744 sampled glyphs overlap themselves without any flag in the font that says so, and
even-odd filling is wrong in 86 % of names; so every glyph is resolved here, once, and cached.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from namebatch.curves import Flattener, Point

MOST_POINTS = 30_000
MOST_CONTOURS = 1_000
MOST_CROSSINGS = 20_000
"""Of one glyph. Designers' most ornate ones stay far below; more takes minutes and gigabytes."""
_AT_ONCE = 500


class TooIntricate(Exception):
    """A glyph that nobody drew by hand: too many points, contours or crossings."""


class GlyphFlattener(Flattener):
    """A flattener that takes no more once a glyph has too many points.

    Attributes:
        full: it has taken no more.
    """

    def __init__(self, tolerance: float) -> None:
        super().__init__(tolerance)
        self.full = False
        self._most = MOST_POINTS

    def line(self, x: float, y: float) -> None:
        """A straight line."""
        if self._room():
            super().line(x, y)

    def quad(self, x1: float, y1: float, x: float, y: float) -> None:
        """A quadratic Bézier, as chords."""
        if self._room():
            super().quad(x1, y1, x, y)

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        """A cubic Bézier, as chords."""
        if self._room():
            super().cubic(x1, y1, x2, y2, x, y)

    def close(self) -> None:
        """Close the contour."""
        self._most -= len(self._ring)
        super().close()

    def _room(self) -> bool:
        self.full = self.full or len(self._ring) > self._most or len(self.rings) > MOST_CONTOURS
        return not self.full


def polygons_of(rings: Sequence[Sequence[Point]]) -> MultiPolygon:
    """Fill closed contours by the non-zero rule.

    Args:
        rings: contours without a repeated last point, any orientation, any overlap.

    Returns:
        The valid region that has a winding number other than zero; empty without area.

    Raises:
        TooIntricate: there are more points, contours or crossings than are worked on.
    """
    lines = [shapely.LinearRing(ring) for ring in rings if _has_extent(ring)]
    if not lines:
        return MultiPolygon()
    if len(lines) > MOST_CONTOURS or sum(map(len, rings)) > MOST_POINTS:
        raise TooIntricate
    simple = _without_crossings(lines)
    if simple is not None:
        return simple
    sides = np.concatenate([_sides(line) for line in lines])
    _refuse_crossings(sides)
    noded = shapely.unary_union(lines)
    cells = shapely.get_parts(shapely.polygonize([noded]))
    inside = [cell for cell in cells if _winding(cell.representative_point(), sides) != 0]
    return as_multipolygon(shapely.union_all(inside))


def without_specks(shape: MultiPolygon, least_area: float) -> MultiPolygon:
    """Fill pinholes and drop specks below an area.

    Overlapping contours of variable fonts leave slits of next to no area where curves nearly
    coincide; no designer drew them, and a cutter would burn there.
    """
    kept = []
    for part in shape.geoms:
        if part.area < least_area:
            continue
        holes = [ring for ring in part.interiors if Polygon(ring).area >= least_area]
        kept.append(part if len(holes) == len(part.interiors) else Polygon(part.exterior, holes))
    return MultiPolygon(kept)


def as_multipolygon(shape: shapely.Geometry) -> MultiPolygon:
    """The areas of any geometry; lines and points are dropped."""
    if isinstance(shape, MultiPolygon):
        return shape
    if isinstance(shape, Polygon):
        return MultiPolygon() if shape.is_empty else MultiPolygon([shape])
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, Polygon)]
    return MultiPolygon([part for part in parts if not part.is_empty])


def _has_extent(ring: Sequence[Point]) -> bool:
    return len(set(ring)) >= 3


def _without_crossings(lines: Sequence[shapely.LinearRing]) -> MultiPolygon | None:
    """The common case, quickly: contours that neither cross nor touch. None otherwise."""
    polygons = [Polygon(line.coords) for line in lines]
    if not all(polygon.is_valid for polygon in polygons):
        return None
    for index, line in enumerate(lines):
        if any(line.intersects(other) for other in lines[index + 1 :]):
            return None
    order = sorted(range(len(lines)), key=lambda i: -polygons[i].area)
    shells: list[tuple[Polygon, int]] = []  # region, winding number inside it
    solid: shapely.Geometry = MultiPolygon()
    for i in order:
        point = shapely.Point(lines[i].coords[0])
        around = next((w for region, w in reversed(shells) if region.contains(point)), 0)
        turn = around + (1 if lines[i].is_ccw else -1)
        shells.append((polygons[i], turn))
        if around == 0 and turn != 0:
            solid = solid.union(polygons[i])
        elif around != 0 and turn == 0:
            solid = solid.difference(polygons[i])
    return as_multipolygon(solid)


def _sides(line: shapely.LinearRing) -> NDArray[np.float64]:
    """The sides of a ring, (n, 4): x and y of one end and of the other."""
    xy = shapely.get_coordinates(line)
    return np.hstack([xy[:-1], xy[1:]])


def _refuse_crossings(sides: NDArray[np.float64]) -> None:
    """Refuse sides that meet each other more often than is worked on, before they are cut there."""
    lines = shapely.linestrings(sides.reshape(-1, 2, 2))
    tree = shapely.STRtree(lines)
    # each side meets itself and both of its neighbours
    most = 3 * len(lines) + 2 * MOST_CROSSINGS
    for start in range(0, len(lines), _AT_ONCE):
        most -= tree.query(lines[start : start + _AT_ONCE], predicate="intersects").shape[1]
        if most < 0:
            raise TooIntricate


def _winding(point: shapely.Point, sides: NDArray[np.float64]) -> int:
    """Winding number of closed lines about a point (Sunday's crossing count)."""
    x, y = point.x, point.y
    x0, y0, x1, y1 = sides.T
    left = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
    up = (y0 <= y) & (y1 > y) & (left > 0)
    down = (y0 > y) & (y1 <= y) & (left < 0)
    return int(np.count_nonzero(up)) - int(np.count_nonzero(down))

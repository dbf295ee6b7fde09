"""The largest text that fits into an area anywhere."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.template.guide import Floats
from namebatch.text.block import Block
from namebatch.text.fitting import Fit, Piece, grown, piece_round, sides_of
from namebatch.text.place import Placed

EASED_MM = 0.01
"""The area is searched by a plainer one that lies within it, at most twice this far inside."""
PLAINER = 0.003
"""In capitals' heights, how far the hull that is searched with may cut a round corner."""
BETTER = 1.002
"""Another place counts if the text is larger there by this factor."""
ROOM = 0.999
"""Share of the greatest size that is used: a text that just fits has no place to choose."""
SPARE_MM = 0.02
ROOMY = 0.95
"""Share of the largest circle in the area that has to fit round its middle."""
SLICE = 0.3
"""Width of a slice of ink, in capitals' heights."""
SPECK = 1e-6
PLACES = 12
EASE = 0.9995
TRIES = 12


@dataclass(frozen=True, slots=True)
class Inside:
    """An area with holes.

    Attributes:
        area: in mm; no ink leaves it.
    """

    area: Polygon

    @property
    def lines(self) -> int:
        """Two, as in a rectangle."""
        return 2

    def largest(self, block: Block, most_mm: float) -> float:
        """By search over size and place; the answer is proved with the ink itself."""
        return _found(self.area, block, most_mm).size

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """As near to the middle of the area as the size allows."""
        found = _found(self.area, block, height_mm)
        letters = block.letters(height_mm, found.x, found.y) if by_letter else ()
        return Placed(block.ink(height_mm, found.x, found.y), letters, found.y)


@lru_cache(maxsize=16)
def _found(area: Polygon, block: Block, most_mm: float) -> Fit:
    """The largest size up to a bound, and its place; size 0 if there is none."""
    ink = block.ink(1.0, 0.0, 0.0)
    plain = _plain(area)
    if plain.is_empty:
        return Fit(0.0, 0.0, 0.0)
    search = Search(plain, _piece(ink), ink)
    trail: tuple[Fit, ...] = ()
    size = most_mm
    if size > search.bound or search.places(size).is_empty:
        trail = search.largest()
        size = min(trail[-1].size * ROOM, most_mm)
    middle = block.middle, (1 + block.rows[-1].y) / 2
    whole = shapely.buffer(area, 1e-6)
    shapely.prepare(whole)
    for _ in range(TRIES):
        x, y = search.nearest(size, middle, trail)
        if whole.contains(block.ink(size, x, y)):
            return Fit(size, x, y)
        size *= EASE
    return Fit(0.0, 0.0, 0.0)


@lru_cache(maxsize=16)
def _plain(area: Polygon) -> Polygon:
    """An area with fewer corners that lies within."""
    inner = shapely.simplify(shapely.buffer(area, -EASED_MM), EASED_MM)
    parts = [p for p in shapely.get_parts(inner) if isinstance(p, Polygon) and not p.is_empty]
    return max(parts, key=lambda part: part.area) if parts else Polygon()


@lru_cache(maxsize=16)
def middle_of(area: Polygon) -> shapely.Point:
    """Where short texts stand: nearest to the centre of mass where there is most room around.

    Names of a batch stand there alike, wide ones too; in a kite that is at its widest, above
    the centre of mass; in a long rectangle, in the middle of its length.
    """
    widest = shapely.maximum_inscribed_circle(area, tolerance=SPARE_MM).length
    roomy = shapely.buffer(area, -ROOMY * widest)
    centre = area.centroid
    if roomy.is_empty or roomy.contains(centre):
        return centre
    return shapely.get_point(shapely.shortest_line(roomy, centre), 0)


def _piece(shape: shapely.Geometry) -> Piece:
    return piece_round(shapely.get_coordinates(shape), PLAINER)


def _slices(ink: MultiPolygon) -> list[Piece]:
    """Ink in upright slices, the hull of each part of them: nearer to it than the whole hull."""
    x0, y0, x1, y1 = ink.bounds
    count = ceil((x1 - x0) / SLICE)
    edges = np.linspace(x0, x1, count + 1)
    cuts = shapely.intersection(ink, shapely.box(edges[:-1], y0, edges[1:], y1))
    parts = [part for part in shapely.get_parts(cuts) if isinstance(part, Polygon)]
    return [_piece(part) for part in parts if part.area > SPECK]


@dataclass(frozen=True, slots=True)
class Search:
    """A text that is fitted into an area.

    Attributes:
        area: plain, with holes.
        hull: of the whole ink, at size 1.
        ink: at size 1.
    """

    area: Polygon
    hull: Piece
    ink: MultiPolygon

    def largest(self) -> tuple[Fit, ...]:
        """The largest fit: of the hull anywhere, then of the parts of the ink from there.

        Returns:
            Fits on the way there, as `grown`.
        """
        sides, most = sides_of(self.area), self.bound
        start = shapely.point_on_surface(self.area)
        trail = grown(Fit(0.0, start.x, start.y), [self.hull], sides, most)
        for _ in range(PLACES):
            size = trail[-1].size * BETTER
            free = self.places(size)
            if free.is_empty:
                break
            point = shapely.point_on_surface(free)
            trail = grown(Fit(size, point.x, point.y), [self.hull], sides, most)
        if shapely.equals(self.area.convex_hull, self.area):
            return trail
        return grown(trail[-1], _slices(self.ink), sides, most)

    def places(self, size: float) -> shapely.Geometry:
        """Where the origin of the hull may lie at a size, by sums of Minkowski.

        The hull, turned by half a turn, is drawn along every side of the area; what it covers
        is no place. So is what lies outside of the area.
        """
        sides = sides_of(self.area)
        turned = -self.hull.corners * size
        corners = np.concatenate(
            [sides.begins[:, None, :] + turned, sides.ends[:, None, :] + turned], axis=1
        )
        covered = shapely.convex_hull(shapely.multipoints(corners))
        middle = self._middle() * size
        whole = shapely.transform(self.area, lambda points: points - middle)
        return shapely.difference(whole, shapely.union_all(covered))

    def nearest(
        self, size: float, middle: tuple[float, float], trail: tuple[Fit, ...]
    ) -> tuple[float, float]:
        """The place at a size that brings a point of the text nearest to the middle of the area.

        Args:
            size: of the text.
            middle: the point, at size 1; the middle of capitals, so that names sit alike.
            trail: of `largest`, for sizes at which the hull fits nowhere.
        """
        centre = middle_of(self.area)
        wanted = shapely.Point(centre.x - middle[0] * size, centre.y - middle[1] * size)
        free = self.places(size)
        if free.is_empty:
            return _between(trail, size)
        if free.contains(wanted):
            return wanted.x, wanted.y
        # not right at the edge of what is possible where there is room to spare
        spare = shapely.maximum_inscribed_circle(free, tolerance=SPARE_MM).length
        inner = shapely.buffer(free, -spare / 2)
        point = shapely.get_point(
            shapely.shortest_line(free if inner.is_empty else inner, wanted), 0
        )
        return point.x, point.y

    def _middle(self) -> Floats:
        low, high = self.hull.corners.min(axis=0), self.hull.corners.max(axis=0)
        found: Floats = (low + high) / 2
        return found

    @property
    def bound(self) -> float:
        """A size that is too large even for the box round the area."""
        x0, y0, x1, y1 = self.area.bounds
        low, high = self.hull.corners.min(axis=0), self.hull.corners.max(axis=0)
        return float(min((x1 - x0) / (high - low)[0], (y1 - y0) / (high - low)[1]))


def _between(trail: tuple[Fit, ...], size: float) -> tuple[float, float]:
    """The place on a trail at a size."""
    sizes = [fit.size for fit in trail]
    x = np.interp(size, sizes, [fit.x for fit in trail])
    y = np.interp(size, sizes, [fit.y for fit in trail])
    return float(x), float(y)

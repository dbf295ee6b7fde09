"""Where the pieces of a text fit on a ground: on a line of capitals' middles, or anywhere."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from namebatch.template.guide import Floats
from namebatch.text.fitting import Fit, grown, stretches_of, topmost
from namebatch.text.ground import FAR_MM, Ground, Rules, rules_of
from namebatch.text.hulls import Hulls

BETTER = 1.002
"""Another place counts if the text is larger there by this factor."""
PLACES = 12
"""How often another place is looked for."""
SPARE_MM = 0.02
INWARDS = 0.25
"""A text that cannot stand in the middle keeps off the end of a free stretch by this share."""


@dataclass(frozen=True, slots=True)
class Level:
    """A line on which names stand with the middle of their capitals.

    Attributes:
        x: where their own middles stand if they can, in mm.
        y: of the line, in mm.
        low: the least x that is allowed.
        high: the greatest.
    """

    x: float
    y: float
    low: float = -FAR_MM
    high: float = FAR_MM


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """A text that is fitted into an area.

    Attributes:
        ground: where it goes.
        hulls: of the text.
        rules: that keep the hull of all ink on the ground.
    """

    ground: Ground
    hulls: Hulls
    rules: Rules

    def on_level(self, level: Level, most: float) -> tuple[Fit, ...]:
        """The largest fit with the middle of capitals at a height.

        First of the hull, wherever it may stand along the line, then of the slices from there.

        Args:
            level: the line.
            most: greatest size that is of use.

        Returns:
            Fits of rising size; what lies between two of them fits as well. Empty for none.
        """
        rules, y = _at(self.rules, level), level.y
        top = topmost(rules, most)
        if top is None:
            return ()
        if top[1]:
            return _fits((top[0],), y)
        starts = [np.array([0.0, (a + b) / 2]) for a, b in stretches_of(rules, 0.0)]
        if not starts:
            return ()
        trail = max((grown(start, rules, most) for start in starts), key=_size)
        trail = _farther_along(trail, rules, most)
        if _size(trail) < most:
            finer = _at(_finer(self), level)
            trail = _farther_along(grown(trail[-1], finer, most), finer, most)
        return _fits(trail, y)

    def anywhere(self, starts: tuple[Fit, ...], most: float) -> tuple[Fit, ...]:
        """The largest fit of all: of the hull wherever it may be, then of the slices from there.

        Args:
            starts: fits that are known; the search begins with the largest.
            most: greatest size that is of use.

        Returns:
            As `on_level`.
        """
        top = topmost(self.rules, most)
        if top is None:
            return ()
        if top[1]:
            return _fits((top[0],), None)
        trail = max((self._grown_from(fit, most) for fit in starts), key=_size, default=())
        if not trail:
            point = shapely.point_on_surface(self.ground.area)
            trail = self._grown_from(Fit(0.0, point.x, point.y), most)
        for _ in range(PLACES):
            size = _size(trail) * BETTER
            free = self.places(size) if size < most else shapely.Point()
            if free.is_empty:
                break
            point = shapely.point_on_surface(free)
            trail = grown(np.array([size, point.x, point.y]), self.rules, most)
        known = [np.array([fit.size, fit.x, fit.y]) for fit in starts]
        finer = [grown(start, _finer(self), most) for start in (trail[-1], *known)]
        return _fits(max(finer, key=_size), None)

    def _grown_from(self, fit: Fit, most: float) -> tuple[Floats, ...]:
        start = np.array([fit.size, fit.x, fit.y])
        return grown(start, self.rules, most)

    def bound(self, most: float) -> float:
        """A size that no place exceeds; 0 where nothing fits."""
        top = topmost(self.rules, most)
        return 0.0 if top is None else float(top[0][0])

    def places(self, size: float) -> shapely.Geometry:
        """Where the middle of the hull may lie at a size, by sums of Minkowski."""
        corners = self.hulls.whole.corners * size
        hull = self.ground.hull.corners
        inner: shapely.Geometry = shapely.Polygon(hull - corners[0])
        for corner in corners[1:]:
            inner = shapely.intersection(inner, shapely.Polygon(hull - corner))
        sums = [
            shapely.MultiPoint((obstacle.corners[:, None, :] - corners).reshape(-1, 2))
            for obstacle in self.ground.obstacles
        ]
        return shapely.difference(inner, shapely.union_all(shapely.convex_hull(sums)))

    def along(self, level: Level, size: float) -> float | None:
        """The x on a line, nearest to its middle, at which the text may stand at a size."""
        found = stretches_of(_at(self.rules, level), size)
        if not len(found):
            found = stretches_of(_at(_finer(self), level), size)
        return _nearest(found, level.x) if len(found) else None

    def near(self, x: float, y: float, size: float) -> tuple[float, float] | None:
        """The place nearest to another at which the hull may stand at a size, or None."""
        free, wanted = self.places(size), shapely.Point(x, y)
        if free.is_empty:
            return None
        if free.contains(wanted):
            return x, y
        spare = shapely.maximum_inscribed_circle(free, tolerance=SPARE_MM).length
        inner = shapely.buffer(free, -2 * INWARDS * spare)
        line = shapely.shortest_line(free if inner.is_empty else inner, wanted)
        point = shapely.get_point(line, 0)
        return point.x, point.y


def search_on(ground: Ground, hulls: Hulls) -> Search:
    """Make ready what a search needs."""
    return Search(ground, hulls, rules_of(ground, hulls.whole, (hulls.whole,)))


@lru_cache(maxsize=16)
def _finer(search: Search) -> Rules:
    """Rules that keep the slices of the ink on the ground; dear, and seldom wanted."""
    return rules_of(search.ground, search.hulls.whole, search.hulls.slices)


def _at(rules: Rules, level: Level) -> Rules:
    return rules.level(level.y, level.low, level.high)


def _farther_along(trail: tuple[Floats, ...], rules: Rules, most: float) -> tuple[Floats, ...]:
    """A trail that starts anew from wherever along its line there is room for more."""
    for _ in range(PLACES):
        size = _size(trail) * BETTER
        found = stretches_of(rules, size) if size < most else np.empty((0, 2))
        if not len(found):
            break
        begin, end = found[np.argmax(found[:, 1] - found[:, 0])]
        trail = grown(np.array([size, (begin + end) / 2]), rules, most)
    return trail


def _nearest(stretches: Floats, x: float) -> float:
    """The nearest x on some stretches; not right at the end of one where it has some length."""
    if ((stretches[:, 0] <= x) & (x <= stretches[:, 1])).any():
        return x
    inwards = INWARDS * (stretches[:, 1] - stretches[:, 0])
    found = np.clip(x, stretches[:, 0] + inwards, stretches[:, 1] - inwards)
    return float(found[np.argmin(np.abs(found - x))])


def _size(trail: tuple[Floats, ...]) -> float:
    return float(trail[-1][0])


def _fits(trail: tuple[Floats, ...], y: float | None) -> tuple[Fit, ...]:
    """A trail at a height, or with its own heights."""
    return tuple(
        Fit(float(point[0]), float(point[1]), float(point[2]) if y is None else y)
        for point in trail
    )

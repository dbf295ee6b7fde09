"""Local thickening: material added only along necks and tails that are too thin. Lengths in mm.

Circles of the least width are strung along the middle of what is thin. Where there is no room on
one side (a counter, a hole, a gap between strokes) the string is moved to the other side.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import dist, floor

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.curves import Point
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.boundary import Boundary
from namebatch.outline.strings import bare_necks, room_beside, strings_of
from namebatch.outline.thin import Thin, find_thin
from namebatch.outline.tips import Survey

ADD_MARGIN_MM = 0.012
"""Added beyond half the width."""
REACH = 1.0
"""Corners and short ends may stand out of what is wide enough by this many widths."""
OPEN_MM = 0.3
"""Counters and gaps between strokes are kept this wide unless they are narrower already."""
ROUNDS = 5
QUARTER = 8


@dataclass(frozen=True, slots=True)
class Thickened:
    """A shape after local thickening.

    Attributes:
        shape: the shape; the very same object when nothing was thin.
        added_mm2: area that was added.
        places: middles of the necks and ends of the tails that were thickened.
        is_firm: nothing is thin any more.
    """

    shape: Polygon
    added_mm2: float
    places: tuple[Point, ...]
    is_firm: bool


def thicken(
    shape: Polygon,
    width_mm: float,
    keep_open: MultiPolygon,
    *,
    open_mm: float = OPEN_MM,
    reach_mm: float | None = None,
) -> Thickened:
    """Make necks and thin tails as wide as they must be, and nothing else.

    Counters stay open. A bay whose mouth closes becomes a hole where it is wide enough for one
    and its wall can be; else it is filled. What cannot be thickened is left as far as it came;
    ask `narrowest` and `thin_tips` for what was reached.

    Args:
        shape: a valid polygon.
        width_mm: nothing should be narrower.
        keep_open: holes into which nothing may grow.
        open_mm: counters and gaps are not made narrower than this.
        reach_mm: corners and ends may stand out by this; the width by default.
    """
    reach = REACH * width_mm if reach_mm is None else reach_mm
    made, bays = _thickened(shape, width_mm, keep_open, open_mm, reach, bay_mm=open_mm)
    if bays and not made.is_firm:
        made, _ = _thickened(shape, width_mm, keep_open, open_mm, reach, bay_mm=None)
    return made


def _thickened(
    shape: Polygon,
    width_mm: float,
    keep_open: MultiPolygon,
    open_mm: float,
    reach: float,
    *,
    bay_mm: float | None,
) -> tuple[Thickened, bool]:
    """As `thicken`; bays that close are holes if they are wider than `bay_mm`, never without.

    Returns:
        What has come of it, and whether a bay has become a hole.
    """
    result, places, firm = shape, list[Point](), False
    for _ in range(ROUNDS):
        thin = find_thin(result, width_mm, reach, width_mm / 2 + ADD_MARGIN_MM)
        if thin is None:
            firm = True
            break
        grown = _grown(result, thin, width_mm, keep_open, open_mm, bay_mm)
        if grown.area <= result.area + 1e-6:
            break
        places.extend(thin.places)
        result = grown
    bays = len(result.interiors) > len(shape.interiors)
    told = apart(places, width_mm)
    return Thickened(result, result.area - shape.area, told, firm), bays


def apart(places: Iterable[Point], distance: float) -> tuple[Point, ...]:
    """Places without those that are no farther than a distance from one before them."""
    kept: dict[tuple[int, int], list[Point]] = {}
    found: list[Point] = []
    cell = distance * (1 + 1e-9)  # rounding must not put two cells between near places
    for place in places:
        column, row = floor(place[0] / cell), floor(place[1] / cell)
        near = (
            other
            for i in (column - 1, column, column + 1)
            for j in (row - 1, row, row + 1)
            for other in kept.get((i, j), ())
        )
        if all(dist(place, other) > distance for other in near):
            kept.setdefault((column, row), []).append(place)
            found.append(place)
    return tuple(found)


def _grown(
    shape: Polygon,
    thin: Thin,
    width: float,
    keep_open: MultiPolygon,
    open_mm: float,
    bay_mm: float | None,
) -> Polygon:
    """The shape with its strings of circles; holes as before, and bays that have become holes."""
    disc = width / 2 + ADD_MARGIN_MM
    b, s, chosen = thin.boundary, thin.survey, thin.chosen
    bare = bare_necks(b, s, chosen, thin.necks, disc)
    parts = []
    for places, which, tips in ((s, chosen, thin.tips), (bare, np.arange(bare.x.size), None)):
        if which.size:
            room = _room(b, places, which, disc, open_mm, keep_open)
            parts.append(strings_of(places, which, room, disc, tips))
    strings = shapely.multilinestrings(shapely.get_parts(parts))
    added = shapely.buffer(strings, disc, quad_segs=QUARTER)
    if not keep_open.is_empty:
        added = shapely.difference(added, keep_open)
    return _with_its_holes(shape, shapely.union(shape, added), bay_mm)


def _room(
    b: Boundary, s: Survey, chosen: Ints, disc: float, open_mm: float, keep_open: MultiPolygon
) -> Floats:
    """How much each side of a place may grow; nothing grows into what is kept open."""
    room: Floats = room_beside(b, s, chosen, disc, open_mm)
    if keep_open.is_empty:
        return room
    ends = np.column_stack([s.x[chosen], s.y[chosen], s.ox[chosen], s.oy[chosen]])
    away = shapely.distance(shapely.points(ends.reshape(-1, 2)), keep_open).reshape(-1, 2)
    firm = s.run[chosen, None] < 0
    return np.where(firm, room, np.minimum(room, np.maximum(away - 1e-3, 0.0)))


def _with_its_holes(shape: Polygon, grown: shapely.Geometry, bay_mm: float | None) -> Polygon:
    """The grown shape with one hole for each of the shape's own, and bays that stay open."""
    parts = [part for part in shapely.get_parts(grown) if isinstance(part, Polygon)]
    part = max(parts, key=lambda p: p.area)
    if not part.interiors and not shape.interiors:
        return part
    old = shapely.polygons(np.array(shape.interiors, dtype=object))
    new = shapely.polygons(np.array(part.interiors, dtype=object))
    which, owner = shapely.STRtree(old).query(shapely.point_on_surface(new), "within")
    if len(new) == len(old) and np.array_equal(np.sort(owner), np.arange(len(old))):
        return part
    size = shapely.area(new)
    kept, rings = list[shapely.LinearRing](), list(part.interiors)
    others = np.ones(len(new), dtype=np.bool_)
    for k, ring in enumerate(shape.interiors):
        inside = which[owner == k]
        if inside.size:
            best = int(inside[np.argmax(size[inside])])
            kept.append(rings[best])
            others[best] = False
        else:
            kept.append(ring)
    if bay_mm is not None:
        wide = ~shapely.is_empty(shapely.buffer(new[others], -bay_mm / 2))
        kept += [rings[k] for k in np.flatnonzero(others)[wide]]
    return Polygon(part.exterior, kept)

"""Kerf: the cut line moved into the waste so that the piece comes out at its size."""

from functools import lru_cache

import numpy as np
import shapely
from shapely import Polygon, affinity

from namebatch.curves import Point
from namebatch.errors import OutlineError
from namebatch.outline.arrays import Ints
from namebatch.outline.edged import edged
from namebatch.outline.parallel import mitred
from namebatch.outline.same import Same

MITRE_LIMIT = 4.0
JOINS = (("mitre", MITRE_LIMIT), ("mitre", 2.0), ("round", 1.0))
"""How corners are moved, tried in this order, and their mitre limits: the mitre of a very acute
corner may reach across a gap that the kerf itself leaves open."""

LEAST_MM = 0.001
"""Stands for no kerf at all in one of two directions."""


DOUBLED_MM = 1e-9
"""Vertices nearer than this to each other are one: a buffer would divide by their distance."""

NOTCH = 4.0
"""Gaps up to this many squares of the larger kerf are ends of notches, which need not be cut."""


class ClosedByKerf(OutlineError):
    """A line that closes up when it is moved for the kerf.

    Attributes:
        kerf_mm: width of the cut in x and in y.
        at: where, in the coordinates of what was to be moved.
    """

    def __init__(self, kerf_mm: tuple[float, float], at: Point) -> None:
        x, y = at
        super().__init__(
            f"A hole, a slot or a gap near x {x:.1f}, y {y:.1f} mm of the piece is narrower than "
            f"the kerf ({kerf_mm[0]:g} × {kerf_mm[1]:g} mm) and would close up. Make it wider, or "
            "correct the kerf in the workshop file."
        )
        self.kerf_mm, self.at = kerf_mm, at


def offset_for_kerf(
    outline: Polygon, kerf_mm: tuple[float, float], every_gap: bool = False
) -> Polygon:
    """Move outer contours out and inner contours in by half the kerf.

    Corners stay corners (mitre join). Where the kerf differs in x and y the offset is made
    in a frame in which it does not, and scaled back.

    Args:
        outline: the finished piece.
        kerf_mm: width of the cut in x and in y, 0 or more.
        every_gap: refuse to leave out the end of a notch that closes before its bottom; else
            its line is left out where the end is no larger than a few squares of the kerf.

    Returns:
        The line, one ring for each of the outline's.

    Raises:
        ClosedByKerf: a contour closes up, because a hole is no wider than the kerf.
    """
    kx, ky = kerf_mm
    if kx == 0 and ky == 0:
        return outline
    try:  # most outlines leave nothing out, and their line is kept from their own proof
        return _offset(Same(outline), kx, ky, True)
    except ClosedByKerf:
        if every_gap:
            raise
    return _offset(Same(outline), kx, ky, False)


@lru_cache(maxsize=64)
def _offset(same: Same[Polygon], kx: float, ky: float, every_gap: bool) -> Polygon:
    """The line of the last outlines: asked for by their proof, then by the sheet."""
    outline = same.shape
    if kx == ky and not outline.is_empty and not _has_pinhole(outline, kx):
        moved = mitred(edged(outline).outside, kx / 2, MITRE_LIMIT)
        if moved is not None:
            return moved
    kerf = kx, ky
    kx, ky = max(kx, LEAST_MM), max(ky, LEAST_MM)
    stretched = _stretched(outline, kx, ky)
    largest = 0.0 if every_gap else NOTCH * max(kx, ky) ** 2 * kx / ky
    for left_out in sorted({0.0, largest}):
        for number in range(len(JOINS)):
            moved = _ring_for_ring(stretched, _grown(same, kx, ky, number), kx / 2, left_out)
            if moved is not None:
                return affinity.scale(moved, 1.0, ky / kx, origin=(0, 0)) if kx != ky else moved
    x, y = _closed_at(stretched, _grown(same, kx, ky, len(JOINS) - 1))
    raise ClosedByKerf(kerf, (x, y * ky / kx))


def _stretched(outline: Polygon, kx: float, ky: float) -> Polygon:
    """An outline in a frame in which the kerf is the same in x and y."""
    single = shapely.remove_repeated_points(outline, DOUBLED_MM)
    return affinity.scale(single, 1.0, kx / ky, origin=(0, 0)) if kx != ky else single


@lru_cache(maxsize=16)
def _grown(same: Same[Polygon], kx: float, ky: float, number: int) -> shapely.Geometry:
    """An outline grown by half the kerf, with one of the `JOINS`: asked for more than once."""
    join, limit = JOINS[number]
    stretched = _stretched(same.shape, kx, ky)
    return shapely.buffer(stretched, kx / 2, join_style=join, mitre_limit=limit)


def _has_pinhole(outline: Polygon, kerf_mm: float) -> bool:
    """Whether a hole is so small that the kerf may close it: the general buffer tells."""
    return any(Polygon(ring).area < 4 * kerf_mm**2 for ring in outline.interiors)


def _inside(before: Polygon, after: Polygon) -> tuple[Ints, Ints]:
    """Which holes of a shape hold which holes of its moved line: numbers of either, in pairs.

    Only what is near is compared: a plate may have thousands of holes.
    """
    holes = shapely.polygons(shapely.get_rings(before)[1:])
    rings = shapely.polygons(shapely.get_rings(after)[1:])
    tree = shapely.STRtree(shapely.point_on_surface(rings))
    hole, ring = tree.query(holes, "contains_properly")
    return hole, ring


def _ring_for_ring(
    before: Polygon, after: shapely.Geometry, reach: float, left_out_mm2: float
) -> Polygon | None:
    """The moved line with one hole in each hole of the shape, or None.

    Counts alone would not tell: a pinhole may vanish while the mouth of a bay closes and makes a
    new hole.

    Args:
        before: the shape.
        after: its moved line.
        reach: how far it was moved.
        left_out_mm2: ends of bays up to this area may be left out where their mouths close.
    """
    if not isinstance(after, Polygon):
        return None
    if not before.interiors and not after.interiors:
        return after
    hole, ring = _inside(before, after)
    if len(np.unique(hole)) < len(before.interiors):
        return None
    area = shapely.area(shapely.polygons(shapely.get_rings(after)[1:]))
    kept = np.zeros(len(area), dtype=np.bool_)
    # in each hole the largest, of equal ones the first
    order = np.lexsort((ring, -area[ring], hole))
    kept[ring[order][np.unique(hole[order], return_index=True)[1]]] = True
    if kept.all():
        return after
    rings = np.array(after.interiors, dtype=object)
    ends = shapely.buffer(shapely.polygons(rings[~kept]), reach)
    if (shapely.area(ends) > left_out_mm2).any():
        return None
    return Polygon(after.exterior, list(rings[kept]))


def _closed_at(before: Polygon, after: shapely.Geometry) -> Point:
    """A place in what closes: a hole that is gone, else the smallest that is new."""
    parts = [part for part in shapely.get_parts(after) if isinstance(part, Polygon)]
    line = max(parts, key=lambda part: part.area)
    gone = np.setdiff1d(np.arange(len(before.interiors)), _inside(before, line)[0])
    rings = [before.interiors[int(k)] for k in gone]
    holes = [Polygon(ring) for ring in rings or line.interiors]
    least = min(holes or [before], key=lambda hole: float(hole.area))
    at = shapely.point_on_surface(least)
    return float(at.x), float(at.y)

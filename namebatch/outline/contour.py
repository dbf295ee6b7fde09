"""The outline rule `contour`: a cut line at a set distance around everything. Lengths in mm.

The line is the edge of a closing by a disc of the distance-grown shapes: grown by the distance
and the radius of the disc together, then taken back by that radius. What is left outside is a
union of such discs (Serra, Image Analysis and Mathematical Morphology, 1982), so no inside
corner is tighter than the disc and no gap narrower than its diameter.
"""

from math import acos, ceil, pi

import shapely
from shapely import GeometryCollection, MultiPolygon, Polygon

from namebatch.errors import OutlineError
from namebatch.outline.rolled import rolled_round
from namebatch.template.model import Corners

CHORD_MM = 0.002
"""Largest distance of a chord from its arc."""

MITRE_LIMIT = 2.5
"""A mitred corner reaches at most this many distances out (47° and wider stay pointed)."""

FLOW = 2.0
"""Smoothed: inside corners are as round as this many distances."""

SIMPLER_MM = 0.001
"""Vertices nearer than this to the line between their neighbours say nothing."""

MOST_POINTS = 10_000
"""A rough line of so many points takes two buffers half a minute, one of 30,000 all memory."""


class TooIntricateError(OutlineError):
    """Shapes of so many points that no line can be led round them in any sensible time."""


def contour(
    shapes: shapely.Geometry,
    distance_mm: float,
    corners: Corners = "round",
    inside_radius_mm: float = 0.5,
    gap_mm: float = 1.0,
    least_hole_mm2: float | None = None,
) -> Polygon | MultiPolygon:
    """The cut line around name, artwork and base together.

    Outside corners: `round` keeps the distance exactly; `mitred` stays pointed up to
    `MITRE_LIMIT`; `smooth` is round, with inside corners so wide that the line flows.

    Args:
        shapes: valid polygons, overlapping or not; lines and points are fine too.
        distance_mm: from the shapes to the line, 0 or more.
        corners: see above.
        inside_radius_mm: no inside corner is tighter; a round cutter of this radius gets
            everywhere.
        gap_mm: gaps and holes narrower than this are closed.
        least_hole_mm2: holes of the line with at least this area stay; None fills all.

    Returns:
        Valid; several parts when the shapes lie farther apart than twice the distance and the
        gap. They are joined by bridges later. Parts are sorted from left to right. Empty for
        empty shapes.

    Raises:
        OutlineError: a length below 0.
        TooIntricateError: more than `MOST_POINTS` where the line needs buffers.
    """
    if min(distance_mm, inside_radius_mm, gap_mm) < 0:
        raise OutlineError("The contour's distance, inside radius and gap must be 0 mm or more.")
    closing = max(inside_radius_mm, gap_mm / 2)
    if corners == "smooth":
        closing = max(closing, FLOW * distance_mm)
    if corners != "mitred" and least_hole_mm2 is None:
        # the same line as below, without what growing makes and throws away
        line = rolled_round(shapes, distance_mm, closing, CHORD_MM, SIMPLER_MM)
        if line is not None:
            return line
    if isinstance(shapes, GeometryCollection):  # a point hidden in another shape is no corner
        shapes = shapely.union_all(shapely.get_parts(shapes))
    points = int(shapely.get_num_coordinates(shapes))
    if points > MOST_POINTS:
        raise TooIntricateError(
            f"Letters and base have {points:,} corners together, and the line round them cannot be "
            f"found for more than {MOST_POINTS:,}. Choose a typeface with smooth edges, or "
            "simplify the drawing."
        )
    if corners == "mitred":
        # A mitred step out keeps the points; the way back rounds only what is inside.
        pointed = shapely.buffer(shapes, distance_mm, join_style="mitre", mitre_limit=MITRE_LIMIT)
        grown = shapely.buffer(pointed, closing, join_style="mitre", mitre_limit=2 * MITRE_LIMIT)
    else:
        reach = distance_mm + closing
        kept = None if least_hole_mm2 is None else reach
        grown = shapely.buffer(closing_up(shapes, kept), reach, quad_segs=quarter_chords(reach))
    # Rings around holes that will not stay cost the same time as all others.
    if least_hole_mm2 is None:
        grown = _filled(grown, None)
    closed = shapely.buffer(grown, -closing, quad_segs=quarter_chords(closing))
    return _filled(shapely.simplify(closed, SIMPLER_MM), least_hole_mm2)


def closing_up(shapes: shapely.Geometry, reach_mm: float | None) -> shapely.Geometry:
    """Shapes without the holes that close up when they grow, so that growing takes less time.

    Args:
        shapes: any; polygons are looked at.
        reach_mm: how far they grow; None: no hole is wanted.

    Returns:
        They may overlap then: an island in a hole.
    """
    parts = shapely.get_parts(shapes)
    if not (shapely.get_num_interior_rings(parts) > 0).any():
        return shapes
    return GeometryCollection([_with_wide_holes(part, reach_mm) for part in parts])


def _with_wide_holes(part: shapely.Geometry, reach_mm: float | None) -> shapely.Geometry:
    if not isinstance(part, Polygon) or not part.interiors:
        return part
    if reach_mm is None:
        return Polygon(part.exterior)
    return Polygon(part.exterior, [r for r in part.interiors if _narrow(r.bounds) > 2 * reach_mm])


def _narrow(bounds: tuple[float, float, float, float]) -> float:
    return min(bounds[2] - bounds[0], bounds[3] - bounds[1])


def quarter_chords(radius_mm: float, chord_mm: float = CHORD_MM) -> int:
    """Chords a quarter circle so that none is farther from the arc than asked."""
    if radius_mm <= chord_mm:
        return 1
    return max(2, ceil(pi / 4 / acos(1 - chord_mm / radius_mm)))


def _filled(shape: shapely.Geometry, least_hole_mm2: float | None) -> Polygon | MultiPolygon:
    """The shape without holes, or with those of a least area, parts from left to right."""
    parts = []
    for part in shapely.get_parts(shape):
        if part.is_empty:
            continue
        kept = []
        if least_hole_mm2 is not None:
            kept = [ring for ring in part.interiors if Polygon(ring).area >= least_hole_mm2]
        parts.append(Polygon(part.exterior, kept))
    if len(parts) > 1 and least_hole_mm2 is None:
        # A part may lie in another's hole, which is filled now.
        parts = [p for p in shapely.get_parts(shapely.union_all(parts)) if not p.is_empty]
    parts.sort(key=lambda part: part.bounds)
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)

"""What of a traced artwork would not be on the piece. Lengths in mm."""

from collections.abc import Sequence
from math import ceil

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, warn

LEAST_LONG_MM = 2.0
"""Shorter bits that are cut off are not missed."""

LEAST_MM2 = 0.2
"""And smaller ones neither."""

MITRE = 20.0
"""Points keep their length, down to an angle of 6°, when a line moved inwards is moved back."""

INNER = 0.66
"""Of a Gaussian blur of deviation s, that slope makes √(2π) s, and nineteen twentieths are
reached 1.65 s inside of the middle."""

UNSEEN_MM = 0.15
"""So narrow a rim is not seen, or lost in the burn of the cut (common practice, no source)."""


def apart(name: str, parts: Sequence[Polygon]) -> str:
    """A sentence on the parts after the first, which is the piece."""
    rest = parts[1:]
    places = ", ".join(
        f"x {p.representative_point().x:.1f}, y {p.representative_point().y:.1f}" for p in rest[:3]
    )
    are = "part lies" if len(rest) == 1 else "parts lie"
    return (
        f"{name}: {len(rest)} {are} apart from the largest and would not be on the piece "
        f"(at {places} mm of the picture, up to {rest[0].area:.1f} mm²). Join them in the artwork "
        "or let the outline run farther out (outset_mm)."
    )


def thin(
    name: str, parts: Sequence[Polygon], moved: Sequence[Polygon], inset_mm: float
) -> list[Finding]:
    """A warning for what is too thin for the inset, such as a line drawn by itself.

    Args:
        name: of the picture.
        parts: what is seen of the artwork.
        moved: the same with its edge moved inwards.
        inset_mm: by how much; there is nothing to say unless it is above 0.
    """
    if inset_mm <= 0:
        return []
    back = shapely.buffer(
        MultiPolygon(list(moved)), inset_mm * 1.02, join_style="mitre", mitre_limit=MITRE
    )
    gone = [
        _size(part) for part in shapely.get_parts(shapely.difference(MultiPolygon(parts), back))
    ]
    gone = [one for one in gone if one[0] >= LEAST_LONG_MM and one[1] >= LEAST_MM2]
    if not gone:
        return []
    gone.sort(key=lambda one: -one[1])
    told = "; ".join(
        f"at x {at.x:.1f}, y {at.y:.1f} mm of the picture, {long:.1f} mm long and about "
        f"{area / long:.1f} mm wide"
        for long, area, at in gone[:3]
    )
    more = f" and {len(gone) - 3} more" if len(gone) > 3 else ""
    return [
        warn(
            "trace-thin",
            f"Part of {name} is thinner than {2 * inset_mm:g} mm and is cut off ({told}{more}). "
            "Draw it wider, take a smaller inset_mm, or let the outline run outside (outset_mm).",
        )
    ]


def _size(part: shapely.Geometry) -> tuple[float, float, shapely.Point]:
    """Length, area and a place of a long thin part."""
    box = shapely.oriented_envelope(part)
    long = shapely.hausdorff_distance(shapely.centroid(box), box) * 2 if part.area > 0 else 0.0
    return float(long), float(part.area), shapely.point_on_surface(part)


def fading(name: str, fade_mm: float, inset_mm: float) -> list[Finding]:
    """A warning where a soft edge is paler than its artwork along the whole cut.

    Args:
        name: of the picture.
        fade_mm: by its steepest slope, the edge takes so long from none to all.
        inset_mm: from the middle of the edge to the cut; outside of it there is nothing to say.
    """
    inner = INNER * fade_mm
    if inset_mm < 0 or inner <= inset_mm + UNSEEN_MM:
        return []
    return [
        warn(
            "trace-fades",
            f"The edge of {name} is soft: it fades over {2 * inner:.1f} mm. Cut {inset_mm:g} mm "
            "inside the middle of that, it may show a pale rim. Use a sharper picture, or an "
            f"inset_mm of {ceil(10 * inner) / 10:.1f}.",
        )
    ]

"""Letters cut through a base must stay in it; what they meet otherwise is told by name."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold


def leaving(base: Polygon, text: MultiPolygon) -> list[Finding]:
    """Hold letters that reach the edge of the base, or a hole, a slot or a window in it.

    Args:
        base: the fixed shape with its holes cut out, mm.
        text: the ink that is cut through it.
    """
    findings: list[Finding] = []
    if text.is_empty:
        return findings
    ground = Polygon(base.exterior)
    if not shapely.contains_properly(ground, text):
        place = _place(shapely.difference(text, ground), text, base.exterior)
        findings.append(
            hold(
                "text-leaves-base",
                f"The letters reach over the edge of the base ({place}), which would open it. "
                "Shorten the text, or draw its box smaller in the template.",
            )
        )
    met = [ring for ring in base.interiors if shapely.intersects(Polygon(ring), text)]
    if met:
        place = _place(shapely.intersection(Polygon(met[0]), text), text, met[0])
        findings.append(
            hold(
                "text-meets-hole",
                f"The letters run into a hole or slot of the base ({place}). Shorten the text, "
                "or move its box or the hole in the template.",
            )
        )
    return findings


def _place(lost: shapely.Geometry, text: MultiPolygon, ring: shapely.LinearRing) -> str:
    """The middle of what is lost; where they only touch, the place where they do."""
    spot = lost if lost.area > 0 else shapely.intersection(text, ring)
    at = shapely.point_on_surface(spot)
    return f"at x {at.x:.1f}, y {at.y:.1f} mm"

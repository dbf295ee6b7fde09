"""Letters cut through a base must stay in it; what they meet otherwise is told by name."""

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold, warn

TOLERANCE_MM = 0.02
"""A web may be thinner by this."""


def leaving(base: Polygon, text: MultiPolygon, required_mm: float) -> list[Finding]:
    """Hold letters that reach the edge of the base, or a hole, a slot or a window in it.

    Letters that only come too near are told: the web beside them is made wide at their cost.

    Args:
        base: the fixed shape with its holes cut out, mm.
        text: the ink that is cut through it.
        required_mm: least width of a web.
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
    if not findings and shapely.dwithin(text, base.boundary, required_mm - TOLERANCE_MM):
        findings.append(_too_near(base, text, required_mm))
    return findings


def _too_near(base: Polygon, text: MultiPolygon, required_mm: float) -> Finding:
    """The nearest place, with its figure."""
    line = shapely.shortest_line(text, base.boundary)
    x, y = line.coords[0]
    edge = "the edge of the base"
    if shapely.distance(line, base.exterior) > TOLERANCE_MM:
        edge = "a hole or window of the base"
    return warn(
        "letters-near-edge",
        f"The letters come within {line.length:.1f} mm of {edge} (at x {x:.1f}, y {y:.1f} mm), "
        f"where this material needs {required_mm:g} mm; what was lacking was taken from the "
        "letters. Look at them, shorten the text, or draw its box smaller in the template.",
    )


def _place(lost: shapely.Geometry, text: MultiPolygon, ring: shapely.LinearRing) -> str:
    """The middle of what is lost; where they only touch, the place where they do."""
    spot = lost if lost.area > 0 else shapely.intersection(text, ring)
    at = shapely.point_on_surface(spot)
    return f"at x {at.x:.1f}, y {at.y:.1f} mm"

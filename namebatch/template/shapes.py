"""Simple bases and holes as polygons in mm; arcs become chords no farther than 0.005 mm away.

Every outline is convex and made of straight sides and arcs, so its area and perimeter follow
Steiner's formula (the tests hold them against it).
"""

from math import acos, ceil, cos, hypot, isfinite, pi, radians, sin, tan

from shapely import Polygon
from shapely.affinity import translate

from namebatch.curves import Point
from namebatch.template.problems import FileProblem
from namebatch.template.schema import (
    BaseShape,
    Circle,
    Ellipse,
    HoleShape,
    LuggageTag,
    RegularPolygon,
    RoundedRectangle,
    RoundHole,
)

CHORD_MM = 0.005
"""Largest distance of a chord from its arc."""


def base_polygon(shape: BaseShape) -> Polygon:
    """The base, its bounding box from the origin.

    Raises:
        FileProblem: the corners are rounder than the sides allow.
    """
    match shape:
        case Circle():
            points = _ellipse(shape.diameter_mm, shape.diameter_mm)
        case Ellipse():
            points = _ellipse(shape.width_mm, shape.height_mm)
        case RoundedRectangle():
            points = _rounded_rectangle(shape)
        case RegularPolygon():
            points = _regular(shape)
        case LuggageTag():
            points = _luggage_tag(shape)
    return at_origin(Polygon(points))


def at_origin(polygon: Polygon) -> Polygon:
    """The polygon moved so that its bounding box begins at 0, 0; nanometres beyond are noise."""
    x0, y0, _, _ = polygon.bounds
    moved = translate(polygon, -x0, -y0)

    def clean(ring: list[Point]) -> list[Point]:
        return [(round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in ring]

    return Polygon(
        clean(list(moved.exterior.coords)), [clean(list(r.coords)) for r in moved.interiors]
    )


def hole_polygon(hole: HoleShape) -> Polygon:
    """A hole where the template wants it.

    Raises:
        FileProblem: a slot that is shorter than it is wide.
    """
    x, y = hole.at_mm
    if isinstance(hole, RoundHole):
        ring = _ellipse(hole.diameter_mm, hole.diameter_mm)
    else:
        if hole.length_mm < hole.width_mm:
            raise FileProblem(
                "length_mm",
                f"a slot of {hole.length_mm:g} mm is shorter than its width of "
                f"{hole.width_mm:g} mm; length_mm is the overall length.",
            )
        ring = _slot(hole.length_mm, hole.width_mm, hole.angle_deg)
    return Polygon([(round(x + px, 6), round(y + py, 6)) for px, py in ring])


def arc_steps(radius: float, angle: float, chord: float = CHORD_MM) -> int:
    """How many equal chords an arc needs; the sagitta of one is r·(1 − cos(step/2))."""
    if radius <= chord:
        return max(1, ceil(angle / (pi / 2)))
    return max(1, ceil(angle / (2 * acos(1 - chord / radius))))


def _ellipse(width: float, height: float) -> list[Point]:
    """An ellipse about the origin, with a vertex at each end of both axes.

    It is the image of a circle of the longer half axis, so that circle's chords bound its own.
    """
    a, b = width / 2, height / 2
    n = 4 * arc_steps(max(a, b), pi / 2)
    return [(a * cos(2 * pi * i / n), b * sin(2 * pi * i / n)) for i in range(n)]


def _slot(length: float, width: float, angle_deg: float) -> list[Point]:
    """Two half circles and the lines between them, turned counter-clockwise."""
    r, reach = width / 2, (length - width) / 2
    n = 2 * arc_steps(r, pi / 2)
    right = [(reach + r * cos(t), r * sin(t)) for t in (-pi / 2 + pi * i / n for i in range(n + 1))]
    ring = right + [(-x, -y) for x, y in right]
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    return [(c * x - s * y, s * x + c * y) for x, y in ring]


def _rounded_rectangle(shape: RoundedRectangle) -> list[Point]:
    w, h = shape.width_mm, shape.height_mm
    return _rounded([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)], shape.corner_mm)


def _luggage_tag(shape: LuggageTag) -> list[Point]:
    w, h, c = shape.width_mm, shape.height_mm, shape.chamfer_mm
    if 2 * c >= h or c >= w:
        raise FileProblem(
            "chamfer_mm",
            f"{c:g} mm cut off two corners of a tag of {w:g} × {h:g} mm leaves no left edge; "
            f"take less than {min(h / 2, w):g} mm.",
        )
    return _rounded([(c, 0.0), (w, 0.0), (w, h), (c, h), (0.0, h - c), (0.0, c)], shape.corner_mm)


def _regular(shape: RegularPolygon) -> list[Point]:
    """Equal sides, flat at the bottom; rounded corners still touch the circle of the diameter.

    The sharp polygon is therefore taken larger: a corner's arc has its centre at R − r.
    """
    radius, n = shape.diameter_mm / 2, shape.sides
    if shape.corner_mm >= radius:
        raise FileProblem(
            "corner_mm", f"must be below half the diameter, {radius:g} mm, to leave any sides."
        )
    sharp = radius + shape.corner_mm * (1 / cos(pi / n) - 1)
    start = -pi / 2 + pi / n + radians(shape.angle_deg)
    corners = [
        (sharp * cos(start + 2 * pi * i / n), sharp * sin(start + 2 * pi * i / n)) for i in range(n)
    ]
    return _rounded(corners, shape.corner_mm)


def _rounded(corners: list[Point], radius: float) -> list[Point]:
    """A convex polygon, counter-clockwise, with an arc tangent to both sides at each corner."""
    if radius == 0:
        return corners
    count = len(corners)
    sides = [
        (corners[(i + 1) % count][0] - x, corners[(i + 1) % count][1] - y)
        for i, (x, y) in enumerate(corners)
    ]
    lengths = [hypot(*side) for side in sides]
    units = [(x / length, y / length) for (x, y), length in zip(sides, lengths, strict=True)]
    turns = [_turn(units[i - 1], units[i]) for i in range(count)]
    for i, length in enumerate(lengths):
        most = length / (tan(turns[i] / 2) + tan(turns[(i + 1) % count] / 2))
        if radius > most * (1 + 1e-12):
            raise FileProblem(
                "corner_mm",
                f"corners of {radius:g} mm do not fit on a side of {length:.4g} mm; "
                f"take at most {int(most * 1000) / 1000:g} mm.",
            )
    ring: list[Point] = []
    for i, corner in enumerate(corners):
        ring.extend(_fillet(corner, units[i - 1], turns[i], radius))
    return ring


def _turn(before: Point, after: Point) -> float:
    """The angle by which the outline turns left at a corner."""
    value = before[0] * after[0] + before[1] * after[1]
    return acos(max(-1.0, min(1.0, value))) if isfinite(value) else 0.0


def _fillet(corner: Point, before: Point, turn: float, radius: float) -> list[Point]:
    """Points of the arc; an even number of chords keeps the one on the corner's bisector."""
    cut = radius * tan(turn / 2)
    # The centre lies left of the tangent point on the side that comes in.
    cx = corner[0] - cut * before[0] - radius * before[1]
    cy = corner[1] - cut * before[1] + radius * before[0]
    n = 2 * arc_steps(radius, turn / 2)
    points = []
    for i in range(n + 1):
        c, s = cos(turn * i / n), sin(turn * i / n)
        # From the centre, the tangent point is the incoming direction turned right.
        x, y = before[1], -before[0]
        points.append((cx + radius * (c * x - s * y), cy + radius * (s * x + c * y)))
    return points

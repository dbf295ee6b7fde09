"""How far a drawn shape reaches, safely and without flattening it."""

from math import hypot, sqrt

from namebatch.curves import Affine, Path, apply
from namebatch.template.svg.units import diagonal, length, number
from namebatch.template.svg.walk_model import Drawn

Bounds = tuple[float, float, float, float]


def scales(affine: Affine) -> tuple[float, float]:
    """The least and the greatest stretch of a map: its singular values."""
    a, b, c, d = affine[:4]
    p, q = hypot(a + d, b - c), hypot(a - d, b + c)
    return abs(p - q) / 2, (p + q) / 2


def stroke_width(drawn: Drawn) -> float:
    """Width of the line in user units; 0 when none is drawn.

    Raises:
        ValueError: it is no length.
    """
    if drawn.style["stroke"] == "none":
        return 0.0
    value = length(drawn.style["stroke-width"], diagonal(*drawn.viewport))
    if value < 0:
        raise ValueError("stroke-width is below zero")
    return value


def path_bounds(path: Path, affine: Affine) -> Bounds:
    """The box of all points, control points among them: never smaller than the shape's."""
    points = [apply(affine, point) for segment in path for point in segment.points]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def reach(drawn: Drawn) -> Bounds:
    """The box in mm that a shape and its line stay inside.

    Raises:
        ValueError: the width of its line is no length.
    """
    x0, y0, x1, y1 = path_bounds(drawn.path, drawn.affine)
    half = stroke_width(drawn) / 2 * scales(drawn.affine)[1]
    if drawn.style["stroke-linejoin"] == "miter":
        half *= max(1.0, min(number(drawn.style["stroke-miterlimit"]), 100.0))
    elif drawn.style["stroke-linecap"] == "square":
        half *= sqrt(2)
    return x0 - half, y0 - half, x1 + half, y1 + half


def within(inner: Bounds, outer: Bounds, slack: float = 0.01) -> bool:
    """True if one box lies inside another, up to a little slack in mm."""
    return (
        inner[0] >= outer[0] - slack
        and inner[1] >= outer[1] - slack
        and inner[2] <= outer[2] + slack
        and inner[3] <= outer[3] + slack
    )

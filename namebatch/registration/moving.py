"""Cut lines through a map: arcs stay arcs where they can, else they become several. mm."""

from collections.abc import Iterable, Sequence
from math import atan, atan2, cos, hypot, sin, tan
from typing import Final

from namebatch.curves import Affine, Point, apply

TOLERANCE_MM: Final = 0.005
"""So far an arc may be from the true image of the arc it stands for; half of what is allowed."""
_FLAT_MM: Final = 0.00005
"""An arc no higher than half the grid of the cut files' coordinates is a straight line."""
_ALIKE: Final = 1e-9
_MOST_PARTS: Final = 256
_LOOKED_AT: Final = (0.125, 0.25, 0.375, 0.625, 0.75, 0.875)


def moved(
    points: Sequence[Point],
    bulges: Sequence[float],
    affine: Affine,
    tolerance_mm: float = TOLERANCE_MM,
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """A closed line of straight pieces and arcs through a map that does not mirror.

    Under a similarity an arc's bulge (tangent of a quarter of its angle) stays what it is. Under
    another map its image is part of an ellipse: it is drawn as circular arcs through points of the
    image, so many that none is farther from it than `tolerance_mm`.

    Args:
        points: of the line, the first not repeated.
        bulges: one a point for the piece to the next point; empty when all are straight.
        affine: the map, its determinant above zero.
        tolerance_mm: above zero.
    """
    there = [apply(affine, point) for point in points]
    if not bulges or _is_similarity(affine):
        return tuple(there), tuple(bulges)
    new_points: list[Point] = []
    new_bulges: list[float] = []
    for index, bulge in enumerate(bulges):
        after = (index + 1) % len(points)
        ends, turns = [there[index]], [0.0]
        if _height(points[index], points[after], bulge) >= _FLAT_MM:
            ends, turns = _arc(points[index], points[after], bulge, affine, tolerance_mm)
            ends[0] = there[index]
        new_points += ends
        new_bulges += turns
    return tuple(new_points), tuple(new_bulges)


def moved_points(points: Iterable[Point], affine: Affine) -> tuple[Point, ...]:
    """Points through a map."""
    return tuple(apply(affine, point) for point in points)


def _is_similarity(affine: Affine) -> bool:
    a, b, c, d, _, _ = affine
    return abs(a - d) + abs(b + c) <= _ALIKE * hypot(a, b)


def _height(start: Point, end: Point, bulge: float) -> float:
    """How far an arc stands off its chord."""
    return abs(bulge) * hypot(end[0] - start[0], end[1] - start[1]) / 2


def _arc(
    start: Point, end: Point, bulge: float, affine: Affine, tolerance: float
) -> tuple[list[Point], list[float]]:
    """Beginnings and bulges of the arcs that stand for the image of one."""
    centre = _centre(start, end, bulge)
    reach = (start[0] - centre[0], start[1] - centre[1])
    angle = 4 * atan(bulge)

    def image(share: float) -> Point:
        c, s = cos(angle * share), sin(angle * share)
        at = (centre[0] + c * reach[0] - s * reach[1], centre[1] + s * reach[0] + c * reach[1])
        return apply(affine, at)

    parts = 1
    while True:
        ends = [image(index / parts) for index in range(parts + 1)]
        middles = [image((index + 0.5) / parts) for index in range(parts)]
        turns = [
            _through(first, middle, last)
            for first, middle, last in zip(ends, middles, ends[1:], strict=False)
        ]
        strays = max(
            _stray(
                ends[index],
                ends[index + 1],
                turns[index],
                [image((index + share) / parts) for share in _LOOKED_AT],
            )
            for index in range(parts)
        )
        if strays <= tolerance or parts >= _MOST_PARTS:
            return ends[:-1], turns
        parts *= 2


def _centre(start: Point, end: Point, bulge: float) -> Point:
    """Of an arc: to the left of its chord where it turns counter-clockwise by less than half."""
    across = (1 - bulge * bulge) / (4 * bulge)
    return (
        (start[0] + end[0]) / 2 - across * (end[1] - start[1]),
        (start[1] + end[1]) / 2 + across * (end[0] - start[0]),
    )


def _through(start: Point, middle: Point, end: Point) -> float:
    """Bulge of the arc from one point through another to a third.

    The direction turns at the middle point by half the arc's angle (inscribed angle theorem).
    """
    ux, uy = middle[0] - start[0], middle[1] - start[1]
    vx, vy = end[0] - middle[0], end[1] - middle[1]
    return tan(atan2(ux * vy - uy * vx, ux * vx + uy * vy) / 2)


def _stray(start: Point, end: Point, bulge: float, points: Sequence[Point]) -> float:
    """The farthest of some points from an arc, or from its chord where it is flat."""
    if _height(start, end, bulge) < _FLAT_MM:
        dx, dy = end[0] - start[0], end[1] - start[1]
        length = hypot(dx, dy) or 1.0
        return max(abs((x - start[0]) * dy - (y - start[1]) * dx) / length for x, y in points)
    cx, cy = _centre(start, end, bulge)
    radius = hypot(start[0] - cx, start[1] - cy)
    return max(abs(hypot(x - cx, y - cy) - radius) for x, y in points)

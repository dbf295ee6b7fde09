"""Curves and shapes as PDF path operators; Béziers stay Béziers."""

import numpy as np
from shapely import LinearRing, MultiPolygon, Polygon, get_coordinates, simplify

from namebatch.curves import Path, Point, draw
from namebatch.output.numbers import number

UNSEEN_MM = 0.01
"""Points are left out where the line stays this near: half a dot at 1,200 dpi."""


class PdfPathSink:
    """A sink that collects PDF path operators; `text` gives them.

    PDF knows cubic Béziers only: a quadratic one is raised to the same curve as a cubic
    (control points two thirds of the way to the quadratic's own).
    """

    def __init__(self) -> None:
        self._operators: list[str] = []
        self._at: Point = (0.0, 0.0)
        self._start: Point = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        """Begin a contour."""
        self._start = (x, y)
        self._add("m", x, y)

    def line(self, x: float, y: float) -> None:
        """A straight line."""
        self._add("l", x, y)

    def quad(self, x1: float, y1: float, x: float, y: float) -> None:
        """A quadratic Bézier, as the cubic that is the same curve."""
        x0, y0 = self._at
        self._add(
            "c",
            x0 + (x1 - x0) * 2 / 3,
            y0 + (y1 - y0) * 2 / 3,
            x + (x1 - x) * 2 / 3,
            y + (y1 - y) * 2 / 3,
            x,
            y,
        )

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        """A cubic Bézier."""
        self._add("c", x1, y1, x2, y2, x, y)

    def close(self) -> None:
        """Close the contour."""
        self._operators.append("h")
        self._at = self._start

    @property
    def text(self) -> str:
        """All operators so far, without a painting operator."""
        return "\n".join(self._operators)

    def _add(self, operator: str, *values: float) -> None:
        self._operators.append(" ".join([*map(number, values), operator]))
        self._at = (values[-2], values[-1])


def path_operators(path: Path) -> str:
    """A recorded path as PDF operators."""
    sink = PdfPathSink()
    draw(path, sink)
    return sink.text


def shape_operators(shape: Polygon | MultiPolygon) -> str:
    """Every ring of a shape, closed; to be painted by the even-odd rule.

    Names are most of what a print holds: whole rings are formatted at once, to 0.001 mm and
    without points that no printer shows.
    """
    polygons = shape.geoms if isinstance(shape, MultiPolygon) else (shape,)
    rings = [
        ring for polygon in polygons for ring in (polygon.exterior, *polygon.interiors) if ring
    ]
    return "\n".join(map(_ring_operators, simplify(rings, UNSEEN_MM, preserve_topology=False)))


def _ring_operators(ring: LinearRing) -> str:
    """One closed contour, three decimals; points that fall together are drawn once."""
    points = np.round(get_coordinates(ring)[:-1], 3) + 0.0
    again = np.zeros(len(points), dtype=bool)
    again[1:] = np.all(points[1:] == points[:-1], axis=1)
    points = points[~again]
    # seven digits are three decimals up to ten metres, and never an exponent on this grid
    form = "%.7g %.7g m\n" + "%.7g %.7g l\n" * (len(points) - 1) + "h"
    return form % tuple(points.ravel().tolist())

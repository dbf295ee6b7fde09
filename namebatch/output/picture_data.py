"""Geometry as text: SVG path data and PDF path operators, compact and to fixed decimals."""

from collections.abc import Iterator
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
from shapely import MultiPolygon, Polygon, get_coordinates, simplify

from namebatch.curves import Path

Ring: TypeAlias = npt.NDArray[np.float64]
_CURVE_GRID = 100  # of artwork: 2,540 dpi
_SVG_GRID = 1000  # 0.001 mm: finer than any printer, cutter or eye


def _rings(shape: Polygon | MultiPolygon, unseen: float = 0.0) -> Iterator[Ring]:
    """Every ring of a shape as an array of points without the repeated last one.

    Points are left out where the line stays nearer than `unseen`; no ring is lost by that.
    """
    for polygon in getattr(shape, "geoms", (shape,)):
        if polygon.is_empty:
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            seen = simplify(ring, unseen, preserve_topology=False) if unseen else ring
            yield get_coordinates(seen)[:-1]


def svg_path(shape: Polygon | MultiPolygon, unseen: float = 0.0) -> str:
    """SVG path data of a shape, even-odd, relative moves on a grid of 0.001.

    Points are left out where the line stays nearer than `unseen`.
    Steps are taken between points that are already on the grid, so they do not drift.
    """
    parts: list[str] = []
    for ring in _rings(shape, unseen):
        grid = np.rint(ring * _SVG_GRID).astype(np.int64)
        steps = np.diff(grid, axis=0)
        steps = steps[np.any(steps != 0, axis=1)]
        start = (grid[0] / _SVG_GRID).tolist()
        numbers = (steps / _SVG_GRID).ravel().tolist()
        text = f"M{start[0]:g} {start[1]:g}l" + " ".join(["%g"] * len(numbers)) % tuple(numbers)
        parts.append(text + "z")
    return _tight("".join(parts))


def _tight(text: str) -> str:
    """Leave out what SVG path data does not need: leading zeros, blanks before a minus."""
    for before in " -lcq":  # replacing is several times faster than one regular expression
        text = text.replace(f"{before}0.", f"{before}.")
    return text.replace(" -", "-")


def svg_curves(path: Path) -> str:
    """SVG path data of a recorded path, Béziers kept, relative on a grid of 0.01.

    As in `svg_path`, steps are taken between points on the grid and do not drift.
    """
    parts: list[str] = []
    here = start = (0, 0)
    before = ""
    for segment in path:
        points = [(round(x * _CURVE_GRID), round(y * _CURVE_GRID)) for x, y in segment.points]
        verb = segment.verb.lower()
        numbers = " ".join(
            f"{step / _CURVE_GRID:g}" for x, y in points for step in (x - here[0], y - here[1])
        )
        parts.append(f" {numbers}" if verb == before and verb in "lqc" else verb + numbers)
        before = verb
        here = points[-1] if points else start
        if verb == "m":
            start = here
    return _tight("".join(parts))


def pdf_path(shape: Polygon | MultiPolygon, decimals: int = 2) -> str:
    """PDF path operators of a shape, in its own unit."""
    return " ".join(_pdf_ring(ring, decimals) for ring in _rings(shape))


def _pdf_ring(ring: Ring, decimals: int) -> str:
    """One closed contour; points that fall together on the grid are drawn once."""
    grid = np.round(ring, decimals) + 0.0
    keep = np.ones(len(grid), dtype=bool)
    keep[1:] = np.any(np.diff(grid, axis=0) != 0, axis=1)
    grid = grid[keep]
    line = "%g %g m " + "%g %g l " * (len(grid) - 1)
    return line % tuple(grid.ravel().tolist()) + "h"

"""Outlines as the cutter follows them: moved for the kerf, as arcs and straight lines. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, affinity

from namebatch.curves import Affine, Point, apply
from namebatch.outline import offset_for_kerf
from namebatch.outline.arc_shape import along_ring
from namebatch.outline.kept import Alike, Kept
from namebatch.outline.kerf import ClosedByKerf
from namebatch.sheet.model import Placement
from namebatch.text.setting import FLATTEN_MM

DECIMALS = 4
"""Of the points of every cut line."""
ROUNDED_MM = 0.0001
"""Rounding moves a point by no more."""
DOUBLED_MM = 0.002
"""Corners nearer to each other than this become one: rounding could make their arcs cross."""
BULGE_DECIMALS = 9
"""A bulge this exact moves no arc of 1 m by a millionth of a millimetre."""


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One closed line: points in two columns, one bulge a point.

    Attributes:
        points: x and y.
        bulges: as `CutPath.bulges`.
        deviation_mm: at most so far from the true curve: the distance from the polygon that the
            arcs stand for, as measured, the chords' tolerance, and rounding.
    """

    points: NDArray[np.float64]
    bulges: NDArray[np.float64]
    deviation_mm: float = 0.0

    def moved(self, x: float, y: float) -> tuple[tuple[Point, ...], tuple[float, ...]]:
        """Points and bulges elsewhere, rounded as they are written."""
        xy = np.round(self.points + (x, y), DECIMALS) + 0.0
        bulges = np.round(self.bulges, BULGE_DECIMALS) + 0.0
        points = tuple((px, py) for px, py in xy.tolist())
        return points, tuple(bulges.tolist()) if bulges.any() else ()

    def turned(self, affine: Affine) -> "Line":
        """The same line through a turn, with or without a mirror."""
        a, b, c, d, e, f = affine
        xy = self.points @ np.array([[a, b], [c, d]]) + (e, f)
        bulges = self.bulges if a * d - b * c > 0 else -self.bulges
        return Line(xy, bulges, self.deviation_mm)


def cut_lines(
    outline: Polygon, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> tuple[Line, ...]:
    """The cut lines of a face about its own origin: turned over, turned, moved for the kerf.

    The kerf belongs to the cutter's axes, so it comes after the turning; where it is the same
    in x and y the order makes no difference, and arcs are fitted once for all turns.

    Returns:
        The outer line, then the inner ones.
    """
    key = mirrored, turn_deg, kerf_mm
    return _LINES.of(outline, key, lambda: _cut_lines(outline, mirrored, turn_deg, kerf_mm))


def cut_outline(
    outline: Polygon, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> Polygon:
    """The same lines as a polygon; its chords are within 0.0005 mm of the arcs."""
    if kerf_mm[0] != kerf_mm[1]:
        key = mirrored, turn_deg, kerf_mm
        return _OUTLINES.of(
            outline, key, lambda: _cut_outline(outline, mirrored, turn_deg, kerf_mm)
        )
    upright = _kept_upright(outline, kerf_mm)
    a, b, c, d, e, f = Placement("", "front", 0.0, 0.0, turn_deg, mirrored).outline_affine
    return affinity.affine_transform(upright, (a, c, b, d, e, f))


def cut_bounds(
    outline: Polygon, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> tuple[float, float, float, float]:
    """Least x and y and greatest x and y of those lines."""
    if kerf_mm[0] != kerf_mm[1] or turn_deg % 90:
        x0, y0, x1, y1 = cut_outline(outline, mirrored, turn_deg, kerf_mm).bounds
        return x0, y0, x1, y1
    # a quarter turn of the box is exact, and of all lines much dearer
    affine = Placement("", "front", 0.0, 0.0, turn_deg, mirrored).outline_affine
    bounds = _kept_upright(outline, kerf_mm).bounds
    (ax, ay), (bx, by) = apply(affine, bounds[:2]), apply(affine, bounds[2:])
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def _kept_upright(outline: Polygon, kerf_mm: tuple[float, float]) -> Polygon:
    """Kept once and turned when asked for: of thousands of pieces every turn would be too much."""
    return _OUTLINES.of(outline, kerf_mm, lambda: _cut_outline(outline, False, 0.0, kerf_mm))


def lines_of(shape: Polygon) -> tuple[Line, ...]:
    """A polygon's rings as arcs and straight lines, within 0.01 mm."""
    # compiled code is loaded only where something is cut
    from namebatch.outline.arcs import fit_outline

    plain = shapely.remove_repeated_points(shape, DOUBLED_MM)
    if not shapely.is_valid(plain):
        plain = shape
    left_out = DOUBLED_MM if plain is not shape and _fewer(plain, shape) else 0.0
    return tuple(
        Line(
            fitted.points,
            fitted.bulges,
            FLATTEN_MM + left_out + fitted.deviation_mm + ROUNDED_MM,
        )
        for fitted in fit_outline(plain)
    )


def _fewer(one: Polygon, other: Polygon) -> bool:
    return bool(shapely.get_num_coordinates(one) < shapely.get_num_coordinates(other))


def _cut_lines(
    outline: Polygon, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> tuple[Line, ...]:
    affine = Placement("", "front", 0.0, 0.0, turn_deg, mirrored).outline_affine
    if kerf_mm[0] == kerf_mm[1]:
        upright = _UPRIGHT.of(outline, kerf_mm, lambda: _upright(Alike(outline), kerf_mm))
        return tuple(line.turned(affine) for line in upright)
    a, b, c, d, e, f = affine
    turned = affinity.affine_transform(outline, (a, c, b, d, e, f))
    try:
        return lines_of(offset_for_kerf(turned, kerf_mm))
    except ClosedByKerf as error:  # say where on the piece: the transpose turns back
        x, y = error.at[0] - e, error.at[1] - f
        raise ClosedByKerf(kerf_mm, (a * x + b * y, c * x + d * y)) from error


@lru_cache(maxsize=256)
def _upright(alike: Alike, kerf_mm: tuple[float, float]) -> tuple[Line, ...]:
    """Fitted once for pieces that are all alike, as those cut along their base."""
    return lines_of(offset_for_kerf(alike.shape, kerf_mm))


def _cut_outline(
    outline: Polygon, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> Polygon:
    outer, *inner = _rings(cut_lines(outline, mirrored, turn_deg, kerf_mm))
    return Polygon(outer, inner)


def _rings(lines: Sequence[Line]) -> list[NDArray[np.float64]]:
    return [along_ring(line.points, line.bulges) for line in lines]


_LINES: Kept[tuple[Line, ...]] = Kept()
_UPRIGHT: Kept[tuple[Line, ...]] = Kept()
_OUTLINES: Kept[Polygon] = Kept()

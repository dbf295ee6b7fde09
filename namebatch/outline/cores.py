"""Cores: what is left of a shape when half the least width is taken off. Lengths in mm.

A bar between two cores is as wide as it must be and rooted in both sides by construction: round
each end a whole circle of the least width lies inside the shape.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.edged import edged
from namebatch.outline.kept import Kept
from namebatch.outline.same import Same
from namebatch.outline.tips import Survey

ERODE_MARGIN_MM = 0.004
"""Taken off beyond half the width, so that chords of circles do not decide."""
ADD_MARGIN_MM = 0.012
"""Added beyond half the width."""
VERIFY_MARGIN_MM = -0.005
"""What a check of the finished shape takes off; it must not find more cores than were joined."""
QUARTER = 16
SEED_MM = 0.03
"""Half the size of the mark at the centre of a part that has no core."""
NEIGHBOURS = 4
"""As many of the nearest are looked at for each core."""

Polygons = npt.NDArray[np.object_]

_PARTS: Kept[Polygons] = Kept()


@dataclass(frozen=True, slots=True)
class Cores:
    """Cores of a shape, largest part first.

    Attributes:
        parts: the parts of the shape.
        cores: their cores; a part without one has a mark at the centre of its largest
            inscribed circle.
        part: index of each core's part.
        seeded: True for the marks.
    """

    parts: Polygons
    cores: Polygons
    part: npt.NDArray[np.intp]
    seeded: npt.NDArray[np.bool_]


def areas_of(shape: shapely.Geometry) -> Polygons:
    """The polygons of any geometry, largest first, ties in order of their bounds."""
    return _PARTS.of(shape, None, lambda: _largest_first(shapely.get_parts(shape))).copy()


def side_by_side(parts: Polygons) -> MultiPolygon | None:
    """Parts as one shape of which `areas_of` gives the very same objects; None if any two meet."""
    one, other = shapely.STRtree(parts).query(parts, predicate="intersects")
    if (one != other).any():
        return None
    shape = MultiPolygon(list(parts))
    _PARTS.of(shape, None, lambda: _largest_first(parts))
    return shape


def _largest_first(parts: Polygons) -> Polygons:
    found = [p for p in parts if isinstance(p, Polygon) and not p.is_empty]
    found.sort(key=lambda p: (-p.area, p.bounds))
    return np.array(found, dtype=object)


def cores_of(
    shape: Polygon | MultiPolygon, width_mm: float, margin_mm: float = ERODE_MARGIN_MM
) -> Cores:
    """Find the cores of a shape.

    Args:
        shape: valid areas.
        width_mm: the least width.
        margin_mm: taken off beyond half the width.
    """
    return _cores(Same(shape), width_mm / 2 + margin_mm)


@lru_cache(maxsize=8)
def _cores(same: Same[Polygon | MultiPolygon], reach: float) -> Cores:
    """The last results are kept: strokes are made wide, then bars are laid, on the same shape."""
    parts = areas_of(same.shape)
    found = [_of_part(part, reach) for part in parts]
    cores = np.array([core for of_part in found for core in of_part], dtype=object)
    owner = np.repeat(np.arange(len(parts)), [len(of_part) for of_part in found])
    bare = np.flatnonzero(np.bincount(owner, minlength=len(parts)) == 0)
    seeds = [_seed(parts[index]) for index in bare]
    return Cores(
        parts,
        np.array([*cores, *seeds], dtype=object),
        np.concatenate([owner, bare]),
        np.arange(len(cores) + len(seeds)) >= len(cores),
    )


def _of_part(part: Polygon, reach: float) -> list[Polygon]:
    """Cores of one part, largest first."""
    sides = edged(part)
    if not sides.necks(2 * reach).shape[0]:
        core = _single(sides.survey(reach), reach)
        if core is not None:
            return [core]
    return list(areas_of(shapely.buffer(part, -reach, quad_segs=QUARTER)))


def _single(survey: Survey, reach: float) -> Polygon | None:
    """The core of a part without necks, from the circles that touch its boundary.

    The middles of those that fit lie on the edge of the core. Between two of them it may be
    farther out by the height of an arc, about two hundredths of the width.

    Returns:
        None if it cannot be told.
    """
    firm = survey.run < 0
    xy = np.column_stack([survey.x + reach * survey.nx, survey.y + reach * survey.ny])
    rings = [
        xy[start:end][firm[start:end]]
        for start, end in zip(survey.first[:-1], survey.first[1:], strict=True)
    ]
    if any(len(ring) < 3 for ring in rings):
        return None
    core = Polygon(rings[0], rings[1:])
    return core if core.area > 0.0 and core.is_valid else None


def _seed(part: Polygon) -> Polygon:
    """A small mark at the centre of the largest circle in a part."""
    tolerance = max(part.area**0.5 / 100, 0.005)
    centre = shapely.get_point(shapely.maximum_inscribed_circle(part, tolerance), 0)
    return shapely.box(
        centre.x - SEED_MM, centre.y - SEED_MM, centre.x + SEED_MM, centre.y + SEED_MM
    )


def neighbours(
    boxes: npt.NDArray[np.float64], of: npt.NDArray[np.intp]
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Pairs of boxes that lie near each other, a < b, each once.

    Args:
        boxes: x0, y0, x1, y1.
        of: the boxes whose neighbours are asked for.
    """
    mine = boxes[of, None]
    gap = np.maximum(mine[..., :2] - boxes[None, :, 2:], boxes[None, :, :2] - mine[..., 2:])
    far = np.hypot(*np.moveaxis(np.maximum(gap, 0), 2, 0))
    far[np.arange(len(of)), of] = np.inf
    rank = np.argsort(np.argsort(far, axis=1, kind="stable"), axis=1, kind="stable")
    row, other = np.nonzero((rank < NEIGHBOURS) & np.isfinite(far))
    pairs = np.sort(np.column_stack([of[row], other]), axis=1)
    a, b = np.unique(pairs, axis=0).T
    return a, b

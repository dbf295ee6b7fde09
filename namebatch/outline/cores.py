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
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and not p.is_empty]
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
    return _cores(shapely.to_wkb(shape), width_mm / 2 + margin_mm)


@lru_cache(maxsize=64)
def _cores(wkb: bytes, reach: float) -> Cores:
    """The last results are kept: strokes are made wide, then bars are laid, on the same shape."""
    shape = shapely.from_wkb(wkb)
    parts, cores = areas_of(shape), areas_of(shapely.buffer(shape, -reach, quad_segs=QUARTER))
    owner = np.zeros(len(cores), dtype=np.intp)
    if len(parts) > 1 and len(cores):
        tree = shapely.STRtree(parts)
        core, part = tree.query(shapely.point_on_surface(cores), predicate="within")
        owner[core] = part
    bare = np.flatnonzero(np.bincount(owner, minlength=len(parts)) == 0)
    seeds = [_seed(parts[index]) for index in bare]
    return Cores(
        parts,
        np.array([*cores, *seeds], dtype=object),
        np.concatenate([owner, bare]),
        np.arange(len(cores) + len(seeds)) >= len(cores),
    )


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

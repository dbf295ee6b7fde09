"""A plain area as its convex hull less convex obstacles: bays and holes alike."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from namebatch.template.guide import Floats
from namebatch.text.convex import Piece, convex_parts, corners_of, normals_of, piece_of

Indices = NDArray[np.intp]
EASED_MM = 0.01
"""The plain area lies within the real one, at most twice this far inside."""
SPECK_MM2 = 1e-9
FAR_MM = 1e4
"""Farther than any template reaches."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """A plain area that pieces are fitted into.

    Attributes:
        area: in mm.
        hull: round it.
        obstacles: what of the hull is not area.
    """

    area: Polygon
    hull: Piece
    obstacles: tuple[Piece, ...]


def plain_within(area: Polygon) -> Polygon:
    """An area with fewer corners that lies within; empty if nothing is left."""
    inner = shapely.simplify(shapely.buffer(area, -EASED_MM), EASED_MM)
    parts = [p for p in shapely.get_parts(inner) if isinstance(p, Polygon) and not p.is_empty]
    return max(parts, key=lambda part: part.area) if parts else Polygon()


def ground_of(area: Polygon) -> Ground:
    """Take an area apart.

    Args:
        area: not empty, of few corners: the work grows with their number.
    """
    hull = shapely.convex_hull(area)
    rest = shapely.get_parts(shapely.difference(hull, area))
    bays = [bay for bay in rest if isinstance(bay, Polygon) and bay.area > SPECK_MM2]
    obstacles = [piece_of(part) for bay in bays for part in convex_parts(bay)]
    corners = corners_of(hull)
    normals = normals_of(corners)
    limits = np.sum(normals * corners, axis=1)
    return Ground(area, Piece(corners, normals, limits), tuple(obstacles))


@dataclass(frozen=True, slots=True, eq=False)
class Rules:
    """What keeps pieces on a ground, as inequalities a·size + b·x + c·y ≤ d.

    Attributes:
        always: (n, 4), those of the hull; all hold.
        either: (m, k, 4), for each piece and obstacle the lines that may be between them, one
            of which has to hold.
    """

    always: Floats
    either: Floats

    def level(self, y: float, low: float = -FAR_MM, high: float = FAR_MM) -> "Rules":
        """The same at a fixed height: a·size + b·x ≤ d, three numbers each.

        Args:
            y: the height, in mm.
            low: the least x that is allowed.
            high: the greatest.
        """
        ends = np.array([[0.0, -1.0, -low], [0.0, 1.0, high]])
        return Rules(np.concatenate([_at(self.always, y), ends]), _at(self.either, y))


def _at(rows: Floats, y: float) -> Floats:
    return np.stack([rows[..., 0], rows[..., 1], rows[..., 3] - rows[..., 2] * y], axis=-1)


def rules_of(ground: Ground, whole: Piece, pieces: Sequence[Piece]) -> Rules:
    """The inequalities for pieces of one text on a ground.

    Two convex shapes are apart if and only if they are on two sides of a line along a side of
    one of them.

    Args:
        ground: where they have to stay.
        whole: round all pieces.
        pieces: none of which may touch an obstacle.
    """
    edge = ground.hull
    reaches = (edge.normals @ whole.corners.T).max(axis=1)
    always = np.column_stack([reaches, edge.normals, edge.reaches])
    if not ground.obstacles or not pieces:
        return Rules(always, np.empty((0, 0, 4)))
    own = _stacked(pieces)
    others = _stacked(ground.obstacles)
    shape = len(pieces), len(ground.obstacles), own.most + others.most, 4
    either = np.tile((0.0, 0.0, 0.0, -np.inf), (*shape[:3], 1))
    # lines along the sides of the pieces, one of each for every obstacle
    nearest = np.minimum.reduceat(own.normals @ others.corners.T, others.starts, axis=1)
    rows = np.column_stack([own.reaches, own.normals])[:, None, :]
    either[own.owners, :, own.places, :3] = rows
    either[own.owners, :, own.places, 3] = nearest
    # lines along the sides of the obstacles, one of each for every piece
    farthest = np.maximum.reduceat(-others.normals @ own.corners.T, own.starts, axis=1)
    at = own.most + others.places
    either[:, others.owners, at, 0] = farthest.T
    either[:, others.owners, at, 1:3] = -others.normals
    either[:, others.owners, at, 3] = -others.reaches
    return Rules(always, either.reshape(-1, shape[2], 4))


@dataclass(frozen=True, slots=True)
class _Stack:
    """Convex pieces in common arrays, side by side.

    Attributes:
        corners, normals, reaches: of all pieces.
        starts: of each piece in them.
        owners: index of the piece, for each side.
        places: index of the side in its piece, for each side.
        most: greatest number of sides.
    """

    corners: Floats
    normals: Floats
    reaches: Floats
    starts: Indices
    owners: Indices
    places: Indices
    most: int


def _stacked(pieces: Sequence[Piece]) -> _Stack:
    counts = np.array([len(piece.corners) for piece in pieces])
    starts = np.cumsum(counts) - counts
    owners = np.repeat(np.arange(len(pieces)), counts)
    return _Stack(
        np.concatenate([piece.corners for piece in pieces]),
        np.concatenate([piece.normals for piece in pieces]),
        np.concatenate([piece.reaches for piece in pieces]),
        starts,
        owners,
        np.arange(len(owners)) - starts[owners],
        int(counts.max()),
    )

"""The largest size at which convex pieces fit into an area, and where: exact and from a start.

Two convex shapes are apart if and only if they are on two sides of a line along a side of one of
them. For every side of the area and every piece one such line is taken; with these lines kept,
size and shift are bound by linear inequalities, and the best of them is a small linear program.
Its answer is no worse than the start, and the lines are taken anew from there.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely
from shapely import Polygon

from namebatch.template.guide import Floats

ROUNDS = 40
GAIN = 1e-5
"""An answer that grows by a smaller share is as good as the one before."""
CUTS = 60
SLACK = 1e-9
FRAME = 5
"""Inequalities that only keep the program bounded."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A convex piece of ink at size 1.

    Attributes:
        corners: (n, 2), counter-clockwise.
        normals: (n, 2), of length 1, outwards from each side.
        reaches: (n,), how far the piece reaches that way from the origin.
    """

    corners: Floats
    normals: Floats
    reaches: Floats


@dataclass(frozen=True, slots=True)
class Fit:
    """Pieces in an area: shape = size × piece + (x, y)."""

    size: float
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Sides:
    """Sides of an area: (n, 2) each; the normals point out of it."""

    begins: Floats
    ends: Floats
    normals: Floats


def piece_round(points: Floats, cut: float) -> Piece:
    """A convex piece round points, with few sides; it reaches past them by about `cut`."""
    hull = shapely.convex_hull(shapely.multipoints(points))
    plain = shapely.orient_polygons(shapely.simplify(hull, cut).convex_hull)
    if not isinstance(plain, Polygon):
        plain = shapely.box(*hull.buffer(cut).bounds)
    corners = shapely.get_coordinates(plain)[:-1]
    steps = np.roll(corners, -1, axis=0) - corners
    normals = np.column_stack([steps[:, 1], -steps[:, 0]])
    normals /= np.hypot(normals[:, 0], normals[:, 1])[:, None]
    reaches = (points @ normals.T).max(axis=0)
    before, ahead = np.roll(normals, 1, axis=0), normals
    matrices = np.stack([before, ahead], axis=1)
    limits = np.stack([np.roll(reaches, 1), reaches], axis=1)
    return Piece(np.linalg.solve(matrices, limits[:, :, None])[:, :, 0], normals, reaches)


def sides_of(area: Polygon) -> Sides:
    """The sides of an area with its holes."""
    whole = shapely.orient_polygons(area)
    rings = [np.asarray(ring.coords) for ring in (whole.exterior, *whole.interiors)]
    begins = np.concatenate([ring[:-1] for ring in rings])
    ends = np.concatenate([ring[1:] for ring in rings])
    steps = ends - begins
    normals = np.column_stack([steps[:, 1], -steps[:, 0]])
    normals /= np.hypot(normals[:, 0], normals[:, 1])[:, None]
    return Sides(begins, ends, normals)


def grown(start: Fit, pieces: Sequence[Piece], sides: Sides, most: float) -> tuple[Fit, ...]:
    """Better and better fits, as far as they can be reached from a start.

    Args:
        start: pieces that lie inside the area; of any size, 0 among them.
        pieces: what is to be fitted, all at one size.
        sides: of the area.
        most: greatest size that is of use.

    Returns:
        The start, then the fits, each larger; what lies between two of them fits as well.
    """
    trail = [start]
    for _ in range(ROUNDS):
        best = trail[-1]
        rows = np.concatenate([_lines(best, piece, sides) for piece in pieces])
        found = Fit(*_largest(rows, best, most))
        if found.size > best.size:
            trail.append(found)
        if found.size <= best.size * (1 + GAIN) or found.size >= most:
            break
    return tuple(trail)


def _lines(now: Fit, piece: Piece, sides: Sides) -> Floats:
    """For every side the inequality a·size + b·x + c·y ≤ d that keeps the piece off it."""
    shift = np.array([now.x, now.y])
    # lines along the sides of the piece
    begins, ends = sides.begins @ piece.normals.T, sides.ends @ piece.normals.T
    offs = np.minimum(begins, ends)
    gaps = offs - piece.normals @ shift - now.size * piece.reaches
    which = np.argmax(gaps, axis=1)
    every = np.arange(len(which))
    best = gaps[every, which]
    rows = np.column_stack([piece.reaches[which], piece.normals[which], offs[every, which]])
    # lines along the sides of the area
    reaches = (sides.normals @ piece.corners.T).max(axis=1)
    limits = np.sum(sides.normals * sides.begins, axis=1)
    own = limits - sides.normals @ shift - now.size * reaches
    along = np.column_stack([reaches, sides.normals, limits])
    rows[own >= best] = along[own >= best]
    return rows


def _largest(rows: Floats, start: Fit, most: float) -> tuple[float, float, float]:
    """The greatest size with its shift under linear inequalities, by adding the worst in turn.

    Args:
        rows: (n, 4): a·size + b·x + c·y ≤ d.
        start: keeps all of them.
        most: bound of the size.
    """
    far = 2.0 * float(np.abs(rows[:, 3]).max() + abs(start.x) + abs(start.y)) + 1.0
    kept = [
        np.array([1.0, 0.0, 0.0, most]),
        np.array([0.0, 1.0, 0.0, far]),
        np.array([0.0, -1.0, 0.0, far]),
        np.array([0.0, 0.0, 1.0, far]),
        np.array([0.0, 0.0, -1.0, far]),
    ]
    answer = np.array([most, start.x, start.y])
    for _ in range(CUTS):
        over = rows[:, :3] @ answer - rows[:, 3]
        worst = int(np.argmax(over))
        if over[worst] <= SLACK:
            return float(answer[0]), float(answer[1]), float(answer[2])
        kept.append(rows[worst])
        found = _corner(np.array(kept))
        if found is None:
            break
        # what does not bind may go, but only once the size has fallen: else it might come back
        if found[0][0] < answer[0] - SLACK:
            kept = [row for i, row in enumerate(kept) if i < FRAME or i in found[1]]
        answer = found[0]
    return start.size, start.x, start.y


def _corner(kept: Floats) -> tuple[Floats, set[int]] | None:
    """The corner of a few inequalities with the greatest size, and those that meet in it."""
    triples = np.array(list(combinations(range(len(kept)), 3)))
    matrices, limits = kept[triples, :3], kept[triples, 3]
    usable = np.abs(np.linalg.det(matrices)) > 1e-12
    if not usable.any():
        return None
    points = np.linalg.solve(matrices[usable], limits[usable][:, :, None])[:, :, 0]
    over = (points @ kept[:, :3].T - kept[:, 3]).max(axis=1)
    inside = over <= SLACK * 10
    if not inside.any():
        return None
    sizes = np.where(inside, points[:, 0], -np.inf)
    best = int(np.argmax(sizes))
    return points[best], {int(i) for i in triples[usable][best]}

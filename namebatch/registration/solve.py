"""Least-squares maps from points to points. mm; none of them mirrors unless it is asked for.

All take points of the sheet and measured points, n × 2, and n weights above zero.
"""

from collections.abc import Callable, Mapping, Sequence
from math import atan2, cos, hypot, sin
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from namebatch.curves import Affine
from namebatch.registration.fit import Model, Ruler

Floats: TypeAlias = NDArray[np.float64]
_ROUNDS = 6  # of Gauss and Newton; the first leaves 1e-4 mm, the third nothing


def similarity(sheet: Floats, measured: Floats, weights: Floats) -> Affine:
    """Rotation, one scale and shift of least squared error.

    S. Umeyama, "Least-squares estimation of transformation parameters between two point
    patterns", IEEE Transactions on Pattern Analysis and Machine Intelligence 13 (1991), equations
    38 to 43: with the diagonal matrix S that turns the best reflection into the best rotation.
    """
    x, y, mean_x, mean_y, share = _centred(sheet, measured, weights)
    covariance = (y * share).T @ x
    u, d, vt = np.linalg.svd(covariance)
    signs = np.array([1.0, np.sign(np.linalg.det(u) * np.linalg.det(vt)) or 1.0])
    size = float((share * x * x).sum())
    # marks that all lie in one place tell no scale
    scale = float((d * signs).sum()) / size if size > 0 else 0.0
    matrix: Floats = np.asarray(scale * ((u * signs) @ vt), dtype=np.float64)
    return _affine(matrix, mean_x, mean_y)


def rigid(sheet: Floats, measured: Floats, weights: Floats) -> Affine:
    """Rotation and shift alone: as `similarity`, the scale left at 1 (Umeyama 1991, lemma)."""
    a, b, c, d, _, _ = similarity(sheet, measured, weights)
    _, _, mean_x, mean_y, _ = _centred(sheet, measured, weights)
    size = hypot(a, b) or 1.0
    matrix: Floats = np.array([[a / size, c / size], [b / size, d / size]])
    return _affine(matrix, mean_x, mean_y)


def two_scales(sheet: Floats, measured: Floats, weights: Floats) -> Affine:
    """A scale in x and one in y, then rotation and shift, of least squared error.

    For a turn θ the best scales are a·u/Σx² and b·u/Σy² with u = (cos θ, sin θ),
    a = (Σx·x', Σx·y') and b = (Σy·y', −Σy·x') over the centred points; what is left of the squares
    is least where (a·u)²/Σx² + (b·u)²/Σy² is greatest: u is the main eigenvector of
    a·aᵀ/Σx² + b·bᵀ/Σy² (derived here).
    """
    p, q, mean_x, mean_y, share = _centred(sheet, measured, weights)
    along = share * p
    a = np.array([along[:, 0] @ q[:, 0], along[:, 0] @ q[:, 1]])
    b = np.array([along[:, 1] @ q[:, 1], -(along[:, 1] @ q[:, 0])])
    squares = (along * p).sum(axis=0)
    _, vectors = np.linalg.eigh(np.outer(a, a) / squares[0] + np.outer(b, b) / squares[1])
    u = vectors[:, 1] * (1.0 if a @ vectors[:, 1] >= 0 else -1.0)
    turn = np.array([[u[0], -u[1]], [u[1], u[0]]])
    matrix: Floats = np.asarray(turn * np.array([a @ u, b @ u]) / squares, dtype=np.float64)
    return _affine(matrix, mean_x, mean_y)


def with_ruler(sheet: Floats, measured: Floats, weights: Floats, ruler: Ruler) -> Affine:
    """A scale in x and one in y, rotation and shift, marks and ruler taken together.

    The two lengths of the ruler count as two readings more, each as good as one of a mark:
    least squares of all of them, by Gauss and Newton from the ruler's scales.
    """
    scale = np.array(ruler.scale)
    size = np.array(ruler.frame_mm)
    start = rigid(sheet * scale, measured, weights)
    turn = atan2(start[1], start[0])
    centre = (weights / weights.sum())[:, None]
    mean_x, shift = (centre * sheet).sum(axis=0), (centre * measured).sum(axis=0)
    root = np.repeat(np.sqrt(weights), 2)
    points = sheet - mean_x
    matrix = _turned(turn) * scale
    for _ in range(_ROUNDS):
        left = (measured - shift - points @ matrix.T).ravel()
        design = _design("two-scales", turn, points, scale)
        ruled = np.zeros((2, 5))
        ruled[0, 3], ruled[1, 4] = size
        rows = np.vstack([root[:, None] * design, ruled])
        values = np.concatenate([root * left, (np.array(ruler.scale) - scale) * size])
        step, *_ = np.linalg.lstsq(rows, values, rcond=None)
        shift, turn, scale = shift + step[:2], turn + float(step[2]), scale + step[3:]
        matrix = _turned(turn) * scale
    return _affine(np.asarray(matrix, dtype=np.float64), mean_x, shift)


def _turned(angle: float) -> Floats:
    c, s = cos(angle), sin(angle)
    return np.array([[c, -s], [s, c]])


def affine(sheet: Floats, measured: Floats, weights: Floats) -> Affine:
    """The affine map of least squared error (linear, by singular values)."""
    x, y, mean_x, mean_y, share = _centred(sheet, measured, weights)
    root = np.sqrt(share)
    solved, *_ = np.linalg.lstsq(root * x, root * y, rcond=None)
    matrix: Floats = np.asarray(solved.T, dtype=np.float64)
    return _affine(matrix, mean_x, mean_y)


SOLVERS: Mapping[Model, Callable[[Floats, Floats, Floats], Affine]] = {
    "similarity": similarity,
    "two-scales": two_scales,
    "affine": affine,
}


def mapped(affine: Affine, points: Floats) -> Floats:
    """Points through a map."""
    a, b, c, d, e, f = affine
    moved: Floats = points @ np.array([[a, b], [c, d]]) + np.array([e, f])
    return moved


def distances(affine: Affine, sheet: Floats, measured: Floats) -> Floats:
    """From where the map puts each point to where it was measured."""
    gaps: Floats = np.hypot(*(mapped(affine, sheet) - measured).T)
    return gaps


def spread(points: Floats) -> tuple[float, float]:
    """Standard deviation of points along their longest direction and across it."""
    centred = points - points.mean(axis=0)
    across, along = np.linalg.eigvalsh(centred.T @ centred / len(points))
    return float(np.sqrt(max(along, 0.0))), float(np.sqrt(max(across, 0.0)))


def uncertainty(
    model: Model,
    turn_rad: float,
    sheet: Floats,
    weights: Floats,
    at: Floats,
    ruler: Ruler | None = None,
) -> float:
    """Standard deviation of the map's result at the worst of some places.

    Args:
        model: what was free beside turn and shift.
        turn_rad: rotation that was found, where the model is linearised.
        sheet: the marks.
        weights: readings of each, of unit deviation in x and in y.
        at: places.
        ruler: tells the scales of the model "two-scales", too; its readings have unit deviation.

    Returns:
        Root of the variance in x and y together, in units of one reading's deviation.
    """
    root = np.repeat(np.sqrt(weights), 2)[:, None]
    centre = sheet.mean(axis=0)
    design = root * _design(model, turn_rad, sheet - centre)
    if ruler is not None:
        ruled = np.zeros((2, design.shape[1]))
        ruled[0, 3], ruled[1, 4] = ruler.frame_mm
        design = np.vstack([design, ruled])
    inverse = np.linalg.pinv(design.T @ design)
    rows = _design(model, turn_rad, at - centre)
    variances = np.einsum("ij,jk,ik->i", rows, inverse, rows).reshape(-1, 2).sum(axis=1)
    return float(np.sqrt(variances.max()))


def _design(
    model: Model, turn: float, points: Floats, scale: Sequence[float] | Floats = (1.0, 1.0)
) -> Floats:
    """Two rows a point (x, y): how its image moves with each free value of a model."""
    one, none = np.ones(len(points)), np.zeros(len(points))
    x, y = points.T
    c, s = cos(turn), sin(turn)
    columns: list[tuple[Any, Any]] = [(one, none), (none, one)]
    if model == "affine":
        columns += [(x, none), (y, none), (none, x), (none, y)]
    else:
        sx, sy = scale
        columns.append((-s * sx * x - c * sy * y, c * sx * x - s * sy * y))
        along, across = (c * x, s * x), (-s * y, c * y)
        if model == "similarity":
            columns.append((along[0] + across[0], along[1] + across[1]))
        elif model == "two-scales":
            columns += [along, across]
    stacked: Floats = np.stack([np.stack(pair, axis=1).ravel() for pair in columns], axis=1)
    return stacked


def _centred(
    sheet: Floats, measured: Floats, weights: Floats
) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Both sets about their weighted means, the means, and each point's share of the weight."""
    share: Floats = (weights / weights.sum())[:, None]
    mean_x, mean_y = (share * sheet).sum(axis=0), (share * measured).sum(axis=0)
    return sheet - mean_x, measured - mean_y, mean_x, mean_y, share


def _affine(matrix: Floats, mean_x: Floats, mean_y: Floats) -> Affine:
    shift = mean_y - matrix @ mean_x
    (a, c), (b, d) = matrix.tolist()
    return a, b, c, d, float(shift[0]), float(shift[1])

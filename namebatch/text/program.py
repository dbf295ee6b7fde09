"""A small linear program: the greatest size under inequalities."""

import numpy as np

from namebatch.template.guide import Floats

SLACK = 1e-9
CHANGES = 80
TINY = 1e-12
FAR = 1e5
"""No coordinate of a point that is of use is greater."""


def greatest(rows: Floats, most: float) -> Floats | None:
    """The point with the greatest first coordinate under linear inequalities.

    The dual simplex method: as many inequalities as there are coordinates meet in a point that
    is the best for them; the one that is most broken takes the place of one of them, until none
    is broken.

    Args:
        rows: (n, k + 1): the first k numbers times the point are at most the last one.
        most: bound of the first coordinate; the others are at most `FAR`.

    Returns:
        The point, (k,); None if there is none, or no end is found.
    """
    count = rows.shape[1] - 1
    matrix, limits = np.eye(count), np.array([most] + [FAR] * (count - 1))
    for _ in range(CHANGES):
        inverse = np.linalg.inv(matrix)
        point: Floats = inverse @ limits
        over = rows[:, :-1] @ point - rows[:, -1]
        worst = int(np.argmax(over))
        if over[worst] <= SLACK:
            return point
        shares = rows[worst, :-1] @ inverse
        weights = np.maximum(inverse[0], 0.0)
        ratios = np.where(shares > TINY, weights / np.where(shares > TINY, shares, 1.0), np.inf)
        leaving = int(np.argmin(ratios))
        if not np.isfinite(ratios[leaving]):
            return None
        matrix[leaving], limits[leaving] = rows[worst, :-1], rows[worst, -1]
    return None

"""Chords across a shape that are locally the shortest, from its corners. Lengths in mm.

The distance to the boundary has a saddle in the middle of every neck, and there the two nearest
boundary points lie opposite each other: a chord that is locally the shortest, with nothing of the
boundary inside the circle on it. One of its ends is a corner that points inwards (or the end of
two parallel edges, which is one too). So all chords are found from such corners, exactly, and
no erosion is needed.

Looking at every edge within the width from every corner would take the square of a rough
outline's corners. Where there are many, the width is doubled step by step: boundary points
near a corner leave the circle on a wider chord fewer and fewer directions, and where they leave
none the corner has no such chord. Only cells that these directions run through are looked at.
"""

from typing import Any

import numpy as np

from namebatch.outline.boundary import Boundary, nearest_edge
from namebatch.outline.compiled import compiled

TINY = 1e-7
STRAIGHT = 1e-9
"""Sine of the turn up to which a corner counts as straight."""

MANY = 1000
"""Edges near a corner from which on its directions are narrowed down step by step."""
DEEP_MM = 1e-5
"""A point counts as inside a circle if it lies so deep in it; that on a chord has some slack."""
AFAR_MM = 1e-3
"""Points nearer to a corner than this say nothing about its directions."""


@compiled
def chords_below(b: Boundary, below: float, many: int) -> Any:
    """Locally shortest chords: rows of width, middle x, y, corner, edge, and how far along.

    Args:
        b: the boundary.
        below: what is wider is not looked for.
        many: so many edges near a corner have its width doubled step by step; `MANY`.
    """
    rows = np.empty((64, 6))
    count = 0
    seen = np.full(b.x.size, -1)
    rough = b.edges.size > many
    met = _first_met(b) if rough else seen
    for v in range(b.x.size):
        p = b.before[v]
        if b.dx[p] * b.dy[v] - b.dy[p] * b.dx[v] > STRAIGHT:  # it points outwards
            continue
        if rough and _edges_near(b, b.x[v], b.y[v], below) > many:
            begin = count
            rows, count = _stepwise(b, v, below, many, seen, rows, count)
            if count > begin + 1:
                _in_order(rows[begin:count], met)
        else:
            rows, count = _chords_between(
                b, v, 0.0, below, True, 0.0, 0.0, 0.0, 0.0, seen, v, rows, count
            )
    return rows[:count]


@compiled
def _first_met(b: Boundary) -> Any:
    """Where each edge stands first among the entries of the grid."""
    met = np.zeros(b.x.size, np.int64)
    for k in range(b.edges.size - 1, -1, -1):
        met[b.edges[k]] = k
    return met


@compiled
def _in_order(rows: Any, met: Any) -> None:
    """Put one corner's chords in the order of the grid, in however many steps they were found.

    Of chords of equal width the first counts, so their order must not depend on the steps.
    """
    for i in range(1, rows.shape[0]):
        row, j = rows[i].copy(), i
        while j > 0 and met[int(rows[j - 1, 4])] > met[int(row[4])]:
            rows[j] = rows[j - 1]
            j -= 1
        rows[j] = row


@compiled
def _stepwise(
    b: Boundary, v: int, below: float, many: int, seen: Any, rows: Any, count: int
) -> Any:
    """Append the chords of a corner with many edges near it, the width doubled step by step."""
    p = b.before[v]
    lx, ly, hx, hy = -b.dy[v], b.dx[v], -b.dy[p], b.dx[p]  # its directions, anticlockwise
    least, most, step = 0.0, min(b.cell, below), 0
    while True:
        few = _edges_near(b, b.x[v], b.y[v], most) <= many
        stamp = b.x.size + 64 * v + step  # no corner's number
        rows, count = _chords_between(
            b, v, least, most, few, lx, ly, hx, hy, seen, stamp, rows, count
        )
        if most >= below:
            return rows, count
        lx, ly, hx, hy, none = _narrowed(b, v, most, few, lx, ly, hx, hy)
        if none:
            return rows, count
        least, most, step = most, min(2 * most, below), step + 1


@compiled
def _cells_round(b: Boundary, x: float, y: float, reach: float) -> Any:
    """The columns and the rows of a square round a point: first and last of either."""
    left = max(int((x - reach - b.left) / b.cell), 0)
    right = min(int((x + reach - b.left) / b.cell), b.columns - 1)
    bottom = max(int((y - reach - b.bottom) / b.cell), 0)
    top = min(int((y + reach - b.bottom) / b.cell), b.rows - 1)
    return left, right, bottom, top


@compiled
def _edges_near(b: Boundary, x: float, y: float, reach: float) -> int:
    """How many edges, counted cell by cell, are in the cells of a square round a point."""
    left, right, bottom, top = _cells_round(b, x, y, reach)
    count = 0
    for row in range(bottom, top + 1):
        count += b.start[row * b.columns + right + 1] - b.start[row * b.columns + left]
    return count


@compiled
def _span(
    b: Boundary, v: int, row: int, reach: float, lx: float, ly: float, hx: float, hy: float
) -> Any:
    """Where the entries of one row of cells begin and end that may lie in a corner's directions.

    Directions are what two half planes share; how far they go along the row is linear.
    """
    x, y0 = b.x[v], b.bottom + row * b.cell - b.y[v]
    y1, slack = y0 + b.cell, 1e-6 * (1.0 + reach)
    one, other = max(lx * y0, lx * y1) + slack, min(hx * y0, hx * y1) - slack
    low, high = -reach, reach
    if ly > 1e-9:
        high = min(high, one / ly)
    elif ly < -1e-9:
        low = max(low, one / ly)
    elif one < 0.0:
        return 0, 0
    if hy > 1e-9:
        low = max(low, other / hy)
    elif hy < -1e-9:
        high = min(high, other / hy)
    elif other > 0.0:
        return 0, 0
    if low > high or x + high < b.left:
        return 0, 0
    left = max(int((x + low - b.left) / b.cell), 0)
    right = min(int((x + high - b.left) / b.cell), b.columns - 1)
    if left > right:
        return 0, 0
    return b.start[row * b.columns + left], b.start[row * b.columns + right + 1]


@compiled
def _chords_between(
    b: Boundary, v: int, least: float, most: float, few: bool,
    lx: float, ly: float, hx: float, hy: float, seen: Any, stamp: int, rows: Any, count: int,
) -> Any:  # fmt: skip
    """Append a corner's chords between two widths: shortest locally at both ends, circle empty."""
    p, x, y = b.before[v], b.x[v], b.y[v]
    left, right, bottom, top = _cells_round(b, x, y, most)
    for row in range(bottom, top + 1):
        low, high = b.start[row * b.columns + left], b.start[row * b.columns + right + 1]
        if not few:
            low, high = _span(b, v, row, most, lx, ly, hx, hy)
        for k in range(low, high):
            j = b.edges[k]
            if seen[j] == stamp:
                continue
            seen[j] = stamp
            o, px, py = b.before[j], x - b.x[j], y - b.y[j]
            t = px * b.dx[j] + py * b.dy[j]
            if t >= b.length[j] or j in (v, p):  # beyond its end the next edge's start counts
                continue
            if t > 0.0 and py * b.dx[j] - px * b.dy[j] < -TINY:  # it shows its back
                continue
            if t <= 0.0:
                inwards = b.dx[o] * b.dy[j] - b.dy[o] * b.dx[j] <= STRAIGHT
                if (inwards and j <= v) or px * b.dx[o] + py * b.dy[o] < -TINY:
                    continue  # met from its other end, or not the nearest there
                t = 0.0
            ux, uy = t * b.dx[j] - px, t * b.dy[j] - py
            width = (ux * ux + uy * uy) ** 0.5
            touches, slack = width <= 1e-9, TINY * width
            if width >= most or (touches and (j == b.after[v] or b.after[j] == p)):
                continue
            if ux * b.dx[p] + uy * b.dy[p] < -slack or ux * b.dx[v] + uy * b.dy[v] > slack:
                continue
            if uy * (b.dx[p] + b.dx[v]) - ux * (b.dy[p] + b.dy[v]) < 0.0 and not touches:
                continue
            aside = min(lx * uy - ly * ux, ux * hy - uy * hx) < -10.0 * slack
            if least > 0.0 and (width < least or aside):
                continue  # found before, or something is known to be in its circle
            mx, my, inside = x + ux / 2, y + uy / 2, width / 2 - 1e-6
            if inside > 0.0 and nearest_edge(b, mx, my, inside, True, -1)[0] >= 0:
                continue
            if count == rows.shape[0]:
                rows = np.concatenate((rows, np.empty((count, 6))))
            rows[count] = np.array([width, mx, my, v, j, t])
            count += 1
    return rows, count


@compiled
def _narrowed(
    b: Boundary, v: int, width: float, few: bool, lx: float, ly: float, hx: float, hy: float,
) -> Any:  # fmt: skip
    """Directions of a corner in which a circle of a width may be empty; whether there are none.

    Narrower circles there lie in wider ones, so what is left out stays out for all that are wider.
    """
    x, y, p = b.x[v], b.y[v], b.before[v]
    if (lx * hy - ly * hx) <= 1e-9 and lx * hx + ly * hy > 0.0:
        hx, hy = lx, ly
    ax, ay, cx, cy = lx, ly, hx, hy  # cells are chosen by what was known before
    left, right, bottom, top = _cells_round(b, x, y, width)
    for row in range(bottom, top + 1):
        low, high = b.start[row * b.columns + left], b.start[row * b.columns + right + 1]
        if not few:
            low, high = _span(b, v, row, width, ax, ay, cx, cy)
        for k in range(low, high):
            j = b.edges[k]
            if j in (v, p):
                continue
            qx, qy = b.x[j] - x, b.y[j] - y
            t = -qx * b.dx[j] - qy * b.dy[j]
            lx, ly, hx, hy, none = _without(qx, qy, width, lx, ly, hx, hy)
            if not none and 0.0 < t < b.length[j]:
                qx, qy = qx + t * b.dx[j], qy + t * b.dy[j]
                lx, ly, hx, hy, none = _without(qx, qy, width, lx, ly, hx, hy)
            if none:
                return lx, ly, hx, hy, True
    return lx, ly, hx, hy, False


@compiled
def _without(qx: float, qy: float, width: float, lx: float, ly: float, hx: float, hy: float) -> Any:
    """Directions less those in which a circle of the width would have a point inside it.

    Only ends of the span of directions are taken off; a gap within it is left.
    """
    away = (qx * qx + qy * qy) ** 0.5
    if away < AFAR_MM:
        return lx, ly, hx, hy, False
    cos = away / width + DEEP_MM / away
    if cos >= 1.0:
        return lx, ly, hx, hy, False
    gx, gy = qx / away, qy / away
    from_low, from_high = lx * gx + ly * gy > cos, hx * gx + hy * gy > cos
    if from_low and from_high:
        return lx, ly, hx, hy, True
    if from_low or from_high:
        sin = (1.0 - cos * cos) ** 0.5
        if from_low:
            lx, ly = gx * cos - gy * sin, gx * sin + gy * cos
        else:
            hx, hy = gx * cos + gy * sin, gy * cos - gx * sin
        if lx * hy - ly * hx <= 1e-12 and lx * hx + ly * hy > 0.0:
            hx, hy = lx, ly
    return lx, ly, hx, hy, False

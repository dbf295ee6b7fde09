"""The edges of a polygon on a grid: what touches a disc, which edge is nearest. Lengths in mm.

Loops over edges are compiled where numba is at hand; without it they give the same answers,
slowly. Everything here runs in a fixed order, so that equal shapes give equal results.
"""

from math import floor, hypot
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled

CELL_MM = 1.0
MOST_CELLS = 40_000
"""A large plate gets larger cells."""
CROWDED = 40
"""A rough outline, with more edges than this in a cell on the mean, gets smaller ones."""
LARGE = 4.0
"""A disc of a radius beyond so many cells is gone through by its own cells, not its square's."""


class Boundary(NamedTuple):
    """Edges of a polygon, the inside on their left, and the grid cells that they run through.

    Attributes:
        x, y: start of each edge.
        dx, dy: its unit direction; the inward normal is (-dy, dx).
        length: its length, never 0.
        before, after: edges that it follows and that follow it on its ring.
        ring: index of its ring, 0 the outer one.
        first: index of each ring's first edge, and the number of edges.
        left, bottom: corner of the grid.
        cell: side of a cell.
        columns, rows: size of the grid.
        start, edges: edges of cell c are ``edges[start[c]:start[c + 1]]``.
    """

    x: Floats
    y: Floats
    dx: Floats
    dy: Floats
    length: Floats
    before: Ints
    after: Ints
    ring: Ints
    first: Ints
    left: float
    bottom: float
    cell: float
    columns: int
    rows: int
    start: Ints
    edges: Ints


def boundary_of(shape: Polygon, outside: bool = False) -> Boundary:
    """Lay a polygon's edges on a grid.

    Args:
        shape: valid, not empty.
        outside: take what is not the polygon, its gaps and holes, for the inside.
    """
    xy = shapely.get_coordinates(shape)
    ends = _ends(xy, shapely.get_num_interior_rings(shape) + 1)
    if ends[-1] != len(xy):
        ends = np.cumsum([0, *shapely.get_num_coordinates(shapely.get_rings(shape))])
    return Boundary(*_laid(xy, ends, outside, CELL_MM, MOST_CELLS))


@compiled
def _ends(xy: Floats, rings: int) -> Ints:
    """Where each ring ends among the coordinates: where it comes back to its first point.

    The last of them is not the number of coordinates if a point stands there twice running.
    """
    ends = np.zeros(rings + 1, np.int64)
    for r in range(rings):
        first = ends[r]
        k = first + 1
        while k < xy.shape[0] and (xy[k, 0] != xy[first, 0] or xy[k, 1] != xy[first, 1]):
            k += 1
        ends[r + 1] = min(k + 1, xy.shape[0])
        if k < first + 3:
            ends[rings] = -1
            return ends
    return ends


@compiled
def _laid(xy: Floats, ends: Ints, outside: bool, cell: float, most: int) -> Any:
    """All that a `Boundary` holds, in its order."""
    left, bottom, right, top = xy[0, 0], xy[0, 1], xy[0, 0], xy[0, 1]
    for i in range(ends[1]):
        left, right = min(left, xy[i, 0]), max(right, xy[i, 0])
        bottom, top = min(bottom, xy[i, 1]), max(top, xy[i, 1])
    x, y, ring, first = _turned(xy, ends, outside)
    dx, dy, length, before, after = _joined(x, y, first)
    cell, columns, rows, start, edges = _entered(x, y, after, left, bottom, right, top, cell, most)
    return (
        x, y, dx, dy, length, before, after, ring, first,
        left, bottom, cell, columns, rows, start, edges,
    )  # fmt: skip


@compiled
def _turned(xy: Floats, ends: Ints, outside: bool) -> Any:
    """Corners, ring by ring, so that the inside is on the left; ring of each; first of each."""
    x, y = np.empty(xy.shape[0]), np.empty(xy.shape[0])
    ring, first = np.empty(xy.shape[0], np.int64), np.zeros(ends.size, np.int64)
    n = 0
    for r in range(ends.size - 1):
        first[r] = n
        low, high = ends[r], ends[r + 1] - 1
        area = 0.0
        for i in range(low, high):
            area += (xy[i, 0] - xy[low, 0]) * (xy[i + 1, 1] - xy[low, 1])
            area -= (xy[i + 1, 0] - xy[low, 0]) * (xy[i, 1] - xy[low, 1])
        forward = ((area > 0.0) == (r == 0)) != outside
        for k in range(high - low):
            i = low + k if forward else high - k
            j = i + 1 if forward else i - 1
            if hypot(xy[j, 0] - xy[i, 0], xy[j, 1] - xy[i, 1]) > 1e-9:
                x[n], y[n], ring[n] = xy[i, 0], xy[i, 1], r
                n += 1
    first[ends.size - 1] = n
    return x[:n].copy(), y[:n].copy(), ring[:n].copy(), first


@compiled
def _joined(x: Floats, y: Floats, first: Ints) -> Any:
    """Direction and length of the edges, and the edges before and after each."""
    n = x.size
    dx, dy, length = np.empty(n), np.empty(n), np.empty(n)
    before, after = np.arange(n) - 1, np.arange(n) + 1
    for r in range(first.size - 1):
        if first[r + 1] > first[r]:
            before[first[r]] = first[r + 1] - 1
            after[first[r + 1] - 1] = first[r]
    for i in range(n):
        dx[i], dy[i] = x[after[i]] - x[i], y[after[i]] - y[i]
        length[i] = hypot(dx[i], dy[i])
        dx[i] /= length[i]
        dy[i] /= length[i]
    return dx, dy, length, before, after


@compiled
def _entered(
    x: Floats,
    y: Floats,
    after: Ints,
    left: float,
    bottom: float,
    right: float,
    top: float,
    cell: float,
    most: int,
) -> Any:
    """The grid: its cell, size, and which edges run through each cell."""
    while ((right - left) / cell + 1) * ((top - bottom) / cell + 1) > most:
        cell *= 1.5
    none = np.empty(0, np.int64)
    while True:
        columns, rows = int((right - left) / cell) + 1, int((top - bottom) / cell) + 1
        start = np.zeros(columns * rows + 1, np.int64)
        _run_through(x, y, after, left, bottom, cell, columns, rows, start, none)
        entries = start.sum()
        is_crowded = entries > CROWDED * np.count_nonzero(start) and entries <= 4 * x.size
        if not is_crowded or 4 * columns * rows > most + 4 * x.size:
            break
        cell /= 2
    start = np.cumsum(start)
    edges = np.empty(start[-1], np.int64)
    # while edges are entered each cell counts down from its end to its start
    start[:-1] = start[1:]
    _run_through(x, y, after, left, bottom, cell, columns, rows, start, edges)
    return cell, columns, rows, start, edges


@compiled
def _run_through(
    x: Floats,
    y: Floats,
    after: Ints,
    left: float,
    bottom: float,
    cell: float,
    columns: int,
    rows: int,
    start: Ints,
    edges: Ints,
) -> None:
    """Count for each cell the edges in it, one place further on; or enter them, last to first."""
    for i in range(x.size):
        x0, y0, x1, y1 = x[i], y[i], x[after[i]], y[after[i]]
        low_row = int((min(y0, y1) - bottom) / cell)
        high_row = min(int((max(y0, y1) - bottom) / cell), rows - 1)
        for row in range(low_row, high_row + 1):
            a, b = x0, x1
            if high_row > low_row:  # the part of the edge that lies in this row
                t0 = min(max((bottom + row * cell - y0) / (y1 - y0), 0.0), 1.0)
                t1 = min(max((bottom + row * cell + cell - y0) / (y1 - y0), 0.0), 1.0)
                a, b = x0 + t0 * (x1 - x0), x0 + t1 * (x1 - x0)
            low = max(int((min(a, b) - 1e-9 - left) / cell), 0)
            high = min(int((max(a, b) + 1e-9 - left) / cell), columns - 1)
            for c in range(row * columns + low, row * columns + high + 1):
                if edges.size == 0:
                    start[c + 1] += 1
                else:
                    start[c] -= 1
                    edges[start[c]] = i


@compiled
def nearest_edge(
    b: Boundary, x: float, y: float, within: float, any_will_do: bool, corner: int
) -> Any:
    """The boundary point nearest to x, y that is nearer than a distance.

    Args:
        b: the boundary.
        x: of the point.
        y: of the point.
        within: distance.
        any_will_do: stop at the first point that is near enough.
        corner: the two edges that meet at this corner are left out; -1 for none.

    Returns:
        The edge, how far along it, and the distance; edge -1 if none is so near.
    """
    found, along, best = -1, 0.0, within * within
    beside = b.before[corner] if corner >= 0 else -1
    low_row = max(floor((y - within - b.bottom) / b.cell), 0)
    high_row = min(floor((y + within - b.bottom) / b.cell), b.rows - 1)
    low = max(floor((x - within - b.left) / b.cell), 0)
    high = min(floor((x + within - b.left) / b.cell), b.columns - 1)
    if low > high:
        return found, along, within
    large = any_will_do and within > LARGE * b.cell
    for row in range(low_row, high_row + 1):
        if large:  # the corners of its square are most of what is in a rough outline's
            low, high = _in_disc(b, x, y, within, row)
        for k in range(b.start[row * b.columns + low], b.start[row * b.columns + high + 1]):
            i = b.edges[k]
            if i in (corner, beside):
                continue
            px, py = x - b.x[i], y - b.y[i]
            t = min(max(px * b.dx[i] + py * b.dy[i], 0.0), b.length[i])
            px -= t * b.dx[i]
            py -= t * b.dy[i]
            square = px * px + py * py
            if square < best:
                found, along, best = i, t, square
                if any_will_do:
                    return found, along, best**0.5
    return found, along, best**0.5


@compiled
def _in_disc(b: Boundary, x: float, y: float, radius: float, row: int) -> Any:
    """The first and the last cell of a row that a disc may reach."""
    bottom = b.bottom + row * b.cell
    off = max(bottom - y, y - bottom - b.cell, 0.0)
    half = max(radius * radius - off * off, 0.0) ** 0.5 + 1e-6
    low = max(floor((x - half - b.left) / b.cell), 0)
    return low, max(min(floor((x + half - b.left) / b.cell), b.columns - 1), low - 1)


@compiled
def ball_at(
    b: Boundary,
    x: float,
    y: float,
    nx: float,
    ny: float,
    radius: float,
    slack: float,
    corner: int,
) -> Any:
    """Shrink a ball that touches the boundary at x, y until nothing else is inside it.

    The shrinking-ball step of Ma, Bae & Choi (2012), "3D medial axis point approximation using
    nearest neighbors and the normal field", with whole edges in place of samples.

    Args:
        b: the boundary.
        x: where the ball touches.
        y: where the ball touches.
        nx: unit normal towards its centre.
        ny: unit normal towards its centre.
        radius: the largest that is asked for.
        slack: what counts as not inside.
        corner: the two edges that meet at this corner are left out; -1 for none.

    Returns:
        Its radius, the edge that it touches on the other side and how far along; edge -1 when
        the largest ball fits.
    """
    edge, along = -1, 0.0
    for _ in range(30):
        cx, cy = x + radius * nx, y + radius * ny
        i, t, _ = nearest_edge(b, cx, cy, radius - slack, False, corner)
        if i < 0:
            break
        qx, qy = b.x[i] + t * b.dx[i] - x, b.y[i] + t * b.dy[i] - y
        across = qx * nx + qy * ny
        square = qx * qx + qy * qy
        if across <= 1e-12 or square < 1e-16:
            break
        edge, along = i, t
        smaller = square / (2.0 * across)
        if smaller > radius - 1e-7:
            break
        radius = smaller
    return radius, edge, along


@compiled
def way_free(b: Boundary, x: float, y: float, nx: float, ny: float, most: float) -> Any:
    """How far one can go from a place in a direction before an edge is met.

    Args:
        b: the boundary.
        x: where the way begins; edges there do not count.
        y: where the way begins.
        nx: unit direction.
        ny: unit direction.
        most: the farthest that is asked for.

    Returns:
        The distance, and the edge that is met; edge -1 when none is.
    """
    found, best = -1, most
    ex, ey = x + most * nx, y + most * ny
    low_row = max(floor((min(y, ey) - b.bottom) / b.cell), 0)
    high_row = min(floor((max(y, ey) - b.bottom) / b.cell), b.rows - 1)
    low = max(floor((min(x, ex) - b.left) / b.cell), 0)
    high = min(floor((max(x, ex) - b.left) / b.cell), b.columns - 1)
    if low > high:
        return best, found
    for row in range(low_row, high_row + 1):
        for k in range(b.start[row * b.columns + low], b.start[row * b.columns + high + 1]):
            i = b.edges[k]
            turn = nx * b.dy[i] - ny * b.dx[i]
            if abs(turn) < 1e-9:
                continue
            px, py = b.x[i] - x, b.y[i] - y
            way = (px * b.dy[i] - py * b.dx[i]) / turn
            along = (px * ny - py * nx) / turn
            if 1e-6 < way < best and 0.0 <= along <= b.length[i]:
                found, best = i, way
    return best, found

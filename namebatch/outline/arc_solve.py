"""Moves the nodes of a smooth run and bends its arcs until they meet without a kink. Compiled.

Unknown are the shift of each node along its normal and half the turn of each arc (`beta`).
Least squares (Gauss-Newton) over the distances of all points from their arcs and over the
kinks at the nodes; distances that use up most of their room weigh more, which draws the largest
down. With its half turn kept an arc follows its ends by a
similarity, so all derivatives have a closed form. The normal matrix has a band of four.
"""

from math import atan2, cos, isnan, pi, sin, sqrt

import numpy as np

from namebatch.outline.arc_frame import size_of
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled

KINK = 0.008
"""Kinks weigh as much as a distance of the tolerance at this angle."""
BAND = 5
"""Unknowns that one equation can have: shift, bend, shift, bend, shift."""
EASY = 0.75
"""Distances up to this share of their room weigh alike."""
DAMPING = 1e-3
"""Keeps what no equation asks for where it is."""


@compiled
def angle_between(a: float, b: float) -> float:
    """B − a, from −π to π."""
    d = b - a
    while d > pi:
        d -= 2.0 * pi
    while d < -pi:
        d += 2.0 * pi
    return d


@compiled
def add_row(matrix: Floats, right: Floats, at: int, row: Floats, kink: float) -> None:
    """Add one kink over five unknowns from `at` on to the normal equations."""
    size = len(right)
    weight = 1.0 / (KINK * KINK)
    for a in range(BAND):
        if row[a] == 0.0 or at + a < 0 or at + a >= size:
            continue
        right[at + a] -= weight * row[a] * kink
        for b in range(a + 1):
            if at + b >= 0:
                matrix[at + a, a - b] += weight * row[a] * row[b]


@compiled
def factor(matrix: Floats) -> None:
    """Cholesky of a banded matrix in place; row i holds columns i, i−1, … i−4."""
    for i in range(len(matrix)):
        for back in range(min(i, BAND - 1), -1, -1):
            j = i - back
            total = matrix[i, back]
            for k in range(max(0, i - BAND + 1, j - BAND + 1), j):
                total -= matrix[i, i - k] * matrix[j, j - k]
            matrix[i, back] = sqrt(max(total, 1e-12)) if back == 0 else total / matrix[j, 0]


@compiled
def solve(matrix: Floats, right: Floats) -> Floats:
    """Solve with a factored banded matrix."""
    out = right.copy()
    n = len(out)
    for i in range(n):
        for k in range(max(0, i - BAND + 1), i):
            out[i] -= matrix[i, i - k] * out[k]
        out[i] /= matrix[i, 0]
    for i in range(n - 1, -1, -1):
        for k in range(i + 1, min(n, i + BAND)):
            out[i] -= matrix[k, k - i] * out[k]
        out[i] /= matrix[i, 0]
    return out


@compiled
def add_distance(
    matrix: Floats,
    right: Floats,
    at: int,
    row: tuple[float, float, float],
    distance: float,
    free: float,
    share: float,
    sharpness: float,
) -> None:
    """Add one distance to the normal equations, the heavier the more of its room it takes.

    Args:
        matrix: of the normal equations, lower band.
        right: their right side.
        at: first of its three unknowns: shift, bend, shift.
        row: how the distance changes with them.
        distance: as it is.
        free: the room there.
        share: of its weight, 1 or less.
        sharpness: how much more large distances weigh.
    """
    weight = share / (free * free)
    pull = weight * distance
    over = abs(distance) - EASY * free
    if over > 0.0:
        pull += weight * sharpness * (over if distance > 0.0 else -over)
        weight += weight * sharpness
    j0, j1, j2 = row
    matrix[at, 0] += weight * j0 * j0
    matrix[at + 1, 1] += weight * j0 * j1
    matrix[at + 1, 0] += weight * j1 * j1
    matrix[at + 2, 2] += weight * j0 * j2
    matrix[at + 2, 1] += weight * j1 * j2
    matrix[at + 2, 0] += weight * j2 * j2
    right[at] -= pull * j0
    right[at + 1] -= pull * j1
    right[at + 2] -= pull * j2


@compiled
def add_arc(
    matrix: Floats,
    right: Floats,
    run: tuple[Floats, Floats, Floats],
    span: tuple[int, int],
    k: int,
    node: Floats,
    normal: Floats,
    beta: float,
    sharpness: float,
) -> None:
    """Add the distances of the points of a run between two of them from the arc after node k."""
    x, y, room = run
    ax, ay = node[k, 0], node[k, 1]
    chord = size_of(node[k + 1, 0] - ax, node[k + 1, 1] - ay)
    ex, ey = (node[k + 1, 0] - ax) / chord, (node[k + 1, 1] - ay) / chord
    cosine, sine = cos(beta), sin(beta)
    bend = 2.0 * sine / chord
    # normals of both nodes in the frame of the chord
    pu, pv = normal[k, 0] * ex + normal[k, 1] * ey, normal[k, 1] * ex - normal[k, 0] * ey
    qu = normal[k + 1, 0] * ex + normal[k + 1, 1] * ey
    qv = normal[k + 1, 1] * ex - normal[k + 1, 0] * ey
    for i in range(span[0], span[1] + 1):
        u = (x[i] - ax) * ex + (y[i] - ay) * ey
        v = (y[i] - ay) * ex - (x[i] - ax) * ey
        reach = u * (u - chord) + v * v
        f = bend / 2.0 * reach - v * cosine
        inside = sqrt(max(1.0 + 2.0 * bend * f, 1e-6))
        nu, nv = bend * (u - chord / 2.0) / inside, (bend * v - cosine) / inside
        wu, wv = u / chord, v / chord
        row = (
            -(nu * ((1.0 - wu) * pu + wv * pv) + nv * ((1.0 - wu) * pv - wv * pu)),
            (cosine / chord * reach + v * sine) / inside,
            -(nu * (wu * qu - wv * qv) + nv * (wu * qv + wv * qu)),
        )
        share = 0.5 if i in span else 1.0
        add_distance(matrix, right, 2 * k, row, 2.0 * f / (1.0 + inside), room[i], share, sharpness)


@compiled
def chord_angle(node: Floats, k: int) -> float:
    """Direction of the chord after a node."""
    return atan2(node[k + 1, 1] - node[k, 1], node[k + 1, 0] - node[k, 0])


@compiled
def turn_with(node: Floats, normal: Floats, k: int, end: int) -> float:
    """How the direction of the chord after node k turns with the shift of one of its ends."""
    ux, uy = node[k + 1, 0] - node[k, 0], node[k + 1, 1] - node[k, 1]
    n = k + end
    cross = ux * normal[n, 1] - uy * normal[n, 0]
    return float((cross if end == 1 else -cross) / (ux * ux + uy * uy))


@compiled
def kink_at(node: Floats, beta: Floats, k: int) -> float:
    """Turn from the arc before an inner node to the arc after it."""
    ux, uy = node[k, 0] - node[k - 1, 0], node[k, 1] - node[k - 1, 1]
    vx, vy = node[k + 1, 0] - node[k, 0], node[k + 1, 1] - node[k, 1]
    return angle_between(beta[k - 1] + beta[k], atan2(ux * vy - uy * vx, ux * vx + uy * vy))


@compiled
def add_kinks(
    matrix: Floats,
    right: Floats,
    node: Floats,
    normal: Floats,
    beta: Floats,
    tangents: Floats,
    closed: bool,
) -> None:
    """Add the kinks at the inner nodes, and those at the ends where a direction is given."""
    arcs = len(beta)
    row = np.zeros(BAND)
    for k in range(1, arcs):
        row[0] = -turn_with(node, normal, k - 1, 0)
        row[1] = -1.0
        row[2] = turn_with(node, normal, k, 0) - turn_with(node, normal, k - 1, 1)
        row[3] = -1.0
        row[4] = turn_with(node, normal, k, 1)
        add_row(matrix, right, 2 * k - 2, row, kink_at(node, beta, k))
    row[3] = row[4] = 0.0
    if not closed and not isnan(tangents[0]):
        row[0], row[1] = turn_with(node, normal, 0, 0), -1.0
        row[2] = turn_with(node, normal, 0, 1)
        add_row(matrix, right, 0, row, angle_between(tangents[0], chord_angle(node, 0) - beta[0]))
    if not closed and not isnan(tangents[1]):
        last = arcs - 1
        row[0], row[1] = -turn_with(node, normal, last, 0), -1.0
        row[2] = -turn_with(node, normal, last, 1)
        gap = angle_between(chord_angle(node, last) + beta[last], tangents[1])
        add_row(matrix, right, 2 * last, row, gap)


@compiled
def close_ring(matrix: Floats, step: Floats, node: Floats, normal: Floats, beta: Floats) -> None:
    """Correct a solution by the one equation that ties the ends of a ring together.

    After Sherman and Morrison, with the factored matrix of all other equations.
    """
    arcs, size = len(beta), len(step)
    edge = np.zeros(size)
    edge[1], edge[size - 2] = -1.0, -1.0
    if arcs > 1:
        edge[2] = turn_with(node, normal, 0, 1)
        edge[size - 3] -= turn_with(node, normal, arcs - 1, 0)
    tie = angle_between(
        chord_angle(node, arcs - 1) + beta[arcs - 1], chord_angle(node, 0) - beta[0]
    )
    other = solve(matrix, edge)
    along = across = 0.0
    for i in range(size):
        along += edge[i] * other[i]
        across += edge[i] * step[i]
    scale = (tie + across) / (KINK * KINK + along)
    for i in range(size):
        step[i] -= scale * other[i]


@compiled
def relax(
    run: tuple[Floats, Floats, Floats],
    cuts: Ints,
    node: Floats,
    normal: Floats,
    beta: Floats,
    tangents: Floats,
    closed: bool,
    sharpness: float,
) -> None:
    """One round: move nodes and bend arcs in place.

    Args:
        run: x and y of its points, and the largest distance wanted at each.
        cuts: point of each node.
        node: positions, two columns.
        normal: unit vectors along which nodes move; zero where they must not.
        beta: half the turn of each arc.
        tangents: direction at the first and last node, NaN where it is free.
        closed: the run is a ring; its ends are one node and meet without a kink.
        sharpness: how much more large distances weigh.
    """
    arcs = len(beta)
    size = 2 * arcs + 1
    matrix, right = np.zeros((size, BAND)), np.zeros(size)
    for k in range(arcs):
        span = (cuts[k], cuts[k + 1])
        add_arc(matrix, right, run, span, k, node, normal, beta[k], sharpness)
    add_kinks(matrix, right, node, normal, beta, tangents, closed)
    for i in range(size):
        matrix[i, 0] += DAMPING
    factor(matrix)
    step = solve(matrix, right)
    if closed:
        close_ring(matrix, step, node, normal, beta)
    for k in range(arcs + 1):
        node[k, 0] += step[2 * k] * normal[k, 0]
        node[k, 1] += step[2 * k] * normal[k, 1]
        if k < arcs:
            beta[k] += step[2 * k + 1]

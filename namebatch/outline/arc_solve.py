"""Moves the nodes of a smooth run and bends its arcs until they meet without a kink. Compiled.

Unknown are the shift of each node along its normal and half the turn of each arc (`beta`).
Least squares (Gauss-Newton) over the distances of all points from their arcs and over the
kinks at the nodes; distances that use up most of their room weigh more, which draws the largest
down. With its half turn kept an arc follows its ends by a
similarity, so all derivatives have a closed form. The normal matrix has a band of four.
"""

from math import atan2, cos, hypot, pi, sin, sqrt

import numpy as np

from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled

KINK = 0.008
"""Kinks weigh as much as a distance of the tolerance at this angle."""
BAND = 5
"""Unknowns that one equation can have: shift, bend, shift, bend, shift."""
EASY = 0.75
"""Distances up to this share of their room weigh alike."""


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
def add_row(
    matrix: Floats, right: Floats, at: int, row: Floats, residual: float, weight: float
) -> None:
    """Add one equation over five unknowns from `at` on to the normal equations."""
    size = len(right)
    for a in range(BAND):
        if row[a] == 0.0 or at + a < 0 or at + a >= size:
            continue
        right[at + a] -= weight * row[a] * residual
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
def add_arc(
    matrix: Floats,
    right: Floats,
    x: Floats,
    y: Floats,
    first: int,
    last: int,
    number: int,
    node: Floats,
    normal: Floats,
    beta: float,
    room: Floats,
    sharpness: float,
) -> None:
    """Add the distances of one arc's vertices and middles of edges."""
    ax, ay, bx, by = node[number, 0], node[number, 1], node[number + 1, 0], node[number + 1, 1]
    c = hypot(bx - ax, by - ay) / 2.0
    ex, ey = (bx - ax) / (2.0 * c), (by - ay) / (2.0 * c)
    mx, my = (ax + bx) / 2.0, (ay + by) / 2.0
    k, cosine, sine = sin(beta) / c, cos(beta), sin(beta)
    # normals of both nodes in the frame of the chord
    pu, pv = (
        normal[number, 0] * ex + normal[number, 1] * ey,
        (normal[number, 1] * ex - normal[number, 0] * ey),
    )
    qu, qv = (
        normal[number + 1, 0] * ex + normal[number + 1, 1] * ey,
        (normal[number + 1, 1] * ex - normal[number + 1, 0] * ey),
    )
    a00 = a01 = a02 = a11 = a12 = a22 = b0 = b1 = b2 = 0.0
    for i in range(first, last + 1):
        u = (x[i] - mx) * ex + (y[i] - my) * ey
        v = (y[i] - my) * ex - (x[i] - mx) * ey
        reach = u * u + v * v - c * c
        f = k / 2.0 * reach - v * cosine
        inside = sqrt(max(1.0 + 2.0 * k * f, 1e-6))
        distance = 2.0 * f / (1.0 + inside)
        nu, nv = k * u / inside, (k * v - cosine) / inside
        wu, wv = (u + c) / (2.0 * c), v / (2.0 * c)
        j0 = -(nu * ((1.0 - wu) * pu + wv * pv) + nv * ((1.0 - wu) * pv - wv * pu))
        j1 = (cosine / (2.0 * c) * reach + v * sine) / inside
        j2 = -(nu * (wu * qu - wv * qv) + nv * (wu * qv + wv * qu))
        free = room[i]
        weight = 1.0 / (free * free)
        if i in (first, last):
            weight /= 2.0
        pull = weight * distance
        over = abs(distance) - EASY * free
        if sharpness > 0.0 and over > 0.0:
            pull += weight * sharpness * (over if distance > 0.0 else -over)
            weight += weight * sharpness
        a00 += weight * j0 * j0
        a01 += weight * j0 * j1
        a02 += weight * j0 * j2
        a11 += weight * j1 * j1
        a12 += weight * j1 * j2
        a22 += weight * j2 * j2
        b0 += pull * j0
        b1 += pull * j1
        b2 += pull * j2
    at = 2 * number
    matrix[at, 0] += a00
    matrix[at + 1, 1] += a01
    matrix[at + 1, 0] += a11
    matrix[at + 2, 2] += a02
    matrix[at + 2, 1] += a12
    matrix[at + 2, 0] += a22
    right[at] -= b0
    right[at + 1] -= b1
    right[at + 2] -= b2


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
    return angle_between(chord_angle(node, k - 1) + beta[k - 1], chord_angle(node, k) - beta[k])


@compiled
def relax(
    x: Floats,
    y: Floats,
    cuts: Ints,
    node: Floats,
    normal: Floats,
    beta: Floats,
    tangents: Floats,
    closed: bool,
    room: Floats,
    sharpness: float,
) -> None:
    """One round: move nodes and bend arcs in place.

    Args:
        x: of the points of the run.
        y: the same.
        cuts: point of each node.
        node: positions, two columns.
        normal: unit vectors along which nodes move; zero where they must not.
        beta: half the turn of each arc.
        tangents: direction at the first and last node, NaN where it is free.
        closed: the run is a ring; its ends are one node and meet without a kink.
        room: largest distance wanted at each point.
        sharpness: how much more large distances weigh.
    """
    arcs = len(beta)
    size = 2 * arcs + 1
    matrix, right = np.zeros((size, BAND)), np.zeros(size)
    row = np.zeros(BAND)
    for k in range(arcs):
        add_arc(
            matrix, right, x, y, cuts[k], cuts[k + 1], k, node, normal, beta[k], room, sharpness
        )
    weight = 1.0 / (KINK * KINK)
    for k in range(1, arcs):
        row[0] = -turn_with(node, normal, k - 1, 0)
        row[1] = -1.0
        row[2] = turn_with(node, normal, k, 0) - turn_with(node, normal, k - 1, 1)
        row[3] = -1.0
        row[4] = turn_with(node, normal, k, 1)
        add_row(matrix, right, 2 * k - 2, row, kink_at(node, beta, k), weight)
    edge, tie = np.zeros(size), 0.0
    if closed:
        edge[1], edge[size - 2] = -1.0, -1.0
        if arcs > 1:
            edge[2] = turn_with(node, normal, 0, 1)
            edge[size - 3] -= turn_with(node, normal, arcs - 1, 0)
        tie = angle_between(
            chord_angle(node, arcs - 1) + beta[arcs - 1], chord_angle(node, 0) - beta[0]
        )
    else:
        if tangents[0] == tangents[0]:
            row[:] = 0.0
            row[0], row[1], row[2] = (
                turn_with(node, normal, 0, 0),
                -1.0,
                turn_with(node, normal, 0, 1),
            )
            gap = angle_between(tangents[0], chord_angle(node, 0) - beta[0])
            add_row(matrix, right, 0, row, gap, weight)
        if tangents[1] == tangents[1]:
            row[:] = 0.0
            last = arcs - 1
            row[0], row[1], row[2] = (
                -turn_with(node, normal, last, 0),
                -1.0,
                -turn_with(node, normal, last, 1),
            )
            gap = angle_between(chord_angle(node, last) + beta[last], tangents[1])
            add_row(matrix, right, 2 * last, row, gap, weight)
    for i in range(size):
        matrix[i, 0] += 1e-3
    factor(matrix)
    step = solve(matrix, right)
    if closed:
        # the one equation that ties the ends together, after Sherman and Morrison
        other = solve(matrix, edge)
        along = 0.0
        across = 0.0
        for i in range(size):
            along += edge[i] * other[i]
            across += edge[i] * step[i]
        scale = weight * (tie + across) / (1.0 + weight * along)
        for i in range(size):
            step[i] -= scale * other[i]
    for k in range(arcs + 1):
        node[k, 0] += step[2 * k] * normal[k, 0]
        node[k, 1] += step[2 * k] * normal[k, 1]
        if k < arcs:
            beta[k] += step[2 * k + 1]

"""A smooth run as arcs: cut, relax, look, and again where it does not hold. Compiled."""

from math import isnan

import numpy as np

from namebatch.outline.arc_cuts import cut_run, first_betas, middle_of
from namebatch.outline.arc_frame import size_of, worst_distance
from namebatch.outline.arc_solve import angle_between, chord_angle, kink_at, relax
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.compiled import compiled

SPREAD = 0.9
"""Runs are cut for arcs that use this much of the room; the rest is for joining them.

An arc that ends on its curve errs as much as one that joins its neighbours without a kink, so
little more is needed: less here makes more arcs, all of it more that do not hold at first."""
TIGHTER = 0.7
"""How much less of it is used where that did not hold."""
KINK_LIMIT = 0.012
"""Above this (0.7 degrees) more arcs are taken."""
AROUND = 1
"""Good arcs on either side that move with bad ones."""
ROUNDS = 8
"""Half of all names are done after two."""
SHARPNESS = 10.0
"""How much more distances weigh that use up three quarters of the room."""


@compiled
def normals_of(x: Floats, y: Floats, cuts: Ints) -> Floats:
    """Unit normals at the inner nodes, zero at both ends, which stay where they are."""
    normal = np.zeros((len(cuts), 2))
    for k in range(1, len(cuts) - 1):
        i = cuts[k]
        dx, dy = x[i + 1] - x[i - 1], y[i + 1] - y[i - 1]
        size = size_of(dx, dy)
        if size > 0.0:
            normal[k, 0], normal[k, 1] = dy / size, -dx / size
    return normal


@compiled
def fit_window(
    mx: Floats, my: Floats, room: Floats, aim: Floats, tangents: Floats, closed: bool
) -> tuple[Ints, Floats, Floats]:
    """Cut a stretch and relax it.

    Returns:
        Point and position of each node, half the turn of each arc.
    """
    cuts = cut_run(mx, my, aim)
    if closed and len(cuts) < 3:
        last = len(mx) - 1
        cuts = np.array([0, last // 3, 2 * last // 3, last])
    node = np.empty((len(cuts), 2))
    for k in range(len(cuts)):
        node[k, 0], node[k, 1] = mx[cuts[k]], my[cuts[k]]
    normal = normals_of(mx, my, cuts)
    beta = first_betas(mx, my, cuts, aim)
    # one round is enough: where it is not, shorter arcs are tried, and a second gains nothing
    relax((mx, my, room), cuts, node, normal, beta, tangents, closed, SHARPNESS)
    return cuts, node, beta


@compiled
def kinks_of(node: Floats, beta: Floats, tangents: Floats, closed: bool) -> Floats:
    """Turn at every node; zero where the run ends in a corner."""
    arcs = len(beta)
    kink = np.zeros(arcs + 1)
    for k in range(1, arcs):
        kink[k] = kink_at(node, beta, k)
    leaving = chord_angle(node, 0) - beta[0]
    arriving = chord_angle(node, arcs - 1) + beta[arcs - 1]
    if closed:
        kink[0] = kink[arcs] = angle_between(arriving, leaving)
    else:
        if not isnan(tangents[0]):
            kink[0] = angle_between(tangents[0], leaving)
        if not isnan(tangents[1]):
            kink[arcs] = angle_between(arriving, tangents[1])
    return kink


@compiled
def faults_of(
    x: Floats,
    y: Floats,
    cuts: Ints,
    node: Floats,
    beta: Floats,
    kink: Floats,
    tolerance: float,
) -> tuple[Flags, Flags]:
    """Which arcs leave the tolerance, and which should be shorter for that or for a kink."""
    arcs = len(beta)
    bad, split = np.zeros(arcs, dtype=np.bool_), np.zeros(arcs, dtype=np.bool_)
    for k in range(arcs):
        worst = worst_distance(x, y, cuts[k], cuts[k + 1], node, k, beta[k])
        bad[k] = not worst <= tolerance
        split[k] = bad[k] or (
            max(abs(kink[k]), abs(kink[k + 1])) > KINK_LIMIT and cuts[k + 1] - cuts[k] > 1
        )
    return bad, split


@compiled
def tighten(aim: Floats, cuts: Ints, split: Flags) -> None:
    """Ask for shorter arcs in place of those that are to be split."""
    for k in range(len(split)):
        if not split[k]:
            continue
        if cuts[k + 1] - cuts[k] <= 3:
            # an arc through three points always passes: ask for a node there
            aim[(cuts[k] + cuts[k + 1]) // 2] = -1.0
        for i in range(cuts[k], cuts[k + 1] + 1):
            aim[i] *= TIGHTER


@compiled
def direction_at(node: Floats, beta: Floats, k: int) -> float:
    """Mean direction of the arcs before and after an inner node."""
    arriving = chord_angle(node, k - 1) + beta[k - 1]
    return float(arriving + kink_at(node, beta, k) / 2.0)


@compiled
def turned_to(mx: Floats, my: Floats, room: Floats, start: int) -> tuple[Floats, Floats, Floats]:
    """A closed line that begins at another of its points."""
    last = len(mx) - 1
    tx, ty, troom = np.empty(last + 1), np.empty(last + 1), np.empty(last + 1)
    for i in range(last + 1):
        j = (i + start) % last
        tx[i], ty[i], troom[i] = mx[j], my[j], room[j]
    return tx, ty, troom


@compiled
def calmest(cuts: Ints, split: Flags) -> int:
    """An inner node on a vertex, far from every arc that does not hold; −1 if there is none."""
    arcs = len(split)
    best, calm = -1, 0
    for k in range(1, arcs):
        if cuts[k] % 2 == 1:
            continue
        reach = 0
        while reach < arcs // 2:
            if split[(k + reach) % arcs] or split[(k - 1 - reach) % arcs]:
                break
            reach += 1
        away = min(reach, k, arcs - k)
        if away > calm:
            best, calm = k, away
    return best


@compiled
def mend(
    mx: Floats,
    my: Floats,
    room: Floats,
    aim: Floats,
    tangents: Floats,
    cuts: Ints,
    node: Floats,
    beta: Floats,
    split: Flags,
) -> tuple[Ints, Floats, Floats]:
    """Fit again where arcs are to be split, with a few good arcs on either side."""
    arcs, points = len(beta), len(mx)
    new_cuts, new_node = np.empty(points, dtype=np.int64), np.empty((points, 2))
    new_beta = np.empty(points)
    count, k = 0, 0
    while k < arcs:
        until = k - 1
        for j in range(k, min(arcs, k + AROUND + 1)):
            if split[j]:
                until = j
        if until < k:
            new_cuts[count], new_beta[count] = cuts[k], beta[k]
            new_node[count, 0], new_node[count, 1] = node[k, 0], node[k, 1]
            count, k = count + 1, k + 1
            continue
        j = until + 1
        while j < arcs and j <= until + 2 * AROUND + 1:
            if split[j]:
                until = j
            j += 1
        end = min(arcs, until + AROUND + 1)
        low, high = cuts[k], cuts[end]
        wx, wy = mx[low : high + 1].copy(), my[low : high + 1].copy()
        wx[0], wy[0], wx[-1], wy[-1] = node[k, 0], node[k, 1], node[end, 0], node[end, 1]
        ends = np.empty(2)
        ends[0] = tangents[0] if k == 0 else direction_at(node, beta, k)
        ends[1] = tangents[1] if end == arcs else direction_at(node, beta, end)
        inner, place, half = fit_window(
            wx, wy, room[low : high + 1].copy(), aim[low : high + 1].copy(), ends, False
        )
        for i in range(len(half)):
            new_cuts[count], new_beta[count] = low + inner[i], half[i]
            new_node[count, 0], new_node[count, 1] = place[i, 0], place[i, 1]
            count += 1
        k = end
    new_cuts[count] = cuts[arcs]
    new_node[count, 0], new_node[count, 1] = node[arcs, 0], node[arcs, 1]
    return new_cuts[: count + 1].copy(), new_node[: count + 1].copy(), new_beta[:count].copy()


@compiled
def settle(
    x: Floats, y: Floats, cuts: Ints, node: Floats, beta: Floats, bad: Flags, tolerance: float
) -> None:
    """Bring nodes beside failing arcs back to the polygon where they left it too far.

    Their other arcs keep their turn and are looked at again.
    """
    arcs = len(beta)
    again = True
    while again:
        again = False
        for k in range(1, arcs):
            if not (bad[k - 1] or bad[k]):
                continue
            i = cuts[k] // 2
            px, py = x[i], y[i]
            if cuts[k] % 2 == 1:
                px, py = (px + x[i + 1]) / 2.0, (py + y[i + 1]) / 2.0
            if size_of(node[k, 0] - px, node[k, 1] - py) <= tolerance:
                continue
            node[k, 0], node[k, 1] = px, py
            for j in (k - 1, k):
                worst = worst_distance(x, y, cuts[j], cuts[j + 1], node, j, beta[j])
                if not bad[j] and not worst <= tolerance:
                    bad[j] = again = True


@compiled
def opened(
    cuts: Ints, node: Floats, beta: Floats, split: Flags, k: int, points: int
) -> tuple[Ints, Floats, Floats, Flags]:
    """A closed run that begins at its node k, as an open one of so many points."""
    arcs, last = len(beta), points - 1
    place, half, which = np.empty((arcs + 1, 2)), np.empty(arcs), split.copy()
    moved = np.empty(arcs + 1, dtype=np.int64)
    for i in range(arcs + 1):
        j = (i + k) % arcs
        moved[i] = (cuts[j] - cuts[k]) % last if i < arcs else last
        place[i, 0], place[i, 1] = node[j, 0], node[j, 1]
        if i < arcs:
            half[i], which[i] = beta[j], split[j]
    return moved, place, half, which


@compiled
def fit_run(
    x: Floats,
    y: Floats,
    edges: tuple[Floats, Floats],
    tangents: Floats,
    closed: bool,
    tolerance: float,
) -> tuple[Ints, Floats, Floats, Flags, int]:
    """Arcs along one smooth run.

    Args:
        x: of its vertices; of a closed one the first again at the end.
        y: the same.
        edges: their lengths, and the turn at every vertex.
        tangents: direction at both ends, NaN at corners.
        closed: the run is a whole ring without a corner.
        tolerance: largest distance.

    Returns:
        Point (twice the vertex) and position of each node, half the turn of each arc, which
        arcs leave the tolerance still, and by how many vertices a closed run was turned on.
    """
    mx, my, room = middle_of(x, y, edges[0], edges[1], closed, tolerance)
    aim = SPREAD * room
    cuts, node, beta = fit_window(mx, my, room, aim, tangents, closed)
    turned = 0
    for trial in range(ROUNDS + 1):
        kink = kinks_of(node, beta, tangents, closed)
        bad, split = faults_of(x, y, cuts, node, beta, kink, tolerance)
        if trial == ROUNDS or not split.any():
            break
        tighten(aim, cuts, split)
        # begin a ring where all is well, so that its first vertex is a point like any other
        k = calmest(cuts, split) if closed else -1
        if k > 0:
            turned, tangents = cuts[k] // 2, np.full(2, direction_at(node, beta, k))
            x, y, _ = turned_to(x, y, x, turned)
            aim = turned_to(aim, aim, aim, cuts[k])[0]
            mx, my, room = turned_to(mx, my, room, cuts[k])
            cuts, node, beta, split = opened(cuts, node, beta, split, k, len(mx))
            closed = False
        if closed:
            cuts, node, beta = fit_window(mx, my, room, aim, tangents, closed)
        else:
            cuts, node, beta = mend(mx, my, room, aim, tangents, cuts, node, beta, split)
    if bad.any():
        settle(x, y, cuts, node, beta, bad, tolerance)
    return cuts, node, beta, bad, turned

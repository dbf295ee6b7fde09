"""One arc in the frame of its chord: its distance from points and edges. Compiled. mm, radians.

The chord lies on the x axis from −c to c, and the arc turns by twice `beta`, counter-clockwise
positive; so its curvature is k = sin(beta)/c. All distances come from

    F(x, y) = k/2·(x² + y² − c²) − y·cos(beta),    distance = 2F / (1 + √(1 + 2kF)),

the signed distance from the whole circle, right of the way positive, which stays exact where
the arc becomes a straight line (k = 0) and grows with F. Derived for this module.
"""

from math import cos, sin, sqrt

from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled

WIDEST = 1.1
"""Largest bulge that is tried: a little more than half a circle."""
TOO_WIDE = 1.9
"""Half the turn, in radians, above which an arc goes round the far side of its circle."""
SPARSE = 5
"""Above so many points every second will do."""


@compiled
def size_of(x: float, y: float) -> float:
    """Length of a vector; lengths of mm need no care for overflow, which `hypot` takes."""
    return sqrt(x * x + y * y)


@compiled
def distance_of(f: float, k: float) -> float:
    """Signed distance from a circle of curvature k, from its implicit function."""
    inside = 1.0 + 2.0 * k * f
    return 2.0 * f / (1.0 + sqrt(inside)) if inside > 0.0 else f


@compiled
def bulge_range(x: Floats, y: Floats, first: int, last: int, room: Floats) -> tuple[float, float]:
    """Bulges of the arcs between two points that pass those between within their room.

    With a = (u² + v² − c²)/(2c) for a point u, v in the frame of the chord, F is
    a·sin(beta) − v·cos(beta): zero where the arc passes the point, and it changes with beta by
    √(a² + v²). A negative room forbids any arc to pass: a node must be there. Of many points
    every second is asked.

    Returns:
        Least and greatest bulge; the first above the second when there is none.
    """
    ax, ay = x[first], y[first]
    chord = size_of(x[last] - ax, y[last] - ay)
    if chord == 0.0:
        return 1.0, -1.0
    ex, ey = (x[last] - ax) / chord, (y[last] - ay) / chord
    low, high = -WIDEST, WIDEST
    sparse = last - first > SPARSE
    for i in range(first + 1, last):
        if room[i] < 0.0:
            return 1.0, -1.0
        if sparse and i % 2 == 1:
            continue
        u = (x[i] - ax) * ex + (y[i] - ay) * ey
        v = (y[i] - ay) * ex - (x[i] - ax) * ey
        a = (u * (u - chord) + v * v) / chord
        slope = sqrt(a * a + v * v)
        if slope == 0.0:
            continue
        # tan(beta/2), which is steeper than beta/2 by 1 + b²
        b = -v / (slope - a) if slope > a else WIDEST
        play = room[i] * (1.0 + b * b) / (2.0 * slope)
        low = max(low, b - play)
        high = min(high, b + play)
        if low > high:
            break
    return low, high


@compiled
def worst_distance(
    x: Floats, y: Floats, first: int, last: int, node: Floats, k: int, beta: float
) -> float:
    """Largest distance between the arc after node k and a stretch of the polygon.

    The stretch runs from point `first` to point `last`: vertex `i` is point 2i, the middle of
    the edge after it 2i + 1. Along an edge the distance from a circle is largest at an end
    or, on the other side of the circle, at the foot of its centre; so this is exact and holds
    in both directions.
    """
    ax, ay = node[k, 0], node[k, 1]
    chord = size_of(node[k + 1, 0] - ax, node[k + 1, 1] - ay)
    if chord == 0.0 or abs(beta) > TOO_WIDE:  # the whole circle may pass near, the arc does not
        return 1e9
    ex, ey = (node[k + 1, 0] - ax) / chord, (node[k + 1, 1] - ay) / chord
    bend, cosine = 2.0 * sin(beta) / chord, cos(beta)
    least = most = u0 = v0 = f0 = 0.0
    p = first
    while p <= last:
        i = p // 2
        px, py = x[i] - ax, y[i] - ay
        if p % 2 == 1:
            px, py = (x[i] + x[i + 1]) / 2.0 - ax, (y[i] + y[i + 1]) / 2.0 - ay
        u, v = px * ex + py * ey, py * ex - px * ey
        f = bend / 2.0 * (u * (u - chord) + v * v) - v * cosine
        least, most = min(least, f), max(most, f)
        if p > first and bend != 0.0:
            du, dv = u - u0, v - v0
            run = bend * (du * du + dv * dv)
            slope = bend * ((u0 - chord / 2.0) * du + v0 * dv) - dv * cosine
            if slope * run < 0.0 and abs(slope) < abs(run):
                foot = f0 - slope * slope / (2.0 * run)
                least, most = min(least, foot), max(most, foot)
        u0, v0, f0 = u, v, f
        # from a middle to the next vertex, from vertex to vertex, and to a middle at the end
        p += 1 if p % 2 == 1 or p == last - 1 else 2
    return max(distance_of(most, bend), -distance_of(least, bend))

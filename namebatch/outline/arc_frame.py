"""One arc in the frame of its chord: its distance from points and edges. Compiled. mm, radians.

The chord lies on the x axis from −c to c, and the arc turns by twice `beta`, counter-clockwise
positive; so its curvature is k = sin(beta)/c. All distances come from

    F(x, y) = k/2·(x² + y² − c²) − y·cos(beta),    distance = 2F / (1 + √(1 + 2kF)),

the signed distance from the whole circle, right of the way positive, which stays exact where
the arc becomes a straight line (k = 0). Derived for this module.
"""

from math import cos, hypot, sin, sqrt

from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled

WIDEST = 1.1
"""Largest bulge that is tried: a little more than half a circle."""


SPARSE = 5
"""Above so many points every second will do."""


@compiled
def distance_of(f: float, k: float) -> float:
    """Signed distance from a circle of curvature k, from its implicit function."""
    inside = 1.0 + 2.0 * k * f
    return 2.0 * f / (1.0 + sqrt(inside)) if inside > 0.0 else f


@compiled
def bulge_through(ax: float, ay: float, bx: float, by: float, px: float, py: float) -> float:
    """Bulge of the arc from A to B through P, by the inscribed angle at P."""
    ux, uy, vx, vy = ax - px, ay - py, bx - px, by - py
    rest = sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy)) - (ux * vx + uy * vy)
    return -(ux * vy - uy * vx) / rest if rest > 0.0 else 0.0


@compiled
def bulge_range(x: Floats, y: Floats, first: int, last: int, room: Floats) -> tuple[float, float]:
    """Bulges of the arcs between two points that pass those between within their room.

    A negative room forbids any arc to pass: a node must be there. Of many points every second
    is asked.

    Returns:
        Least and greatest bulge; the first above the second when there is none.
    """
    ax, ay, bx, by = x[first], y[first], x[last], y[last]
    c = hypot(bx - ax, by - ay) / 2.0
    if c == 0.0:
        return 1.0, -1.0
    ex, ey = (bx - ax) / (2.0 * c), (by - ay) / (2.0 * c)
    mx, my = (ax + bx) / 2.0, (ay + by) / 2.0
    low, high = -WIDEST, WIDEST
    sparse = last - first > SPARSE
    for i in range(first + 1, last):
        if room[i] < 0.0:
            return 1.0, -1.0
        if sparse and i % 2 == 1:
            continue
        b = bulge_through(ax, ay, bx, by, x[i], y[i])
        u = (x[i] - mx) * ex + (y[i] - my) * ey
        v = (y[i] - my) * ex - (x[i] - mx) * ey
        # the distance changes with beta by dF/dbeta, and b = tan(beta / 2)
        q = 1.0 + b * b
        slope = abs((1.0 - b * b) / q * (u * u + v * v - c * c) / (2.0 * c) + v * 2.0 * b / q)
        play = room[i] * q / (2.0 * slope) if slope > 0.0 else 10.0
        low = max(low, b - play)
        high = min(high, b + play)
        if low > high:
            break
    return low, high


@compiled
def worst_distance(
    x: Floats,
    y: Floats,
    first: int,
    last: int,
    ax: float,
    ay: float,
    bx: float,
    by: float,
    beta: float,
) -> float:
    """Largest distance between the arc from A to B and a stretch of the polygon.

    The stretch runs from point `first` to point `last`: vertex `i` is point 2i, the middle of
    the edge after it 2i + 1. Along an edge the distance from a circle is largest at an end
    or, on the other side of the circle, at the foot of its centre; so this is exact and holds
    in both directions.
    """
    c = hypot(bx - ax, by - ay) / 2.0
    if c == 0.0:
        return 1e9
    ex, ey = (bx - ax) / (2.0 * c), (by - ay) / (2.0 * c)
    mx, my = (ax + bx) / 2.0, (ay + by) / 2.0
    k, cosine = sin(beta) / c, cos(beta)
    worst = 0.0
    u0 = v0 = 0.0
    p = first
    while p <= last:
        i = p // 2
        px, py = x[i], y[i]
        if p % 2 == 1:
            px, py = (px + x[i + 1]) / 2.0, (py + y[i + 1]) / 2.0
        u = (px - mx) * ex + (py - my) * ey
        v = (py - my) * ex - (px - mx) * ey
        worst = max(worst, abs(distance_of(k / 2.0 * (u * u + v * v - c * c) - v * cosine, k)))
        if p > first and k != 0.0:
            du, dv = u - u0, v - v0
            run = du * du + dv * dv
            at = -(k * (u0 * du + v0 * dv) - dv * cosine)
            if at * k > 0.0 and at * k < run * k * k:
                t = at / (k * run)
                fu, fv = u0 + t * du, v0 + t * dv
                f = k / 2.0 * (fu * fu + fv * fv - c * c) - fv * cosine
                worst = max(worst, abs(distance_of(f, k)))
        u0, v0 = u, v
        # from a middle to the next vertex, from vertex to vertex, and to a middle at the end
        p += 1 if p % 2 == 1 or p == last - 1 else 2
    return worst

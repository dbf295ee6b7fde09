"""How far arcs and a polygon are from each other, measured afresh from both sides. Compiled."""

from math import hypot

import numpy as np

from namebatch.outline.arc_cross import boxes_of, centre_of, is_on
from namebatch.outline.arrays import Floats
from namebatch.outline.compiled import compiled

FLAT = 1e-9


@compiled
def distance_to(ends: Floats, i: int, bulge: float, px: float, py: float) -> float:
    """Distance of a point from one arc or line."""
    ax, ay, bx, by = ends[i, 0], ends[i, 1], ends[i, 2], ends[i, 3]
    near = min(hypot(px - ax, py - ay), hypot(px - bx, py - by))
    ux, uy = bx - ax, by - ay
    if abs(bulge) < FLAT:
        run = ux * ux + uy * uy
        along = ux * (px - ax) + uy * (py - ay)
        if run > 0.0 and along > 0.0 and along < run:
            return float(abs(ux * (py - ay) - uy * (px - ax)) / run**0.5)
        return near
    cx, cy, radius = centre_of(ends, i, bulge)
    away = hypot(px - cx, py - cy)
    if away == 0.0:
        return radius
    fx, fy = cx + (px - cx) * radius / away, cy + (py - cy) * radius / away
    return min(near, abs(away - radius)) if is_on(ends, i, bulge, fx, fy) else near


@compiled
def farthest_from(ends: Floats, bulges: Floats, px: Floats, py: Floats) -> float:
    """Largest distance of points from the nearest of all arcs.

    Points come in order along the ring, so the arc that was nearest to one is tried first for
    the next, and most others are ruled out by their boxes.
    """
    box = boxes_of(ends, bulges)
    n, last, worst = len(bulges), 0, 0.0
    for p in range(len(px)):
        x, y = px[p], py[p]
        first = last
        best = distance_to(ends, first, bulges[first], x, y)
        for step in range(1, n):
            if best <= worst:
                # it cannot become the farthest any more
                break
            i = first + step if first + step < n else first + step - n
            dx = max(box[i, 0] - x, x - box[i, 2], 0.0)
            dy = max(box[i, 1] - y, y - box[i, 3], 0.0)
            if dx * dx + dy * dy < best * best:
                here = distance_to(ends, i, bulges[i], x, y)
                if here < best:
                    best, last = here, i
        worst = max(worst, best)
    return worst


@compiled
def samples_of(ends: Floats, bulges: Floats, each: int) -> tuple[Floats, Floats]:
    """Points along every arc, `each` of them at even turns, its start the first."""
    n = len(bulges)
    px, py = np.empty(n * each), np.empty(n * each)
    for i in range(n):
        ax, ay, bx, by, b = ends[i, 0], ends[i, 1], ends[i, 2], ends[i, 3], bulges[i]
        quarter = np.arctan(b)
        for s in range(each):
            # P = A + (B − A)·sin(2tθ)/sin(2θ) turned by −2θ(1−t), θ a quarter of the turn
            t = s / each
            if abs(b) < FLAT:
                scale, angle = t, 0.0
            else:
                scale = np.sin(2.0 * quarter * t) / np.sin(2.0 * quarter)
                angle = -2.0 * quarter * (1.0 - t)
            c, d = scale * np.cos(angle), scale * np.sin(angle)
            px[i * each + s] = ax + (bx - ax) * c - (by - ay) * d
            py[i * each + s] = ay + (bx - ax) * d + (by - ay) * c
    return px, py

"""Readers of our own files, written apart from the writers."""

import re
from math import acos, ceil, copysign, cos, hypot, pi, sin, sqrt

from defusedxml.ElementTree import fromstring

SVG = "{http://www.w3.org/2000/svg}"
Ring = list[tuple[float, float]]
Bounds = tuple[float, float, float, float]
CHORD_MM = 0.0002
"""Arcs are read as chords no farther than this from them."""


def svg_rings(data: bytes) -> dict[tuple[str, str], list[Ring]]:
    """(operation group, owner) → rings, y down as written; arcs as fine chords."""
    result: dict[tuple[str, str], list[Ring]] = {}
    for operation in fromstring(data):
        for owner in operation:
            rings = result.setdefault((operation.get("id", ""), owner.get("id", "")), [])
            for path in owner.iter(f"{SVG}path"):
                rings += path_rings(path.get("d", ""))
    return result


def path_rings(d: str) -> list[Ring]:
    """Closed rings of path data with M, L, A and Z only; arcs as fine chords."""
    assert re.fullmatch(r"(M[^MZ]*Z)+", d), d
    rings = []
    for part in re.findall(r"M([^MZ]*)Z", d):
        first, *steps = re.split(r"(?=[LA])", part)
        x, y = (float(value) for value in first.split(","))
        ring = [(x, y)]
        for step in steps:
            values = [float(value) for value in re.split(r"[ ,]+", step[1:].strip())]
            if step[0] == "L":
                ring.append((values[0], values[1]))
            else:
                rx, ry, turn, large, sweep, x, y = values
                assert rx == ry
                assert turn == 0
                ring += arc_points(ring[-1], (x, y), rx, large == 1, sweep == 1)
        if hypot(ring[0][0] - ring[-1][0], ring[0][1] - ring[-1][1]) < 1e-9:
            ring.pop()
        rings.append(ring)
    return rings


def arc_points(
    start: tuple[float, float],
    end: tuple[float, float],
    radius: float,
    large: bool,
    sweep: bool,
) -> Ring:
    """Points after the start up to the end of an SVG arc with equal radii.

    SVG 1.1 (second edition), appendix F.6.5 and F.6.6: centre from the end points, a radius
    too small scaled up.
    """
    (x0, y0), (x1, y1) = start, end
    ux, uy = (x0 - x1) / 2, (y0 - y1) / 2
    half = hypot(ux, uy)
    radius = max(radius, half)
    factor = sqrt(max(radius * radius - half * half, 0.0)) / half
    factor = factor if large != sweep else -factor
    cx, cy = factor * uy + (x0 + x1) / 2, -factor * ux + (y0 + y1) / 2
    ax, ay, bx, by = x0 - cx, y0 - cy, x1 - cx, y1 - cy
    cosine = (ax * bx + ay * by) / (radius * radius)
    turn = copysign(acos(max(-1.0, min(1.0, cosine))), ax * by - ay * bx)
    if sweep and turn < 0:
        turn += 2 * pi
    if not sweep and turn > 0:
        turn -= 2 * pi
    count = max(1, ceil(abs(turn) / sqrt(8 * CHORD_MM / max(radius, CHORD_MM))))
    points = []
    for i in range(1, count):
        c, s = cos(turn * i / count), sin(turn * i / count)
        points.append((cx + ax * c - ay * s, cy + ax * s + ay * c))
    return [*points, end]


def svg_bounds(data: bytes, height: float) -> dict[tuple[str, str], Bounds]:
    """(operation group, owner) → bounds, y up again."""
    result = {}
    for key, rings in svg_rings(data).items():
        xs = [x for ring in rings for x, _ in ring]
        ys = [height - y for ring in rings for _, y in ring]
        result[key] = (min(xs), min(ys), max(xs), max(ys))
    return result

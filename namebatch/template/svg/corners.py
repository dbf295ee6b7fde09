"""How pointed the corners of a path are: what decides between a mitre and a bevel."""

from itertools import pairwise
from math import hypot, inf, sqrt

from namebatch.curves import Path, Point

MITRE_LIMIT = 4.0
"""SVG's own limit (SVG 2, 13.5.5), and the one that later rooms draw with."""


def mitre_ratios(path: Path) -> list[float]:
    """For each corner, the length of its mitre over the line's width (SVG 2, 13.5.5).

    That is 1 / sin(θ/2) with θ the angle between the two sides; a smooth join has 1.
    """
    ratios: list[float] = []
    sides: list[tuple[Point, Point]] = []
    pen = start = (0.0, 0.0)
    for segment in path:
        if segment.verb == "M":
            ratios += _corners(sides, closed=False)
            sides, pen = [], segment.points[0]
            start = pen
        elif segment.verb == "Z":
            ratios += _corners([*sides, *_directions((pen, start))], closed=True)
            sides, pen = [], start
        else:
            sides += _directions((pen, *segment.points))
            pen = segment.points[-1]
    return ratios + _corners(sides, closed=False)


def _directions(points: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    """The directions in which a segment begins and ends; none for one without length."""
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points) if a != b]
    units = [(x / hypot(x, y), y / hypot(x, y)) for x, y in steps]
    return [(units[0], units[-1])] if units else []


def _corners(sides: list[tuple[Point, Point]], closed: bool) -> list[float]:
    """The ratio at each join of neighbouring segments."""
    pairs = list(pairwise(sides))
    if closed and len(sides) > 1:
        pairs.append((sides[-1], sides[0]))
    found = []
    for (_, come), (go, _) in pairs:
        # sin(θ/2) is the cosine of half the turn.
        half = sqrt(max(0.0, (1 + come[0] * go[0] + come[1] * go[1]) / 2))
        found.append(1 / half if half > 1e-9 else inf)
    return found

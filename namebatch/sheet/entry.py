"""Where the cutter enters a closed line: on a flat and stout place of it. mm.

How flat and stout a place is, is told by the largest disc that touches the line there from one
side without crossing any line of the piece (the touching balls of Ma, Bae & Choi 2012): the disc
on the material's side says how wide the material is, and at a corner either disc is small.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, cos, hypot, sin, tan

import numpy as np
import shapely
from shapely import LinearRing

from namebatch.outline.arc_shape import along_ring
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.compiled import compiled
from namebatch.sheet.lines import Line

REACH_MM = 3.0
"""A place with discs of this radius is as good as any."""
GOOD_SHARE = 0.75
"""Places with so much of the best place's radius may be entered."""
PLACES = 24
"""So many places of a line are looked at."""
STEP_MM = 0.5
"""The lines are looked at in steps no longer than this."""
CHORD_MM = 0.002
FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class Entry:
    """A place on a closed line: a stretch of it and how far along, 0 to 1 of its angle or length.

    A share of 0 is the node at which the stretch begins.
    """

    stretch: int
    share: float


def entries_of(lines: Sequence[Line]) -> tuple[tuple[Entry, ...], ...]:
    """The places at which each line of a piece may be entered.

    Args:
        lines: all lines of the piece that are cut with one another.

    Returns:
        For each line at least one place: those that are about as flat and stout as its best.
    """
    around = np.vstack([_looked_at(line) for line in lines])
    return tuple(_best(line, around) for line in lines)


def entry_points(line: Line, entries: Sequence[Entry]) -> Floats:
    """Where entries lie, about the line's own origin, two columns."""
    return _places_on(line, entries)[:, :2]


def entered(line: Line, entry: Entry) -> Line:
    """The same line, beginning at an entry; a stretch that is entered midway becomes two.

    An arc of bulge b turns by 4·atan(b), and each of its two parts by its share of that: the
    parts are exact.
    """
    k, t = entry.stretch, entry.share
    points = np.concatenate([line.points[k:], line.points[:k]])
    bulges = np.concatenate([line.bulges[k:], line.bulges[:k]])
    if t == 0.0:
        return Line(points, bulges, line.deviation_mm)
    quarter = atan(bulges[0])
    points = np.vstack([entry_points(line, [entry]), points[1:], points[:1]])
    first, last = tan(quarter * (1.0 - t)), tan(quarter * t)
    return Line(points, np.array([first, *bulges[1:], last]), line.deviation_mm)


def _looked_at(line: Line) -> Floats:
    """Points along a line, close to one another."""
    ring = LinearRing(along_ring(line.points, line.bulges, CHORD_MM))
    along: Floats = shapely.get_coordinates(shapely.segmentize(ring, STEP_MM))
    return along


def _best(line: Line, around: Floats) -> tuple[Entry, ...]:
    entries = _candidates(line)
    places = _places_on(line, entries)
    radius = touching_discs(places, around, REACH_MM)
    good = radius >= GOOD_SHARE * radius.max()
    return tuple(entry for entry, fine in zip(entries, good, strict=True) if fine)


def _candidates(line: Line) -> list[Entry]:
    """Places spread over the longest stretches; a circle keeps its two arcs whole."""
    if len(line.points) == 2 and np.all(np.abs(line.bulges) == 1.0):
        return [Entry(0, 0.0), Entry(1, 0.0)]
    way = np.roll(line.points, -1, axis=0) - line.points
    turn = np.abs(2.0 * np.arctan(line.bulges))
    length = np.hypot(way[:, 0], way[:, 1]) / np.sinc(turn / np.pi)
    spacing = max(length.sum() / PLACES, STEP_MM)
    found: list[Entry] = []
    for k in np.argsort(-length, kind="stable").tolist():
        count = max(1, round(length[k] / spacing))
        found += [Entry(k, (i + 0.5) / count) for i in range(count)]
        if len(found) >= PLACES:
            break
    return found


def _places_on(line: Line, entries: Sequence[Entry]) -> Floats:
    stretches = np.array([entry.stretch for entry in entries], dtype=np.int64)
    shares = np.array([entry.share for entry in entries], dtype=float)
    points = np.ascontiguousarray(line.points, dtype=float)
    places: Floats = _places(points, np.ascontiguousarray(line.bulges), stretches, shares)
    return places


@compiled
def _places(points: Floats, bulges: Floats, stretches: Ints, shares: Floats) -> Floats:
    """Points and directions at entries of a line, four columns."""
    found = np.empty((len(shares), 4))
    for n in range(len(shares)):
        k, t = stretches[n], shares[n]
        after = k + 1 if k + 1 < len(points) else 0
        x, y = points[k]
        u, v = points[after, 0] - x, points[after, 1] - y
        half = 2.0 * atan(bulges[k])
        angle = half * (t - 1.0)
        scale = sin(half * t) / sin(half) if abs(half) > FLAT else t
        c, s = scale * cos(angle), scale * sin(angle)
        # the direction turns from half the angle on one side of the chord to half on the other
        lean = half * (2.0 * t - 1.0)
        size = hypot(u, v)
        if size == 0.0:
            size = 1.0
        found[n, 0], found[n, 1] = x + u * c - v * s, y + u * s + v * c
        found[n, 2] = (u * cos(lean) - v * sin(lean)) / size
        found[n, 3] = (u * sin(lean) + v * cos(lean)) / size
    return found


@compiled
def touching_discs(places: Floats, around: Floats, reach: float) -> Floats:
    """For each place the smaller radius of the two discs that touch the line there.

    A disc that touches at p with the normal n and passes through q has the radius
    |q − p|² / (2·n·(q − p)).

    Args:
        places: point and direction of the line, four columns.
        around: points along all lines.
        reach: radii are no larger than this.
    """
    found = np.empty(len(places))
    for k in range(len(places)):
        x, y, u, v = places[k]
        best = reach
        for m in range(len(around)):
            p, q = around[m, 0] - x, around[m, 1] - y
            size = p * p + q * q
            off = abs(u * q - v * p)
            # nearer than a tenth of a millimetre a point says more of rounding than of the line
            if size > 0.01 and size < 2.0 * best * off:
                best = size / (2.0 * off)
        found[k] = best
    return found

"""Bars that an island may have on each of its sides. Lengths in mm."""

from dataclasses import dataclass

import numpy as np
import shapely

from namebatch.outline.bars import Ground, offsets, shortest
from namebatch.outline.cores import Cores
from namebatch.outline.scan import Floats, Frame, Ints

STEP_MM = 0.3
OFF_CENTRE = 0.3
"""Cost of a millimetre away from the middle of an island, beside the length of letter covered."""
POCKET = 1.5
"""A bar to a corner of the plate that itself hangs by a narrow neck costs this many times."""
STRANGER_MM = 4.0
"""What it costs to touch a letter or a mark beside the one that the island lies in."""
ASKEW, ASKEW_MM = 2.0, 5.0
"""What a bar in any direction costs, as a factor and beside it."""


@dataclass(frozen=True, slots=True)
class Ties:
    """Bars, one a row.

    Attributes:
        ends: x, y on the island and x, y on what it is tied to.
        part: the island.
        to_core, to_part: what it is tied to.
        at: where it lies across its direction.
        cost: in millimetres of letter that it covers.
    """

    ends: Floats
    part: Ints
    to_core: Ints
    to_part: Ints
    at: Floats
    cost: Floats

    def take(self, which: Ints) -> "Ties":
        """Some of them."""
        return Ties(
            self.ends[which],
            self.part[which],
            self.to_core[which],
            self.to_part[which],
            self.at[which],
            self.cost[which],
        )

    def of(self, part: int) -> "Ties":
        """Those of one island."""
        return self.take(np.flatnonzero(self.part == part))


def several(lots: list[Ties]) -> Ties:
    """Several lots as one."""
    return Ties(
        np.concatenate([ties.ends for ties in lots]).reshape(-1, 4),
        np.concatenate([ties.part for ties in lots]),
        np.concatenate([ties.to_core for ties in lots]),
        np.concatenate([ties.to_part for ties in lots]),
        np.concatenate([ties.at for ties in lots]),
        np.concatenate([ties.cost for ties in lots]),
    )


def main_core(cores: Cores) -> int:
    """The largest core of the plate, which is part 0."""
    return int(np.flatnonzero(cores.part == 0)[0])


def sides_of(ground: Ground, cores: Cores, frame: Frame) -> tuple[Ties, Ties]:
    """Bars below and above every island, along one direction."""
    low, high = ground.extents(frame)
    loose = np.flatnonzero(cores.part > 0)
    lines = offsets(low[loose], high[loose], STEP_MM)
    spans, plate, _ = ground.edges.scan(frame, lines)
    part = cores.part[spans.owner]
    middle = _middles(low, high, cores)
    key = part * (len(lines) + 1) + spans.line
    first = np.unique(key, return_index=True)[1]
    last = len(key) - 1 - np.unique(key[::-1], return_index=True)[1]
    found: list[Ties] = []
    for span, step in ((first, -1), (last, 1)):
        inside = (part[span] > 0) & (span + step >= 0) & (span + step < len(key))
        span = span[inside]
        span = span[spans.line[span + step] == spans.line[span]]
        to, line = span + step, spans.line[span]
        at = lines[line]
        start = spans.low[span] if step < 0 else spans.high[span]
        end = spans.high[to] if step < 0 else spans.low[to]
        under = plate.covered(line, np.minimum(start, end), np.maximum(start, end))
        cost = ground.price(np.abs(end - start), under, np.zeros(len(line)))
        ends = np.hstack([frame.back(at, start), frame.back(at, end)])
        cost = cost + OFF_CENTRE * np.abs(at - middle[part[span]])
        cost = cost + STRANGER_MM * _strangers(cores, ends, ground.half_mm)
        pocket = (part[to] == 0) & (spans.owner[to] != main_core(cores))
        cost = np.asarray(np.where(pocket, POCKET * cost, cost), dtype=np.float64).round(6)
        ties = Ties(ends, part[span], spans.owner[to], part[to], at, cost)
        found.append(ties.take(np.flatnonzero(ground.clear(ties.ends))))
    return found[0], found[1]


def _strangers(cores: Cores, ends: Floats, half_mm: float) -> Floats:
    """How many separate letters or marks each bar touches beside its own."""
    openings = shapely.polygons(np.array(cores.parts[0].interiors, dtype=object))
    lines = shapely.linestrings(ends.reshape(-1, 2, 2))
    bar, _ = shapely.STRtree(openings).query(lines, "dwithin", distance=half_mm)
    touched = np.bincount(bar, minlength=len(lines)).astype(np.float64)
    return np.maximum(touched - 1, 0.0)


def askew(ground: Ground, cores: Cores) -> Ties:
    """The shortest bars from every island to its neighbours, in any direction."""
    bars = shortest(ground, np.flatnonzero(cores.part > 0))
    turned = cores.part[bars.a] == 0
    a, b = np.where(turned, bars.b, bars.a), np.where(turned, bars.a, bars.b)
    ends = np.where(turned[:, None], np.roll(bars.ends, 2, axis=1), bars.ends)
    cost = np.round(ASKEW * bars.cost + ASKEW_MM, 6)
    ties = Ties(ends, cores.part[a], b, cores.part[b], np.zeros(len(a)), cost)
    apart = ties.part != ties.to_part
    return ties.take(np.flatnonzero(apart & ground.clear(ties.ends)))


def _middles(low: Floats, high: Floats, cores: Cores) -> Floats:
    """Middle of each part across, from its cores."""
    least = np.full(len(cores.parts), np.inf)
    most = np.full(len(cores.parts), -np.inf)
    np.minimum.at(least, cores.part, low)
    np.maximum.at(most, cores.part, high)
    return np.asarray((least + most) / 2)

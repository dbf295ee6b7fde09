"""Islands of an open outline tied to the plate by bars across the letters. Lengths in mm.

Stencil makers' custom: the bars of a name run alike, upright, two to an island and in one line
through its middle.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.bars import Ground, add_bars, bridges_of, ground_of
from namebatch.outline.belong import lean_of
from namebatch.outline.cores import Cores, Polygons, areas_of, cores_of
from namebatch.outline.join import Joined
from namebatch.outline.model import Letter
from namebatch.outline.scan import Floats, Frame, Ints
from namebatch.outline.ties import Ties, askew, main_core, several, sides_of

OUT_OF_LINE = 0.6
"""Cost of a millimetre between the lines of an island's two bars."""
LEVEL_WORSE = 1.8
"""Level bars are taken for a name only if upright ones cost this many times as much."""
LEANING_WORSE = 1.05
OTHER_WAY = 4.0
"""Cost of bars that run otherwise than those of the other islands."""
NOT_FACING = 2.0
"""Cost of two bars on sides that do not face each other, beside that."""
NONE = 30.0
"""Cost of an island without a bar."""

Sides = tuple[Ties, Ties]
Plan = tuple[float, list[Ties]]


def tie_islands(
    plate: Polygon | MultiPolygon,
    base: Polygon,
    width_mm: float,
    letters: Sequence[Letter],
    keep_open: MultiPolygon,
) -> Joined:
    """Tie what a cut-through name would let fall out.

    Every island gets two bars on opposite sides, in one line through its middle where that
    goes; an island that is smaller than a bar gets one. Islands that cannot be tied stay apart.

    Args:
        plate: the base without the letters.
        base: the base.
        width_mm: no bar is narrower.
        letters: ink of each letter.
        keep_open: holes of the template, cut out of the plate already.
    """
    parts = areas_of(plate)
    if len(parts) <= 1:
        return Joined(parts[0] if len(parts) else plate, ())
    cores = _plate_first(cores_of(plate, width_mm), base)
    ground = ground_of(cores, keep_open, width_mm / 2)
    rows = _rows(ground, cores, lean_of(letters))
    bridges = bridges_of(rows, width_mm)
    shape = add_bars(plate, [bar.shape for bar in bridges])
    tied = areas_of(shape)
    return Joined(tied[0] if len(tied) == 1 else shape, bridges)


def plate_index(parts: Polygons, base: Polygon) -> int:
    """Which part is the plate itself: the one that reaches the edge of the base."""
    return int(np.argmax(shapely.dwithin(shapely.get_exterior_ring(parts), base.exterior, 1e-6)))


def _plate_first(cores: Cores, base: Polygon) -> Cores:
    """The same, with the plate itself as the first part."""
    main = plate_index(cores.parts, base)
    order = np.array([main, *(i for i in range(len(cores.parts)) if i != main)])
    return Cores(cores.parts[order], cores.cores, np.argsort(order)[cores.part], cores.seeded)


def _rows(ground: Ground, cores: Cores, lean: float) -> Floats:
    """Middle lines of the bars that are chosen, each once."""
    frames = [(Frame(0.0), 1.0), (Frame(90.0), LEVEL_WORSE)]
    frames += [(Frame(lean), LEANING_WORSE)] if lean else []
    sides = [sides_of(ground, cores, frame) for frame, _ in frames]
    islands = np.arange(1, len(cores.parts))
    areas = shapely.area(cores.parts)
    order = sorted(islands.tolist(), key=lambda part: float(-areas[part]))
    small = {int(part) for part in islands if cores.seeded[cores.part == part].all()}
    lots = {part: [(below.of(part), above.of(part)) for below, above in sides] for part in order}
    plans = [_plan(index, lots, small) for index in range(len(frames))]
    worse = [factor * plan[0] for (_, factor), plan in zip(frames, plans, strict=True)]
    none = sides[0][0].of(0)  # the plate itself has no ties
    ties = several([none, *plans[int(np.argmin(worse))][1]])
    ties = several([ties, *_strays(ground, cores, ties, sides)])
    seen: dict[tuple[float, ...], Floats] = {}
    for ends in ties.ends:
        back = np.roll(ends, 2)
        seen.setdefault(min(tuple(ends.tolist()), tuple(back.tolist())), ends)
    return np.array(list(seen.values())).reshape(-1, 4)


def _plan(way: int, lots: Mapping[int, Sequence[Sides]], small: set[int]) -> Plan:
    """Bars for all islands, along one direction where they can, and what they cost.

    Args:
        way: index of the direction.
        lots: island → what it may have in each direction.
        small: islands that get one bar.
    """
    chosen: list[Ties] = []
    total = 0.0
    for part, lot in lots.items():
        below, above = (_held(side, chosen, part) for side in lot[way])
        one = part in small
        best = min(_one(below), _one(above), key=_price) if one else _two(below, above)
        least = sorted(float(side.cost.min()) for pair in lot for side in pair if len(side.cost))
        if best[0] > OTHER_WAY + sum(least[: 1 if one else 2]):
            best = min(best, _otherwise(way, lot, one), key=_price)
        total += best[0]
        chosen += best[1]
    return total, chosen


def _otherwise(way: int, lot: Sequence[Sides], small: bool) -> Plan:
    """Bars of one island that do not run as the others of the name."""
    singles = [one for one in (_one(side) for pair in lot for side in pair) if one[1]]
    options = [(cost + (0 if small else NONE / 2), ties) for cost, ties in singles]
    if not small:
        options += [_two(*pair) for i, pair in enumerate(lot) if i != way]
        options += [(a[0] + b[0] + NOT_FACING, a[1] + b[1]) for a, b in combinations(singles, 2)]
    cost, ties = min((o for o in options if o[1]), key=_price, default=(NONE, []))
    return cost + OTHER_WAY, ties


def _price(plan: Plan) -> float:
    return plan[0] if plan[1] else plan[0] + NONE


def _held(side: Ties, chosen: Sequence[Ties], part: int) -> Ties:
    """A side, narrowed to the bar that an earlier island has put there; it costs no more."""
    for tie in chosen:
        if tie.to_part[0] == part:
            same = (side.ends == np.roll(tie.ends[0], 2)).all(axis=1) & (
                side.to_part == tie.part[0]
            )
            if same.any():
                kept = side.take(np.flatnonzero(same)[:1])
                return Ties(kept.ends, kept.part, kept.to_core, kept.to_part, kept.at, np.zeros(1))
    return side


def _two(below: Ties, above: Ties) -> Plan:
    """The best two opposite bars; none if one of them is lacking."""
    if not len(below.cost) or not len(above.cost):
        return NONE, []
    apart = np.abs(below.at[:, None] - above.at[None, :])
    cost = below.cost[:, None] + above.cost[None, :] + OUT_OF_LINE * apart
    i, j = np.unravel_index(int(np.argmin(np.round(cost, 6))), cost.shape)
    return float(cost[i, j]), [below.take(np.array([i])), above.take(np.array([j]))]


def _one(side: Ties) -> Plan:
    """The cheapest single bar."""
    if not len(side.cost):
        return NONE, []
    best = int(np.argmin(side.cost))
    return float(side.cost[best]), [side.take(np.array([best]))]


def _strays(ground: Ground, cores: Cores, ties: Ties, sides: Sequence[Sides]) -> list[Ties]:
    """Bars for islands that have so far been tied only to each other or to a pocket."""
    group = np.where(cores.part > 0, cores.part, -1 - np.arange(len(cores.part)))
    first = np.unique(cores.part, return_index=True)[1]
    for part, to in zip(ties.part, ties.to_core, strict=True):
        group[group == group[first[part]]] = group[to]
    main = main_core(cores)
    if (group[cores.part > 0] == group[main]).all():
        return []
    options = several([*(side for pair in sides for side in pair), askew(ground, cores)])
    options = options.take(np.lexsort((*options.ends.T, options.cost)))
    added: list[Ties] = []
    while True:
        one, other = group[first[options.part]], group[options.to_core]
        fit: Ints = np.flatnonzero((one != other) & (one != group[main]))
        if not len(fit):
            return added
        added.append(options.take(fit[:1]))
        group[group == one[fit[0]]] = other[fit[0]]

"""Which bars are taken: priced by direction and by letter, then the cheapest tree. mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from namebatch.outline.bars import Bars, Ground, along, shortest, together
from namebatch.outline.belong import STEEPEST_DEG, Belonging, belonging, lean_of
from namebatch.outline.level import level_bars
from namebatch.outline.model import Letter
from namebatch.outline.scan import Floats, Frame, Ints

STEP_MM = 0.4
EACH = 0.2
"""Every bar costs this much for being there."""
MARK_ASTRAY = 2.2
"""A mark's bar that does not run as the others do costs this many times as much."""
LETTER_ASTRAY = 3.0
"""The same for a bar between letters, which should be level,"""
LETTER_UPRIGHT = 1.6
"""and for one that is upright,"""
LETTER_OVER = 3.0
"""and for an upright one from letter to letter, which would add a stem to one of them,"""
OFF_LINE, OFF_LINE_MM = 1.5, 0.8
"""and, as a factor and beside it, for one that is not at the height of the others."""
OVER_MARKS = 2.5
"""Letters are joined to each other over their marks only at this price."""
UPRIGHT_BIAS = 1.05
"""Upright bars must be better than those along a slant by this factor,"""
NEAREST_BIAS = 1.3, 1.8
"""those along another direction by this in a slanted face and in an upright one."""
NEAR_HOME = 3.0
"""A mark's bar to its letter that costs no more than so many widths is not compared."""
SAME_DEG = 3.0
NO_BAR = 50.0
"""Cost where a mark finds no bar at all."""
UPRIGHT, LEVEL = 0.0, 90.0


@dataclass(frozen=True, slots=True)
class Choice:
    """Bars to choose from.

    Attributes:
        bars: the bars, priced.
        at_home: which tie a mark to its own letter.
        is_mark: which cores are marks.
    """

    bars: Bars
    at_home: npt.NDArray[np.bool_]
    is_mark: npt.NDArray[np.bool_]


def candidates(ground: Ground, letters: Sequence[Letter], slant: float | None) -> Choice:
    """Bars between parts in every direction that may be used, priced."""
    loose = np.flatnonzero(ground.part > 0)
    owners = belonging(letters, ground.cores)
    is_mark = owners.mark >= 0
    leans = [(UPRIGHT, 1.0)]
    if is_mark.any():
        lean = lean_of(letters) if slant is None else slant
        leans = _apart([(lean, 1.0), (UPRIGHT, UPRIGHT_BIAS)])
    lots = [along(ground, Frame(lean), loose, STEP_MM, onto_strokes=True) for lean, _ in leans]
    if is_mark[loose].all():
        choice = _priced(ground, owners, lots, leans)
        if _all_near_home(choice, loose, ground.half_mm):
            return choice
    free = shortest(ground, loose)
    if is_mark.any():
        worse = NEAREST_BIAS[leans[0][0] == UPRIGHT]
        tried = _apart([*leans, *((angle, worse) for angle in _lean_of_marks(free, is_mark))])
        lots += [
            along(ground, Frame(lean), loose, STEP_MM, onto_strokes=True)
            for lean, _ in tried[len(leans) :]
        ]
        leans = tried
    # bars between letters lie near the line that the letters stand on
    aim = np.where(is_mark, np.nan, -(owners.baseline + 2 * ground.half_mm))
    level = along(ground, Frame(LEVEL), loose, STEP_MM, aim)
    in_line = level_bars(ground, owners, aim, lambda cost: OFF_LINE * cost + OFF_LINE_MM)
    return _priced(ground, owners, [*lots, in_line, level, free], leans)


def _priced(
    ground: Ground,
    owners: Belonging,
    lots: Sequence[Bars],
    leans: Sequence[tuple[float, float]],
) -> Choice:
    """Bars at their price, those of marks in one direction only.

    Args:
        ground: what they are laid over.
        owners: whose mark each core is.
        lots: bars along each of the directions; then, if any, those at one height, other
            level ones and free ones.
        leans: the directions, and the factor by which each must be better than the first.
    """
    is_mark = owners.mark >= 0
    bars = together(lots)
    way = np.repeat(np.arange(len(lots)), [len(lot.cost) for lot in lots]) - len(leans)
    keep = np.flatnonzero(ground.part[bars.a] != ground.part[bars.b])
    keep = keep[ground.clear(bars.ends[keep])]
    bars, way = bars.take(keep), way[keep]
    cost, at_home = owners.price(bars, ground.half_mm)
    marked = is_mark[bars.a] | is_mark[bars.b]
    off, off_mm = (OFF_LINE, OFF_LINE_MM) if (way == 0).any() else (1.0, 0.0)
    kind = np.clip(way, -1, 2) + 1
    of_letters = np.choose(kind, [LETTER_UPRIGHT, 1.0, off, LETTER_ASTRAY])
    over = ~marked & (way < 0)
    of_letters[over] = np.where(
        owners.from_ink_to_ink(bars.take(over)), LETTER_OVER, LETTER_UPRIGHT
    )
    factor = np.where(marked, np.where(way < 0, 1.0, MARK_ASTRAY), of_letters)
    beside = np.where(marked | (way == 0), 0.0, off_mm)
    bars = bars.priced((cost + EACH) * factor + beside)
    allowed = [(way >= 0) | (way + len(leans) == index) for index in range(len(leans))]
    totals = [
        bias * _marks_cost(bars, is_mark, which)
        for (_, bias), which in zip(leans, allowed, strict=True)
    ]
    best = allowed[int(np.argmin(totals))]
    return Choice(bars.take(best), at_home[best], is_mark)


def _all_near_home(choice: Choice, loose: Ints, half_mm: float) -> bool:
    """True if every mark has a short bar to its letter, so that no other need be sought."""
    bars, home = choice.bars, choice.at_home
    least = np.full(len(choice.is_mark), np.inf)
    for core in (bars.a, bars.b):
        np.minimum.at(least, core[home], bars.cost[home])
    return bool((least[loose] <= NEAR_HOME * 2 * half_mm).all())


def _apart(leans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Directions that differ enough to be tried."""
    kept: list[tuple[float, float]] = []
    for lean in leans:
        if all(abs(lean[0] - other) > SAME_DEG for other, _ in kept):
            kept.append(lean)
    return kept


def _lean_of_marks(free: Bars, is_mark: npt.NDArray[np.bool_]) -> list[float]:
    """The middle one of the directions in which marks are nearest to something."""
    angles: list[float] = []
    for core in np.flatnonzero(is_mark):
        of = np.flatnonzero((free.a == core) | (free.b == core))
        if len(of):
            x0, y0, x1, y1 = free.ends[of[np.argmin(free.cost[of])]]
            turn = 1.0 if y1 >= y0 else -1.0
            angles.append(float(np.degrees(np.arctan2(turn * (x1 - x0), turn * (y1 - y0)))))
    angles = sorted(angle for angle in angles if abs(angle) <= STEEPEST_DEG)
    return [round(angles[len(angles) // 2])] if angles else []


def _marks_cost(
    bars: Bars, is_mark: npt.NDArray[np.bool_], allowed: npt.NDArray[np.bool_]
) -> float:
    """What it costs to tie every mark with the bars that are allowed."""
    least = np.full(len(is_mark), NO_BAR)
    for core in (bars.a, bars.b):
        np.minimum.at(least, core[allowed], bars.cost[allowed])
    return float(least[is_mark].sum())


def tree(choice: Choice, group: Ints) -> Floats:
    """The cheapest bars that join all groups (Kruskal), as rows of end points.

    First marks are tied to their letters, then letters to each other and to the base.
    """
    bars, is_mark = choice.bars, choice.is_mark
    group = group.copy()
    stands = np.zeros(len(group), dtype=bool)  # groups with more in them than marks
    stands[group[~is_mark]] = True
    chosen: list[int] = []

    def take(order: Ints, marks_only: bool) -> None:
        for index in order:
            one, other = group[bars.a[index]], group[bars.b[index]]
            if one != other and not (marks_only and stands[one] and stands[other]):
                group[group == other] = one
                stands[one] |= stands[other]
                chosen.append(int(index))

    keys = (*bars.ends.T, bars.b, bars.a)
    homeward = np.lexsort((*keys, np.round(bars.cost, 6)))
    take(homeward[_worth_it(choice)[homeward]], True)
    over = np.where(is_mark[bars.a] | is_mark[bars.b], OVER_MARKS, 1.0)
    take(np.lexsort((*keys, np.round(bars.cost * over, 6))), False)
    return bars.ends[np.array(chosen, dtype=np.intp)]


def _worth_it(choice: Choice) -> npt.NDArray[np.bool_]:
    """Bars from a mark to its letter that are no dearer than all its others."""
    bars, away = choice.bars, ~choice.at_home
    others = np.full(len(choice.is_mark), np.inf)
    for core in (bars.a, bars.b):
        np.minimum.at(others, core[away], bars.cost[away])
    others[~choice.is_mark] = np.inf
    return np.asarray(choice.at_home & (bars.cost <= np.minimum(others[bars.a], others[bars.b])))

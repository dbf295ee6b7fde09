"""Bars between the letters of a name at one height, where that costs little. Lengths in mm."""

from collections.abc import Callable

import numpy as np

from namebatch.outline.bars import Bars, Ground, on_lines
from namebatch.outline.belong import Belonging
from namebatch.outline.scan import Floats, Frame, Ints

LEVEL = Frame(90.0)
STEP_MM = 0.5
MOST = 40
"""Heights that are tried."""
HIGH = 0.5
"""Cost of a millimetre above the middle of the letters: bars up there change what one reads."""


def level_bars(
    ground: Ground, owners: Belonging, aim: Floats, elsewhere: Callable[[Floats], Floats]
) -> Bars:
    """Level bars between letters, all at the height that serves the name best.

    Args:
        ground: what they are laid over.
        owners: which cores are marks; these are left out.
        aim: where across level bars to each core should lie, as for `along`.
        elsewhere: what a bar at another height costs, from its own cost.

    Returns:
        None of them if fewer than two bars are needed.
    """
    letters = owners.mark < 0
    parts = np.unique(ground.part[letters])
    if len(parts) < 3:
        return _none()
    low, high = ground.extents(LEVEL)
    number = int(np.clip((high[letters].max() - low[letters].min()) / STEP_MM, 2, MOST))
    spread = np.linspace(low[letters].min(), high[letters].max(), number + 2)[1:-1]
    small = letters & (high - low < STEP_MM)  # full stops: a line must run through their middle
    lines = np.unique(np.concatenate([spread, (low + high)[small] / 2]))
    bars = on_lines(ground, LEVEL, lines, aim, onto_strokes=True)
    apart = ground.part[bars.a] != ground.part[bars.b]
    fit = np.flatnonzero(letters[bars.a] & letters[bars.b] & apart & ground.clear(bars.ends))
    bars = bars.take(fit)
    if not len(fit):
        return bars
    line = np.abs(lines[None, :] + bars.ends[:, 1, None]).argmin(axis=1)
    middle = (owners.baseline - float(np.median(low[letters]))) / 2
    higher = bars.priced(bars.cost + HIGH * np.maximum(bars.ends[:, 1] - middle, 0.0))
    return bars.take(np.flatnonzero(line == _best_line(ground, higher, line, elsewhere)))


def _best_line(
    ground: Ground, bars: Bars, line: Ints, elsewhere: Callable[[Floats], Floats]
) -> int:
    """The line on which the joins that a name needs cost least, some of them elsewhere."""
    one, other = ground.part[bars.a], ground.part[bars.b]
    key = np.minimum(one, other) * (1 << 20) + np.maximum(one, other)
    pairs, pair = np.unique(key, return_inverse=True)
    cost = np.full((len(pairs), int(line.max()) + 1), np.inf)
    np.minimum.at(cost, (pair, line), bars.cost)
    least = cost.min(axis=1)
    needed = _needed(pairs >> 20, pairs & ((1 << 20) - 1), least)
    totals = np.minimum(cost, elsewhere(least)[:, None])[needed].sum(axis=0)
    return int(np.argmin(np.round(totals, 6)))


def _needed(one: Ints, other: Ints, cost: Floats) -> list[int]:
    """The cheapest pairs that join all parts (Kruskal)."""
    group = np.arange(int(max(one.max(), other.max())) + 1)
    kept: list[int] = []
    for index in np.lexsort((other, one, np.round(cost, 6))).tolist():
        a, b = group[one[index]], group[other[index]]
        if a != b:
            group[group == b] = a
            kept.append(index)
    return kept


def _none() -> Bars:
    nothing = np.zeros(0, dtype=np.intp)
    return Bars(nothing, nothing, np.zeros((0, 4)), np.zeros(0))

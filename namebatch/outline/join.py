"""Loose parts of a welded outline become one: bars between cores. Lengths in mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.bars import (
    HOLE_MARGIN_MM,
    Bars,
    Ground,
    add_bars,
    along,
    bridges_of,
    ground_of,
    shortest,
    together,
)
from namebatch.outline.belong import STEEPEST_DEG, belonging, lean_of
from namebatch.outline.cores import (
    ERODE_MARGIN_MM,
    VERIFY_MARGIN_MM,
    Cores,
    areas_of,
    cores_of,
)
from namebatch.outline.links import links, thickened
from namebatch.outline.model import Bridge, Letter
from namebatch.outline.scan import Floats, Frame, Ints

ROUNDS = 4
STEP_MM = 0.4
EACH = 0.2
"""Every bar costs this much for being there."""
MARK_ASTRAY = 2.2
"""A mark's bar that does not run as the others do costs this many times as much."""
LETTER_ASTRAY = 3.0
"""The same for a bar between letters, which should be level,"""
LETTER_UPRIGHT = 1.6
"""and for one that is upright."""
OVER_MARKS = 2.5
"""Letters are joined to each other over their marks only at this price."""
UPRIGHT_BIAS = 1.05
"""Upright bars must be better than those along a slant by this factor,"""
NEAREST_BIAS = 1.3, 1.8
"""those along another direction by this in a slanted face and in an upright one."""
SAME_DEG = 3.0
NO_BAR = 50.0
"""Cost where a mark finds no bar at all."""
UPRIGHT, LEVEL = 0.0, 90.0


@dataclass(frozen=True, slots=True)
class Joined:
    """A shape after joining.

    Attributes:
        shape: the parts with their bars; one polygon if all could be joined.
        bridges: bars between parts that were apart.
    """

    shape: Polygon | MultiPolygon
    bridges: tuple[Bridge, ...]


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


def join_parts(
    shape: Polygon | MultiPolygon,
    width_mm: float,
    letters: Sequence[Letter],
    keep_open: MultiPolygon,
    slant: float | None = None,
) -> Joined:
    """Join loose parts by bars, and strengthen strokes of a part that part at full width.

    Marks join their own letter; the bars of all marks of a name run alike, upright or with
    the slant, and those between letters level, unless another way is much shorter. Where it
    cannot be done the parts stay apart.

    Args:
        shape: base and letters, united; valid.
        width_mm: nothing that is added is narrower.
        letters: ink of each letter as it stands in the shape.
        keep_open: holes of the template, cut out of the shape already.
        slant: lean of the typeface in degrees to the right of upright; taken from the letters
            if None.
    """
    bridges: list[Bridge] = []
    # what is added holds by construction; later rounds look for places that are wide enough by
    # next to nothing and show only at the width that will be checked
    for margin in (ERODE_MARGIN_MM, *[VERIFY_MARGIN_MM] * ROUNDS):
        cores = cores_of(shape, width_mm, margin)
        if len(cores.cores) <= 1:
            if margin == VERIFY_MARGIN_MM:
                break
            continue
        added, made = _round(cores, width_mm, letters, keep_open, slant)
        if not added:
            break
        shape = add_bars(shape, added)
        bridges += made
    return Joined(_plain(shape), tuple(bridges))


def _plain(shape: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """A single part as a polygon."""
    parts = areas_of(shape)
    return parts[0] if len(parts) == 1 else shape


def _round(
    cores: Cores,
    width_mm: float,
    letters: Sequence[Letter],
    keep_open: MultiPolygon,
    slant: float | None,
) -> tuple[list[Polygon], tuple[Bridge, ...]]:
    """What one round adds: strokes made wider within parts, bars between them."""
    ground = ground_of(cores.parts, cores.cores, keep_open, width_mm / 2)
    added = _strengthened(cores, ground, width_mm)
    made: tuple[Bridge, ...] = ()
    if len(cores.parts) > 1:
        bars = candidates(ground, cores.part, letters, slant)
        made = bridges_of(tree(bars, cores.part), width_mm)
    return added + [bar.shape for bar in made], made


def _strengthened(cores: Cores, ground: Ground, width_mm: float) -> list[Polygon]:
    """Strokes of the least width between cores of one part."""
    added: list[Polygon] = []
    number, counts = np.unique(cores.part, return_counts=True)
    for part in number[counts > 1]:
        lines = links(cores.parts[part], cores.cores[cores.part == part], width_mm)
        if ground.keep_open is not None:
            near_hole = shapely.dwithin(lines, ground.keep_open, ground.half_mm + HOLE_MARGIN_MM)
            lines = [line for line, near in zip(lines, near_hole, strict=True) if not near]
        added += thickened(lines, width_mm)
    return added


def candidates(
    ground: Ground, part: Ints, letters: Sequence[Letter], slant: float | None
) -> Choice:
    """Bars between parts in every direction that may be used, priced."""
    loose = np.flatnonzero(part > 0)
    owners = belonging(letters, ground.cores)
    is_mark = owners.mark >= 0
    free = shortest(ground, loose)
    leans = [(UPRIGHT, 1.0)]
    if is_mark.any():
        lean = lean_of(letters) if slant is None else slant
        nearest = [(angle, NEAREST_BIAS[lean == 0]) for angle in _lean_of_marks(free, is_mark)]
        leans = _apart([(lean, 1.0), (UPRIGHT, UPRIGHT_BIAS), *nearest])
    # bars between letters lie near the line that the letters stand on
    aim = np.where(is_mark, np.nan, -(owners.baseline + 2 * ground.half_mm))
    level = along(ground, Frame(LEVEL), loose, STEP_MM, aim)
    lots = [free, level] + [along(ground, Frame(lean), loose, STEP_MM) for lean, _ in leans]
    way = np.repeat(np.arange(len(lots)), [len(lot.cost) for lot in lots])
    bars = together(lots)
    keep = np.flatnonzero(part[bars.a] != part[bars.b])
    keep = keep[ground.clear(bars.ends[keep])]
    bars, way = bars.take(keep), way[keep]
    cost, at_home = owners.price(bars, ground.half_mm)
    marked = is_mark[bars.a] | is_mark[bars.b]
    factor = np.where(
        marked,
        np.where(way < 2, MARK_ASTRAY, 1.0),
        np.choose(np.minimum(way, 2), [LETTER_ASTRAY, 1.0, LETTER_UPRIGHT]),
    )
    bars = bars.priced((cost + EACH) * factor)
    totals = [
        bias * _marks_cost(bars, is_mark, (way < 2) | (way == index + 2))
        for index, (_, bias) in enumerate(leans)
    ]
    best = (way < 2) | (way == 2 + int(np.argmin(totals)))
    return Choice(bars.take(best), at_home[best], is_mark)


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
    take(homeward[choice.at_home[homeward]], True)
    over = np.where(is_mark[bars.a] | is_mark[bars.b], OVER_MARKS, 1.0)
    take(np.lexsort((*keys, np.round(bars.cost * over, 6))), False)
    return bars.ends[np.array(chosen, dtype=np.intp)]

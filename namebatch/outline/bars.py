"""Bars between loose parts: the candidates of one direction, and what each one costs. mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.cores import ADD_MARGIN_MM, Cores, Polygons, neighbours
from namebatch.outline.model import Bridge
from namebatch.outline.scan import FAR, Edges, Floats, Frame, Ints, Spans, edges_of

CAP = 2 * 16 + 1
"""Points of the half circle at the end of a bar."""
PARTS, COUNTERS = 1, 2
"""Layers of the edges; cores are the first."""
COUNTER = 3.0
"""Bar over a counter costs this many times as much again."""
INSIDE = 0.15
"""Bar within the lettering: costs little, it is only a stroke made wider."""
OFF_CENTRE = 0.15
"""Cost of a millimetre away from where a bar to a part should lie."""
KEPT = 6
"""Candidates of each pair that are looked at closely."""
STROKE = 1.0
"""What making a thin stroke wider from the end of a bar costs, in widths."""
MOST = 16
"""At most twice as many lines, and one, over a core."""
HOLE_MARGIN_MM = 0.05


@dataclass(frozen=True, slots=True)
class Bars:
    """Candidates.

    Attributes:
        a, b: indices of the cores that a bar joins, a < b.
        ends: x, y in core a and x, y in core b, the ends of the middle line.
        cost: in millimetres of new material.
    """

    a: Ints
    b: Ints
    ends: Floats
    cost: Floats

    @property
    def lines(self) -> npt.NDArray[np.object_]:
        """Middle lines."""
        return np.asarray(shapely.linestrings(self.ends.reshape(-1, 2, 2)))

    def take(self, which: npt.NDArray[np.bool_] | Ints) -> "Bars":
        """Some of the candidates."""
        return Bars(self.a[which], self.b[which], self.ends[which], self.cost[which])

    def priced(self, cost: Floats) -> "Bars":
        """The same bars at another cost."""
        return Bars(self.a, self.b, self.ends, cost)


def together(found: Sequence[Bars]) -> Bars:
    """Several lots of candidates as one."""
    return Bars(
        np.concatenate([bars.a for bars in found]),
        np.concatenate([bars.b for bars in found]),
        np.concatenate([bars.ends for bars in found]).reshape(-1, 4),
        np.concatenate([bars.cost for bars in found]),
    )


@dataclass(frozen=True, slots=True)
class Ground:
    """What bars are laid over.

    Attributes:
        parts: polygons of the shape.
        counters: its holes, filled, but those in which other parts lie.
        cores: what is to be joined.
        part: index of each core's part.
        edges: of cores, parts and counters, in this order.
        keep_open: holes of the template, or None.
        half_mm: half the width of a bar.
    """

    parts: Polygons
    counters: Polygons
    cores: Polygons
    part: Ints
    edges: Edges
    keep_open: MultiPolygon | None
    half_mm: float

    def clear(self, ends: Floats) -> npt.NDArray[np.bool_]:
        """Which bars, given by the ends of their middle lines, keep off the template's holes."""
        if self.keep_open is None:
            return np.ones(len(ends), dtype=bool)
        lines = shapely.linestrings(ends.reshape(-1, 2, 2))
        return np.asarray(~shapely.dwithin(lines, self.keep_open, self.half_mm + HOLE_MARGIN_MM))

    def extents(self, frame: Frame) -> tuple[Floats, Floats]:
        """Least and greatest place of every core across a direction."""
        xy, core = shapely.get_coordinates(self.cores, return_index=True)
        starts = np.searchsorted(core, np.arange(len(self.cores)))
        across = frame.turn(xy)[:, 0]
        return np.minimum.reduceat(across, starts), np.maximum.reduceat(across, starts)

    def price(self, lengths: Floats, inside: Floats, over_counters: Floats) -> Floats:
        """Cost of bars by what lies under them."""
        bare = lengths - inside
        return np.asarray(bare + COUNTER * np.minimum(bare, over_counters) + INSIDE * inside)


def ground_of(found: Cores, keep_open: MultiPolygon, half_mm: float) -> Ground:
    """Prepare what bars are laid over."""
    parts, cores = found.parts, found.cores
    rings = [ring for part in parts for ring in part.interiors]
    counters = np.array([Polygon(ring) for ring in rings], dtype=object)
    if len(parts) > 1 and len(counters):
        # what holds another part is no counter: that part is tied across it
        holds, _ = shapely.STRtree(parts).query(counters, predicate="contains_properly")
        counters = np.delete(counters, holds)
    edges = edges_of([cores, parts, counters])
    holes = None if keep_open.is_empty else keep_open
    return Ground(parts, counters, cores, found.part, edges, holes, half_mm)


def along(
    ground: Ground,
    frame: Frame,
    loose: Ints,
    step_mm: float,
    aim: Floats | None = None,
    onto_strokes: bool = False,
) -> Bars:
    """The best bars of one direction between neighbouring cores.

    Args:
        ground: what they are laid over.
        frame: the direction.
        loose: cores that must be met; lines are laid over these.
        step_mm: distance of lines within a core.
        aim: where across bars to each core should lie; its middle if None or not a number.
        onto_strokes: whether bars may end in strokes too thin to have a core.
    """
    low, high = ground.extents(frame)
    lines = offsets(low[loose], high[loose], step_mm)
    found = on_lines(ground, frame, lines, aim, onto_strokes)
    return _best(found.take(ground.clear(found.ends)))


def on_lines(
    ground: Ground,
    frame: Frame,
    lines: Floats,
    aim: Floats | None = None,
    onto_strokes: bool = False,
) -> Bars:
    """All bars between neighbouring cores that lie on given lines of one direction.

    Args:
        ground: what they are laid over.
        frame: the direction.
        lines: where they lie across, ascending.
        aim: as for `along`.
        onto_strokes: as for `along`.
    """
    low, high = ground.extents(frame)
    spans, parts, counters = ground.edges.scan(frame, lines)
    next_to = (spans.line[1:] == spans.line[:-1]) & (spans.owner[1:] != spans.owner[:-1])
    last = np.flatnonzero(next_to)
    one, other = spans.owner[last], spans.owner[last + 1]
    line, start, end = spans.line[last], spans.high[last], spans.low[last + 1]
    extra = np.zeros(len(line))
    if onto_strokes:
        ways = _onto_strokes(ground, parts, line, start, end, one, other)
        one, other = np.append(one, ways[0]), np.append(other, ways[1])
        line = np.append(line, ways[2])
        start, end = np.append(start, ways[3]), np.append(end, ways[4])
        extra = np.append(extra, np.full(len(ways[0]), STROKE * 2 * ground.half_mm))
    at = lines[line]
    cost = ground.price(
        end - start, parts.covered(line, start, end), counters.covered(line, start, end)
    )
    middle = (low + high) / 2
    if aim is not None:
        middle = np.where(np.isnan(aim), middle, np.clip(aim, low, high))
    small = np.where(high[one] - low[one] < high[other] - low[other], one, other)
    cost = cost + extra + OFF_CENTRE * np.abs(at - middle[small])
    upwards = (one < other)[:, None]
    below, above = frame.back(at, start), frame.back(at, end)
    ends = np.hstack([np.where(upwards, below, above), np.where(upwards, above, below)])
    return Bars(np.minimum(one, other), np.maximum(one, other), ends, cost)


def _onto_strokes(
    ground: Ground, parts: Spans, line: Ints, start: Floats, end: Floats, one: Ints, other: Ints
) -> tuple[Ints, Ints, Ints, Floats, Floats]:
    """Bars that end in the first stroke on their way, though it is too thin to have a core.

    The stroke is made wider from there in the next round.

    Returns:
        Core below, core above, line, start and end; a stroke goes by the first core of its part.
    """
    keys = parts.line * FAR + parts.low
    first = np.searchsorted(keys, line * FAR + start, side="right") - 1
    last = np.searchsorted(keys, line * FAR + end, side="right") - 1
    way = np.flatnonzero(last - first >= 2)
    up, down = first[way] + 1, last[way] - 1
    line, one, other = line[way], one[way], other[way]
    middle = (parts.low + parts.high) / 2
    core = np.unique(ground.part, return_index=True)[1]
    return (
        np.append(one, core[parts.owner[down]]),
        np.append(core[parts.owner[up]], other),
        np.append(line, line),
        np.append(start[way], middle[down]),
        np.append(middle[up], end[way]),
    )


def offsets(low: Floats, high: Floats, step_mm: float) -> Floats:
    """Where lines are laid to meet cores from low to high across, the middle of each included."""
    number = 2 * np.clip((high - low) / step_mm / 2, 2, MOST).astype(np.intp) + 1
    edge = np.minimum((high - low) / 50, 0.05)
    core = np.repeat(np.arange(len(low)), number)
    step = np.arange(len(core)) - np.repeat(np.cumsum(number) - number, number)
    share = step / (number - 1)[core]
    start, end = low + edge, high - edge
    return np.unique(start[core] + share * (end - start)[core])


def _best(bars: Bars) -> Bars:
    """The cheapest few of each pair, to either side: a part may lie all round another."""
    step = bars.ends[:, 2:] - bars.ends[:, :2]
    side = np.where(np.abs(step[:, 1]) > 1e-9, step[:, 1] > 0, step[:, 0] > 0).astype(np.intp)
    order = np.lexsort((bars.cost, side, bars.b, bars.a))
    pair = (bars.a[order] * (1 << 20) + bars.b[order]) * 2 + side[order]
    starts = np.flatnonzero(np.concatenate([[True], pair[1:] != pair[:-1]])) if len(pair) else pair
    counts = np.diff(np.append(starts, len(pair)))
    rank = np.arange(len(pair)) - np.repeat(starts, counts)
    return bars.take(order[rank < KEPT])


def shortest(ground: Ground, loose: Ints) -> Bars:
    """The shortest line from every loose core to each of its neighbours, in any direction."""
    a, b = neighbours(shapely.bounds(ground.cores), loose)
    lines = shapely.shortest_line(ground.cores[a], ground.cores[b])
    lengths = shapely.length(lines)
    ends = shapely.get_coordinates(lines).reshape(-1, 4)
    inside = lengths * ground.edges.inside(PARTS, ends, starts_inside=True)
    over = lengths * ground.edges.inside(COUNTERS, ends, starts_inside=False)
    return Bars(a, b, ends, ground.price(lengths, inside, over))


def bridges_of(ends: Floats, width_mm: float) -> tuple[Bridge, ...]:
    """Bars with round ends, of at least the width and a little more for their chords."""
    half = width_mm / 2 + ADD_MARGIN_MM
    ends = ends.reshape(-1, 2, 2)
    step = ends[:, 1] - ends[:, 0]
    # the cap round the second end, then the one round the first
    turn = np.arctan2(step[:, 1], step[:, 0])[:, None] + np.linspace(-np.pi / 2, np.pi / 2, CAP)
    cap = half * np.stack([np.cos(turn), np.sin(turn)], axis=2)
    rings = np.concatenate([ends[:, None, 1] + cap, ends[:, None, 0] - cap], axis=1)
    shapes = shapely.polygons(rings)
    return tuple(
        Bridge(shape, (row[0][0], row[0][1]), (row[1][0], row[1][1]), 2 * half)
        for shape, row in zip(shapes, ends.tolist(), strict=True)
    )


def add_bars(shape: Polygon | MultiPolygon, bars: Sequence[Polygon]) -> shapely.Geometry:
    """A shape with bars; they are united first, which leaves one costly step."""
    return shapely.union(shape, shapely.union_all(bars)) if bars else shape

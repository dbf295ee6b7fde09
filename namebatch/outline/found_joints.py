"""Joint lines found for a piece that is larger than a sheet takes. Lengths in mm.

The fewest parts come first: columns by upright lines, then rows in each column by level ones.
Lines stand upright if they can, lean by up to 30° if not, and where neither will do one part more
is tried.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

import shapely
from shapely import LineString, Polygon, affinity

from namebatch.outline.joint import JointLine, JointOrder
from namebatch.outline.joint_lines import LEAST_PART, Lines, chosen, clear_lines, joint_lines
from namebatch.outline.split import CutPart, Split, plane_round, split

Size = tuple[float, float]
_Known = dict[tuple[bytes, bytes, bool], Lines]
"""Lines that were looked for, by part, what else is kept clear of, and whether they lean."""
FURTHER = 1
"""So many columns or rows more than the fewest are tried."""
TRIES = 12
"""So many sets of lines of one kind are tried before their parts are sound."""
NEAR_MM = 1.5
"""A line whose parts were not sound is given up with all as near as this."""
SPARE_MM = 0.5
"""Kept free of the size that a sheet takes."""
KEY_MM = 0.2
"""What of a joint is farther from its line than this is a key."""


@dataclass(frozen=True, slots=True)
class _Grid:
    """Columns, rows, and the size that no part exceeds."""

    columns: int
    rows: int
    size: Size


def found_split(outline: Polygon, sizes: Sequence[Size], order: JointOrder) -> Split | None:
    """Split a piece into as few parts as there can be, along lines that cross no lettering.

    Args:
        outline: larger than every size.
        sizes: width and height that a part may have, one of them.
        order: what is asked of the joints.

    Returns:
        Parts none of which exceeds a size or is thinner than required; None if there are none.
    """
    known: _Known = {}
    for grid in _grids(outline, sizes, order):
        found = _columns(outline, grid, order, known)
        if found is not None:
            return found
    return None


def fewest(outline: Polygon, sizes: Sequence[Size], order: JointOrder) -> int:
    """No fewer parts than this have room, if they stand in columns and rows; 0 if none have."""
    return min((grid.columns * grid.rows for grid in _grids(outline, sizes, order)), default=0)


def _grids(outline: Polygon, sizes: Sequence[Size], order: JointOrder) -> Iterator[_Grid]:
    """Columns and rows that may do, the fewest parts first, then the shortest joints."""
    x0, y0, x1, y1 = outline.bounds
    width, height = x1 - x0, y1 - y0
    grids = set()
    for size in sizes:
        columns = _count(width, size[0], order.reach_mm(height))
        rows = _count(height, size[1], order.reach_mm(width))
        if not columns or not rows:
            continue
        grids.add((columns, rows, size))
        for more in range(1, FURTHER + 1):
            if columns > 1:
                grids.add((columns + more, rows, size))
            if rows > 1:
                grids.add((columns, rows + more, size))
    yield from (
        _Grid(columns, rows, size)
        for columns, rows, size in sorted(
            grids,
            key=lambda g: (g[0] * g[1], (g[0] - 1) * height + (g[1] - 1) * width, g[2]),
        )
    )


def _count(length: float, largest: float, over: float) -> int:
    """Parts that a length takes, none longer than so much, keys included; 0 if none do."""
    if length <= largest:
        return 1
    if largest - SPARE_MM <= over:
        return 0
    return max(2, ceil((length - over) / (largest - SPARE_MM - over) - 1e-9))


def _columns(outline: Polygon, grid: _Grid, order: JointOrder, known: _Known) -> Split | None:
    """Columns, and rows in each that is too high."""
    if grid.columns == 1:
        columns: Split | None = split(outline, (), order)
    else:
        whole, cell = shapely.normalize(outline), plane_round(outline)
        columns = _strips(whole, cell, grid.columns, grid.size[0], order, known, level=False)
    if columns is None:
        return None
    below = replace(order, avoid=_keys_of(columns))
    found = Split((), columns.joints, columns.keys, columns.bare)
    for part in columns.parts:
        rows = _rows(part, grid, below, known)
        if rows is None:
            return None
        found = Split(
            (*found.parts, *rows.parts),
            (*found.joints, *rows.joints),
            found.keys + rows.keys,
            found.bare + rows.bare,
        )
    return found


def _rows(part: CutPart, grid: _Grid, order: JointOrder, known: _Known) -> Split | None:
    """A part as it is, or split into as few rows as will do."""
    _, y0, _, y1 = part.shape.bounds
    if y1 - y0 <= grid.size[1]:
        return Split((part,), (), 0, 0)
    width = part.shape.bounds[2] - part.shape.bounds[0]
    own = _count(y1 - y0, grid.size[1], order.reach_mm(width))
    for rows in sorted({own, grid.rows} - {0, 1}):
        found = _strips(part.shape, part.cell, rows, grid.size[1], order, known, level=True)
        if found is not None:
            return found
    return None


def _keys_of(found: Split) -> shapely.Geometry:
    """The keys of a split, as lines."""
    lines = [LineString([joint.coords[0], joint.coords[-1]]) for joint in found.joints]
    if not lines:
        return shapely.MultiPolygon()
    straight = shapely.buffer(shapely.union_all(lines), KEY_MM)
    return shapely.difference(shapely.union_all(list(found.joints)), straight)


def _strips(
    part: Polygon,
    cell: Polygon,
    count: int,
    widest: float,
    order: JointOrder,
    known: _Known,
    *,
    level: bool,
) -> Split | None:
    """Split a part by upright lines, or by level ones, into so many sound strips, two or more.

    A level line is an upright one whose x and y have changed places.
    """
    seen, own = (_swapped(part), _swapped_order(order)) if level else (part, order)
    x0, y0, x1, y1 = seen.bounds
    over = order.reach_mm(y1 - y0)
    least = LEAST_PART * order.required_mm + over
    for leaning in (False, True):
        lines = _clear(seen, own, known, leaning=leaning)
        bare: Split | None = None
        for _ in range(TRIES):
            room = widest - SPARE_MM
            numbers = chosen(lines, (x0, x1), count - 1, room, over, least)
            if numbers is None:
                break
            joints = joint_lines(lines, numbers, seen)
            if level:
                joints = tuple(JointLine(line.end[::-1], line.start[::-1]) for line in joints)
            found = split(part, joints, order, both_ways=False, cell=cell)
            wrong = _wrong_lines(found, joints, order, widest, level=level)
            if not wrong and not found.bare:
                return found
            if not wrong:
                bare = bare or found
                wrong = list(range(len(joints)))
            lines = _without(lines, [float(lines.middle[numbers[k]]) for k in wrong])
        if bare is not None:
            return bare
    return None


def _clear(seen: Polygon, order: JointOrder, known: _Known, *, leaning: bool) -> Lines:
    """Lines that are clear in a part, looked for once."""
    key = shapely.to_wkb(seen), shapely.to_wkb(order.avoid), leaning
    if key not in known:
        known[key] = clear_lines(seen, order, leaning)
    return known[key]


def _wrong_lines(
    found: Split, joints: Sequence[JointLine], order: JointOrder, widest: float, *, level: bool
) -> list[int]:
    """The lines at whose parts something is too thin or too large."""
    axis = 1 if level else 0
    bad = [
        part.shape
        for part in found.parts
        if not part.is_sound(order.required_mm)
        or part.shape.bounds[axis + 2] - part.shape.bounds[axis] > widest
    ]
    if not bad:
        return []
    near = order.fit_mm + KEY_MM
    return [k for k, at in enumerate(joints) if shapely.dwithin(at.line, bad, near).any()]


def _without(lines: Lines, places: Sequence[float]) -> Lines:
    for place in places:
        lines = lines.without(place, NEAR_MM)
    return lines


def _swapped_order(order: JointOrder) -> JointOrder:
    ink = _swapped(order.ink)
    return replace(order, ink=shapely.MultiPolygon(list(ink.geoms)), avoid=_swapped(order.avoid))


def _swapped(shape: shapely.Geometry) -> shapely.Geometry:
    """A shape whose x and y have changed places."""
    return affinity.affine_transform(shape, (0, 1, 1, 0, 0, 0))

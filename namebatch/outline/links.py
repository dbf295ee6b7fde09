"""Cores of one part that hang together by a thin stroke: the stroke is followed. mm."""

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, Polygon

from namebatch.outline.cores import ADD_MARGIN_MM, Polygons, neighbours
from namebatch.outline.strokes import strokes

STRAY = 0.15
"""A straight line may leave the stroke by this share of the width and still count as following
it: it stays within the stroke as thickened."""
NEAR = 1.0
"""How many widths round a straight line, and half its length, are searched first."""
SAMPLE_MM = 0.1


def links(part: Polygon, cores: Polygons, width_mm: float) -> list[LineString]:
    """Middle lines that tie the cores of a part along its own strokes, as few as do.

    Args:
        part: the part.
        cores: its cores, two or more.
        width_mm: the least width.
    """
    group = np.arange(len(cores))
    found: list[LineString] = []
    shapely.prepare(part)
    lines, one, other = _nearest(cores)
    for line, a, b in zip(lines, one, other, strict=True):
        if group[a] != group[b] and _within(part, line, STRAY * width_mm):
            group[group == group[b]] = group[a]
            found.append(line)
    if (group != group[0]).any():
        found += _bent(part, cores, group, width_mm, lines[_least(one, other, group)])
    return found


def _least(
    one: npt.NDArray[np.intp], other: npt.NDArray[np.intp], group: npt.NDArray[np.intp]
) -> list[int]:
    """The first pairs, in order, that join all groups."""
    group = group.copy()
    kept: list[int] = []
    for index, (a, b) in enumerate(zip(one, other, strict=True)):
        if group[a] != group[b]:
            group[group == group[b]] = group[a]
            kept.append(index)
    return kept


def _bent(
    part: Polygon,
    cores: Polygons,
    group: npt.NDArray[np.intp],
    width_mm: float,
    lines: Polygons,
) -> list[LineString]:
    """Lines along bent strokes, looked for near the straight ones and then everywhere."""
    x0, y0, x1, y1 = shapely.bounds(lines).T
    reach = shapely.length(lines) / 2 + NEAR * width_mm
    near = shapely.union_all(shapely.box(x0 - reach, y0 - reach, x1 + reach, y1 + reach))
    found, group = strokes(part, cores, group, width_mm, near)
    if (group != group[0]).any():
        found += strokes(part, cores, group, width_mm, None)[0]
    return found


def _nearest(cores: Polygons) -> tuple[Polygons, npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Shortest lines from each core to its nearest few, shortest first."""
    a, b = neighbours(shapely.bounds(cores), np.arange(len(cores)))
    lines = shapely.shortest_line(cores[a], cores[b])
    order = np.lexsort((b, a, np.round(shapely.length(lines), 6)))
    return lines[order], a[order], b[order]


def _within(part: Polygon, line: LineString, stray_mm: float) -> bool:
    """True if a line hardly leaves a part."""
    if shapely.covers(part, line):
        return True
    on_it = shapely.line_interpolate_point(line, np.arange(SAMPLE_MM, line.length, SAMPLE_MM))
    return bool(shapely.dwithin(part, on_it, stray_mm).all())


def thickened(lines: list[LineString], width_mm: float) -> list[Polygon]:
    """Strokes of the least width along middle lines."""
    return list(shapely.buffer(lines, width_mm / 2 + ADD_MARGIN_MM, quad_segs=16))

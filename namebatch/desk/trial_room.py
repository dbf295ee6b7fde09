"""Where in a shape there is room for a text: level boxes that lie inside of it altogether."""

from collections.abc import Iterator, Sequence
from math import inf, sqrt
from typing import Final

import shapely
from shapely import LineString, Polygon, box

Box = tuple[float, float, float, float]
"""x0, y0, x1, y1."""

SHARES: Final = (0.14, 0.2)
"""Of the shape's height, how high the first text box may be."""
FURTHER: Final = (0.08, 0.12)
"""The same of another text, which mostly says something smaller."""
STEPS: Final = 15
USUAL_LEVEL: Final = 0.3
"""Of the shape's height, where the middle of the box had best be."""
EDGE_ROOM: Final = 0.03
"""Of the shape's shorter side, how far the box stays off its edges, and off other boxes."""
_NARROWER: Final = (1.0, 0.9, 0.8, 0.65, 0.5)
_LEVELS: Final = 9


def roomy(shape: Polygon) -> Box:
    """A level box in a shape, broad for its height, off its edges.

    Of boxes alike the lower one: names mostly stand below what is painted (common practice).

    Returns:
        The shape's own extent where no such box lies in it.
    """
    x0, y0, x1, y1 = shape.bounds
    return _best(_inner(shape), (y0, y1), SHARES) or (x0, y0, x1, y1)


def further(shape: Polygon, taken: Sequence[Box]) -> Box | None:
    """A level box for another text.

    Args:
        shape: the base.
        taken: boxes of the texts that there are; they are not met.

    Returns:
        None where there is no room.
    """
    room = EDGE_ROOM * min(shape.bounds[2] - shape.bounds[0], shape.bounds[3] - shape.bounds[1])
    others = shapely.union_all(
        [shapely.buffer(box(*one), room, join_style="mitre") for one in taken]
    )
    low, high = shape.bounds[1], shape.bounds[3]
    return _best(shapely.difference(_inner(shape), others), (low, high), FURTHER)


def _inner(shape: Polygon) -> shapely.Geometry:
    x0, y0, x1, y1 = shape.bounds
    return shapely.buffer(shape, -EDGE_ROOM * min(x1 - x0, y1 - y0))


def _best(
    inner: shapely.Geometry, reach: tuple[float, float], shares: Sequence[float]
) -> Box | None:
    """The one of most worth: broad, high, near the usual level."""
    if shapely.is_empty(inner):
        return None
    low, high = reach
    found: list[tuple[float, Box]] = []
    for share in shares:
        tall = share * (high - low)
        for level in range(STEPS):
            y = low + (high - low - tall) * level / (STEPS - 1)
            near = 1.0 - abs((y - low + tall / 2) / (high - low) - USUAL_LEVEL)
            for left, right in _between(
                inner, [y + tall * i / _LEVELS for i in range(_LEVELS + 1)]
            ):
                place = (left, y, right, y + tall)
                if shapely.covers(inner, box(*place)):
                    found.append(((right - left) * sqrt(tall) * near, place))
                    break
    return max(found)[1] if found else None


def _between(shape: shapely.Geometry, levels: Sequence[float]) -> Iterator[tuple[float, float]]:
    """From where to where a shape is at all these heights, the widest stretch first."""
    left, right = -inf, inf
    x0, _, x1, _ = shape.bounds
    for y in levels:
        cut = shapely.intersection(shape, LineString([(x0, y), (x1, y)]))
        parts = [part.bounds for part in shapely.get_parts(cut) if part.length > 0]
        if not parts:
            return
        widest = max(parts, key=lambda part: (part[2] - part[0], -part[0]))
        left, right = max(left, widest[0]), min(right, widest[2])
    if right <= left:
        return
    middle, half = (left + right) / 2, (right - left) / 2
    for share in _NARROWER:  # between two levels an edge may come in further
        yield middle - share * half, middle + share * half

"""Where a text has room: boxes that lie inside a shape altogether."""

from math import cos, pi

import pytest
from shapely import Polygon, box

from namebatch.desk.trial_room import further, roomy

WAVY = Polygon(
    [(0.0, 0.0), (80.0, 0.0)]
    + [(80.0 - 8.0 * (1 - cos(2 * pi * y / 7.0)) / 2, y) for y in range(41)]
    + [(8.0 * (1 - cos(2 * pi * y / 7.0)) / 2, y) for y in range(40, -1, -1)]
).buffer(0)
"""Its sides come in by 8 mm, six times."""
TALL = box(0, 0, 20, 90)


@pytest.mark.parametrize("shape", [WAVY, TALL], ids=["wavy", "tall"])
def test_boxes_lie_inside_and_apart(shape: Polygon) -> None:
    """However an edge runs between two heights, no corner or side of a box meets it."""
    first = roomy(shape)
    second = further(shape, [first])
    assert second is not None
    assert shape.covers(box(*first))
    assert shape.covers(box(*second))
    assert not box(*first).intersects(box(*second))


def test_without_room_there_is_none() -> None:
    """A text that takes the whole shape leaves nothing for another."""
    assert further(TALL, [TALL.bounds]) is None

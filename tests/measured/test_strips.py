"""The drawing of the kerf test."""

from itertools import combinations

import pytest
from shapely import Polygon, union_all

from namebatch.errors import MeasureError
from namebatch.measured.strips import kerf_test


@pytest.mark.parametrize(
    ("room", "strips", "width", "size"),
    [
        ((600.0, 300.0), 10, 10.0, (180.0, 137.0)),
        ((210.0, 297.0), 10, 10.0, (180.0, 137.0)),
        ((150.0, 150.0), 10, 6.0, (130.0, 97.0)),
        ((90.0, 70.0), 6, 6.0, (86.0, 61.0)),
    ],
)
def test_the_largest_that_has_room_is_drawn(
    room: tuple[float, float], strips: int, width: float, size: tuple[float, float]
) -> None:
    """Fewer and narrower strips on a small sheet."""
    test = kerf_test(room)
    assert (test.strips, test.width_mm, test.size_mm) == (strips, width, size)


@pytest.mark.parametrize("room", [(600.0, 300.0), (150.0, 150.0), (90.0, 70.0)])
def test_every_part_has_cuts_of_its_own(room: tuple[float, float]) -> None:
    """Parts lie 3 mm apart and inside the drawing, slots inside the plate with walls around."""
    test = kerf_test(room)
    outer = {cut.owner: Polygon(cut.points) for cut in test.cuts if cut.operation == "outer"}
    slots = [Polygon(cut.points) for cut in test.cuts if cut.operation == "inner"]
    assert len(outer) == 2 * test.strips + 1
    assert min(a.distance(b) for a, b in combinations(outer.values(), 2)) >= 3.0
    assert min(a.distance(b) for a, b in combinations(slots, 2)) >= test.width_mm
    assert all(outer["plate"].exterior.distance(slot) >= 0.99 * test.width_mm for slot in slots)
    assert all(outer["plate"].contains(slot) for slot in slots)
    x0, y0, x1, y1 = union_all(list(outer.values())).bounds
    assert (x0, y0) == (5.0, 5.0)
    assert (x1, y1) == (test.size_mm[0] - 5, test.size_mm[1] - 5)


def test_strips_for_y_lack_a_corner() -> None:
    """So that they can be told from those for x once they lie in a heap."""
    test = kerf_test((600.0, 300.0))
    corners = {cut.owner: len(cut.points) for cut in test.cuts}
    assert corners["x-strip-1"] == 4
    assert corners["y-strip-1"] == 5


def test_no_room_is_told() -> None:
    """With what would be needed and what there is."""
    with pytest.raises(MeasureError, match=r"needs 86 × 61 mm; .* leave 80 × 300 mm"):
        kerf_test((80.0, 300.0))

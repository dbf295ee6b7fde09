"""What a closing fills near some places, against a closing of the whole."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from namebatch.outline.swallowed import swallowed
from tests.outline.real_names import outline

REACH = 0.11
PLATE = box(0, 0, 60, 20)


def _of_the_whole(shape: Polygon) -> list[Polygon]:
    """A closing with mitred corners of the whole shape, small fillets left out."""
    grown = shape.buffer(REACH, join_style="mitre", mitre_limit=4)
    closed = grown.buffer(-REACH, join_style="mitre", mitre_limit=4)
    parts = shapely.get_parts(closed.difference(shape))
    return [part for part in parts if part.area > REACH**2]


def _agree(shape: Polygon, places: list[tuple[float, float]]) -> None:
    at = shapely.MultiPoint(places)
    one, other = (
        shapely.union_all([part for part in parts if part.distance(at) < REACH])
        for parts in (swallowed(shape, REACH, np.array(places)), _of_the_whole(shape))
    )
    assert other.area > 0
    assert shapely.symmetric_difference(one, other).area < 1e-6


def test_two_slits_far_apart() -> None:
    """Each slit is filled in its own window as it is in a closing of the whole plate."""
    slits = MultiPolygon([box(10, 8, 10.1, 12), box(50, 15, 50.15, 21)])
    _agree(PLATE - slits, [(10, 8), (10, 12), (50, 15), (50, 20)])


def test_a_slit_that_leaves_its_window_is_filled_whole() -> None:
    """One place at a long slit is enough: what meets a window's edge is looked at as a whole."""
    _agree(PLATE - box(5, 10, 55, 10.1), [(30, 10)])


@pytest.mark.parametrize("face", ["Pacifico", "Noto Sans Devanagari SemiBold"])
def test_slits_in_names(face: str) -> None:
    """Slits cut into real outlines are filled alike."""
    shape = outline(face, {"Pacifico": "Jiří"}.get(face, "क्षितिज"), 15)
    x0, y0, x1, _ = shape.bounds
    at = [x0 + 0.3 * (x1 - x0), x0 + 0.8 * (x1 - x0)]
    cut = shape - MultiPolygon([box(x, y0 - 1, x + 0.12, y0 + 2) for x in at])
    assert isinstance(cut, Polygon)
    _agree(cut, [(x, y) for x in at for y in (y0, y0 + 1, y0 + 2)])


def test_no_kerf_fills_nothing() -> None:
    """Without a reach there is no closing."""
    assert swallowed(PLATE, 0.0, np.array([[1.0, 1.0]])) == []

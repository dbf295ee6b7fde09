"""Lines at a distance from a boundary, against the general buffer of shapely."""

import pytest
import shapely
from shapely import Polygon, box

from namebatch.outline.edged import edged
from namebatch.outline.parallel import mitred
from tests.outline.real_names import real_names

LIMIT = 4.0


def _buffer(shape: Polygon, distance: float) -> Polygon:
    grown = shapely.buffer(shape, distance, join_style="mitre", mitre_limit=LIMIT)
    assert isinstance(grown, Polygon)
    return grown


@pytest.mark.parametrize("distance", [0.05, 0.1])
def test_real_names_grow_as_by_the_general_buffer(distance: float) -> None:
    """Most names can be done; those that are differ by less than a corner's rounding."""
    done, names = 0, list(real_names())
    for label, shape in names:
        moved = mitred(edged(shape).outside, distance, LIMIT)
        if moved is None:
            continue
        done += 1
        expected = _buffer(shape, distance)
        assert len(moved.interiors) == len(shape.interiors), label
        assert shapely.symmetric_difference(moved, expected).area < 0.003, label
        assert shapely.hausdorff_distance(moved, expected) < 0.03, label
    assert done > 0.6 * len(names)


def test_corners_stay_corners_and_holes_shrink() -> None:
    """A plate with a hole: exact sizes, as many points as before."""
    shape = box(0, 0, 20, 10) - box(5, 3, 9, 7)
    moved = mitred(edged(shape).outside, 0.1, LIMIT)
    assert moved is not None
    assert moved.equals(box(-0.1, -0.1, 20.1, 10.1) - box(5.1, 3.1, 8.9, 6.9))


def test_a_sharp_corner_is_cut_off() -> None:
    """A mitre longer than four times the distance ends there, at right angles."""
    spike = Polygon([(0, 0), (20, 1), (0, 2)])
    moved = mitred(edged(spike).outside, 0.1, LIMIT)
    assert moved is not None
    assert moved.bounds[2] == pytest.approx(20.4, abs=1e-9)
    assert moved.equals_exact(_buffer(spike, 0.1).normalize(), 1e-6) or (
        shapely.symmetric_difference(moved, _buffer(spike, 0.1)).area < 1e-9
    )


def test_a_notch_is_cut_short() -> None:
    """At the bottom of a notch the two sides meet, and what lay beyond is gone."""
    shape = Polygon(
        [(0, 0), (10, 0), (10, 10), (6, 10), (5.1, 4), (5, 3.9), (4.9, 4), (4, 10), (0, 10)]
    )
    moved = mitred(edged(shape).outside, 0.2, LIMIT)
    assert moved is not None
    assert shapely.symmetric_difference(moved, _buffer(shape, 0.2)).area < 1e-6


@pytest.mark.parametrize(
    "shape",
    [
        box(0, 0, 20, 10) - box(5, 3, 5.15, 7),
        box(0, 0, 20, 10) - box(5, 3, 5.15, 10.1),
        (box(0, 0, 20, 10) - box(5, 3, 9, 7)) - box(6.95, 6, 7.05, 11),
    ],
    ids=["slit", "gap", "mouth"],
)
def test_what_would_close_is_refused(shape: Polygon) -> None:
    """A slit, a gap and a bay's mouth narrower than twice the distance: no line is given."""
    moved = mitred(edged(shape).outside, 0.1, LIMIT)
    expected = shapely.buffer(shape, 0.1, join_style="mitre", mitre_limit=LIMIT)
    assert moved is None or shapely.symmetric_difference(moved, expected).area < 1e-6

"""Kerf: what is left after cutting has the template's sizes."""

import tracemalloc

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, STRtree, affinity, box

from namebatch.errors import OutlineError
from namebatch.outline import offset_for_kerf
from namebatch.outline.kerf import ClosedByKerf


@settings(deadline=None)  # loops are compiled when first run
@given(st.floats(0.01, 1), st.floats(0.01, 1))
def test_corners_and_sizes(kx: float, ky: float) -> None:
    """A rectangle grows by the kerf in x and in y and keeps its corners; holes shrink."""
    plate = box(0, 0, 40, 20) - box(10, 5, 15, 9)
    moved = offset_for_kerf(plate, (kx, ky))
    assert moved.bounds == pytest.approx((-kx / 2, -ky / 2, 40 + kx / 2, 20 + ky / 2))
    assert Polygon(moved.exterior).area == pytest.approx((40 + kx) * (20 + ky))
    assert Polygon(moved.interiors[0]).area == pytest.approx((5 - kx) * (4 - ky))


def test_cut_of_the_kerf_gives_the_piece_back() -> None:
    """Taking half the kerf off again (a round beam) gives the piece, corners included."""
    plate = affinity.rotate(box(0, 0, 40, 20), 17) - Point(15, 12).buffer(3)
    moved = offset_for_kerf(plate, (0.2, 0.2))
    again = moved.buffer(-0.1, join_style="mitre")
    assert again.symmetric_difference(plate).area < 0.01
    assert again.hausdorff_distance(plate) < 0.002


def test_kerf_in_one_direction_only() -> None:
    """A kerf of 0.2 mm in x and none in y moves only the upright lines."""
    moved = offset_for_kerf(box(0, 0, 40, 20) - box(10, 5, 15, 9), (0.2, 0.0))
    assert moved.bounds == pytest.approx((-0.1, 0, 40.1, 20), abs=0.001)
    assert Polygon(moved.interiors[0]).bounds == pytest.approx((10.1, 5, 14.9, 9), abs=0.001)


def test_no_kerf_changes_nothing() -> None:
    """Zero means the line as drawn."""
    plate = box(0, 0, 1, 1)
    assert offset_for_kerf(plate, (0, 0)) is plate


def test_hole_narrower_than_the_kerf_is_refused() -> None:
    """A hole that would close up is said, with the kerf."""
    plate = box(0, 0, 40, 20) - box(10, 5, 10.1, 9)
    with pytest.raises(OutlineError, match="narrower than the kerf"):
        offset_for_kerf(plate, (0.2, 0.2))


def test_an_acute_corner_does_not_close_a_gap() -> None:
    """The mitre of a spike that points at its neighbour is cut short, not the gap closed."""
    spike = Polygon([(0, 0), (10, -1.2), (10, 1.2)])
    bay = box(-4, -8, -0.3, 8) | box(-4, -8, 12, -6) | box(-4, 6, 12, 8) | box(9, -8, 12, 8)
    shape = bay | spike
    assert isinstance(shape, Polygon)
    moved = offset_for_kerf(shape, (0.2, 0.2))
    assert len(moved.interiors) == len(shape.interiors) == 1


def test_a_lost_pinhole_and_a_closed_bay_do_not_cancel_out() -> None:
    """As many rings as before are not enough: each must be one of those before."""
    plate = box(0, 0, 40, 20) - box(30, 10, 30.1, 10.1)
    bay = box(5, 5, 15, 15) | box(9.95, 14, 10.05, 21)
    shape = plate - bay
    assert isinstance(shape, Polygon)
    assert len(shape.interiors) == 1
    grown = shape.buffer(0.1, join_style="mitre")
    assert isinstance(grown, Polygon)
    assert len(grown.interiors) == 1  # the pinhole is gone, the bay is a hole
    with pytest.raises(OutlineError, match="narrower than the kerf"):
        offset_for_kerf(shape, (0.2, 0.2))


def _bottle(neck: float, across: bool) -> Polygon:
    """A plate with a bay 0.36 mm wide and 1.2 mm deep behind a mouth, open to the edge."""
    bay = box(10, 17.5, 11.2, 17.86) | box(10.4, 17.7, 10.4 + neck, 20.1)
    shape = box(0, 0, 30, 20) - bay
    assert isinstance(shape, Polygon)
    return affinity.rotate(shape, 90, origin=(0, 0)) if across else shape


def test_the_end_of_a_notch_that_closes_first_is_left_out() -> None:
    """Turned, an unequal kerf may close a mouth before the bottom: no hole comes of it."""
    bottle = _bottle(0.3, across=False)
    moved = offset_for_kerf(bottle, (0.4, 0.2))
    assert len(moved.interiors) == 0
    assert moved.contains(bottle)
    assert len(offset_for_kerf(_bottle(0.45, across=False), (0.4, 0.2)).interiors) == 0
    with pytest.raises(ClosedByKerf, match=r"near x 10\.\d, y 17\.\d mm"):
        offset_for_kerf(bottle, (0.4, 0.2), every_gap=True)


def test_a_room_behind_a_mouth_is_not_left_out() -> None:
    """What is larger than the end of a notch must not vanish unsaid."""
    room = box(0, 0, 30, 20) - box(10, 10, 14, 14) - box(11, 13, 11.3, 21)
    assert isinstance(room, Polygon)
    with pytest.raises(ClosedByKerf, match=r"near x 1\d\.\d, y 1\d\.\d mm of the piece"):
        offset_for_kerf(room, (0.4, 0.2))


def test_vertices_that_are_one_but_for_rounding_raise_no_warning() -> None:
    """Three vertices 1e-14 mm apart, as unions leave them, would make a buffer divide by zero."""
    tripled = [
        (-2.2231512015157477, 7.760862291898135),
        (-2.223151201515756, 7.760862291898143),
        (-2.2231512015157597, 7.760862291898147),
    ]
    plate = Polygon(
        [*tripled[::-1], (-2.4013703457445637, 7.939081436126951), (-20, -10), (10, -10)]
    )
    outline = affinity.scale(plate, 1.0, 0.5, origin=(0, 0))
    moved = offset_for_kerf(outline, (0.18, 0.09))
    assert moved.is_valid
    assert moved.contains(outline)


def _sieve(across: int) -> Polygon:
    """A plate with as many holes in both directions."""
    size = 3.0 * across + 1
    holes = [
        box(3 * i + 1, 3 * j + 1, 3 * i + 3, 3 * j + 3).exterior
        for i in range(across)
        for j in range(across)
    ]
    return Polygon(box(0, 0, size, size).exterior, holes)


def test_every_hole_of_a_sieve_keeps_its_line() -> None:
    """However many holes there are, each has one line in it, narrower by the kerf."""
    sieve = _sieve(20)
    moved = offset_for_kerf(sieve, (0.2, 0.4))
    tree = STRtree([Polygon(ring) for ring in moved.interiors])
    hole, line = tree.query([Polygon(ring) for ring in sieve.interiors], "contains_properly")
    assert hole.tolist() == list(range(400))
    assert sorted(line.tolist()) == list(range(400))
    assert Polygon(moved.interiors[0]).area == pytest.approx(1.8 * 1.6)


def test_one_closed_hole_of_a_sieve_is_told_with_its_place() -> None:
    """Among hundreds of holes the one that the kerf closes is found."""
    sieve = _sieve(16) - box(24.3, 24.45, 24.7, 24.55)
    assert isinstance(sieve, Polygon)
    with pytest.raises(ClosedByKerf, match=r"near x 24\.5, y 24\.5 mm"):
        offset_for_kerf(sieve, (0.2, 0.2))


def test_holes_are_not_compared_with_all_others() -> None:
    """Four times the holes ask for no more than eight times the memory, not sixteen times."""

    def most(across: int) -> int:
        sieve = _sieve(across)
        tracemalloc.start()
        try:
            offset_for_kerf(sieve, (0.2, 0.21))
            return tracemalloc.get_traced_memory()[1]
        finally:
            tracemalloc.stop()

    assert most(60) < 8 * most(30)

"""Dealing pieces to sheets by area."""

from random import Random

import pytest

from namebatch.sheet.tight_deal import deal, exchange, reduced

AREAS = {n: Random(n).uniform(5, 20) for n in range(60)}


def test_dealt_evenly_with_large_and_small_on_each() -> None:
    """Nothing is lost, no sheet gets more than its room, and each gets large ones."""
    total = sum(AREAS.values())
    groups, left = deal(range(60), AREAS, [total * 0.3] * 3, total * 0.1)
    assert sorted(n for group in [*groups, left] for n in group) == list(range(60))
    assert all(total * 0.27 < sum(AREAS[n] for n in group) <= total * 0.3 for group in groups)
    assert all(max(AREAS[n] for n in group) > 17 for group in [*groups, left])


def test_nothing_is_to_be_left_over() -> None:
    """Where nothing may be left over every piece has a sheet, even where it is too much."""
    total = sum(AREAS.values())
    groups, left = deal(range(60), AREAS, [total / 3] * 3, 0.0)
    assert left == []
    areas = [sum(AREAS[n] for n in group) for group in groups]
    assert max(areas) - min(areas) < 5


def test_equal_pieces_are_dealt_alike() -> None:
    """Equal pieces go to equal sheets, as many on each."""
    groups, left = deal(range(40), dict.fromkeys(range(40), 9.0), [100.0] * 3, 60.0)
    assert [len(group) for group in groups] == [11, 11, 11]
    assert len(left) == 7


@pytest.mark.parametrize(("most", "kept"), [(10.0, [1, 2]), (7.0, [0, 2]), (3.5, [0]), (9.9, [0])])
def test_as_little_as_suffices_is_taken_off(most: float, kept: list[int]) -> None:
    """The smallest piece that is enough goes, or the largest first."""
    areas = {0: 2.0, 1: 4.5, 2: 5.0}
    found = reduced([0, 1, 2], areas, most)
    assert sum(areas[n] for n in found) <= most
    if most != 9.9:
        assert found == kept


def test_exchange_brings_about_what_is_asked() -> None:
    """The exchange whose gain comes nearest is taken; too little is none."""
    areas = {0: 10.0, 1: 6.0, 2: 11.0, 3: 4.0}
    assert exchange([0, 1], [2, 3], areas, 4.0) == (None, 3)
    assert exchange([0, 1], [2, 3], areas, 1.0) == (0, 2)
    assert exchange([0, 1], [2], areas, 5.0) == (1, 2)
    assert exchange([2], [3], areas, 20.0) is None
    assert exchange([0], [], areas, 1.0) is None

"""Filling within a time: never worse than fast, proven, the same where it comes equally far."""

import sys
from collections.abc import Callable
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, unary_union

from namebatch.sheet import tight, tries
from namebatch.sheet.blocks import Block
from namebatch.sheet.fill import FILLS
from namebatch.sheet.model import Placement
from namebatch.sheet.wishes import NoWatch, Wishes
from tests.sheet.shapes import block_of, proven, used_length

USABLE = (5.0, 7.0, 120.0, 90.0)
GAP = 2.0
QUARTERS = (0.0, 90.0, 180.0, 270.0)
LONG = 600.0
"""Seconds that no search here needs: each comes to its own end."""


@pytest.fixture(autouse=True)
def _short_searches(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fewer tries and steps than a job gets."""
    monkeypatch.setattr(tries, "LOOKS", tries.LOOKS / 50)
    monkeypatch.setattr(tight, "STEPS", (200, 100, 30))
    monkeypatch.setattr(tight, "TIMES", 1)


def _bent(random: Random) -> Polygon:
    """A chain of discs: a shape with bays, as names have them."""
    x = y = 0.0
    discs = []
    for _ in range(random.randint(3, 6)):
        discs.append(Point(x, y).buffer(random.uniform(4, 7), quad_segs=6))
        x, y = x + random.uniform(5, 8), y + random.uniform(-5, 5)
    return unary_union(discs)


def _names(count: int, seed: int, turns: tuple[float, ...] = QUARTERS) -> list[Block]:
    random = Random(seed)
    return [block_of(k, _bent(random), turns) for k in range(count)]


def _filled(way: str, blocks: list[Block], wishes: Wishes) -> list[list[Placement]]:
    return FILLS[way](blocks, USABLE, GAP, wishes)


def _length(sheets: list[list[Placement]], blocks: list[Block]) -> float:
    return used_length(sheets, blocks, USABLE)


@settings(
    max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.integers(1, 26),
    st.integers(0, 999),
    st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0), QUARTERS, (90.0, 270.0)]),
    st.sampled_from([0.5, 1.5]),
)
def test_never_worse_than_fast(
    count: int, seed: int, turns: tuple[float, ...], seconds: float
) -> None:
    """Whatever the list and however short the time: proven, and no longer than fast."""
    blocks = _names(count, seed, turns)
    quick = _filled("fast", blocks, Wishes())
    sheets = _filled("tight", blocks, Wishes(seconds=seconds))
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert {place.rotation_deg for sheet in sheets for place in sheet} <= set(turns)
    assert _length(sheets, blocks) <= _length(quick, blocks) + 1e-6


def test_fewer_sheets_than_fast() -> None:
    """A list that fast needs another sheet for is packed on one."""
    blocks = _names(17, 2)
    quick = _filled("fast", blocks, Wishes())
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert (len(quick), len(sheets)) == (2, 1)


def test_the_same_twice() -> None:
    """Two searches that come to their end find the same sheets."""
    first, second = (_filled("tight", _names(17, 2), Wishes(seconds=LONG)) for _ in range(2))
    assert first == second


def test_equal_pieces() -> None:
    """Of equal pieces, sheets are packed once and none is lost."""
    star = unary_union([box(0, 10, 30, 20), box(10, 0, 20, 30)])
    blocks = [block_of(k, star, (0.0,), kind=0) for k in range(14)]
    quick = _filled("fast", blocks, Wishes())
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert _length(sheets, blocks) <= _length(quick, blocks)


def test_two_kinds_and_single_ones() -> None:
    """Equal and different pieces together: nothing is lost, none takes another's name."""
    random = Random(2)
    shapes = [box(0, 0, 30, 12)] * 8 + [Point(0, 0).buffer(9)] * 8 + [_bent(random)] * 4
    kinds = [0] * 8 + [1] * 8 + [2] * 4
    blocks = [
        block_of(k, shape, QUARTERS, kind)
        for k, (shape, kind) in enumerate(zip(shapes, kinds, strict=True))
    ]
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert proven(sheets, blocks, USABLE, GAP) == ""


def test_only_the_emptiest_sheets_are_packed_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no time for all sheets, the fullest stay as they are."""
    blocks = _names(50, 5)
    monkeypatch.setattr(tight, "SHEET_S", LONG)
    quick = _filled("fast", blocks, Wishes())
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert len(quick) > 3
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert len([sheet for sheet in quick if sheet in sheets]) >= len(quick) - 2


@pytest.mark.parametrize("executable", ["/bin/false", "/bin/true"])
def test_a_breakdown_costs_nothing(executable: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no strip can be packed at all the sheets are those of fast."""
    monkeypatch.setattr(sys, "executable", executable)
    blocks = _names(25, 8)
    quick = _filled("fast", blocks, Wishes())
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert _length(sheets, blocks) <= _length(quick, blocks)


class _Watch(NoWatch):
    """Notes what it hears and ends the search when a condition holds."""

    def __init__(self, enough: Callable[[list[tuple[float, float]]], bool]) -> None:
        self.heard: list[tuple[float, float]] = []
        self._enough = enough

    def told(self, share: float, sheets: float) -> None:
        self.heard.append((share, sheets))

    def stopped(self) -> bool:
        return self._enough(self.heard)


def test_stopped_at_once_is_fast() -> None:
    """A search that is ended before it began leaves the sheets of fast."""
    blocks = _names(30, 8)
    stopped = Wishes(seconds=LONG, watch=_Watch(lambda heard: True))
    assert _filled("tight", blocks, stopped) == _filled("fast", blocks, Wishes())


def test_stopped_early_keeps_the_best(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that is ended as soon as it is better keeps what it told of."""
    monkeypatch.setattr(tight, "STEPS", (200, 10**9, 10**9))
    blocks = _names(17, 2)
    watch = _Watch(lambda heard: any(sheets < heard[0][1] for _, sheets in heard))
    sheets = _filled("tight", blocks, Wishes(seconds=LONG, watch=watch))
    assert proven(sheets, blocks, USABLE, GAP) == ""
    assert _length(sheets, blocks) <= watch.heard[-1][1] + 1e-3
    assert watch.heard[-1][0] == 1.0
    lengths = [length for _, length in watch.heard]
    assert lengths == sorted(lengths, reverse=True)


def test_list_order_is_for_fast() -> None:
    """Where list order is kept there is nothing to search."""
    blocks = _names(30, 8)
    kept = _filled("tight", blocks, Wishes(keep_order=True, seconds=LONG))
    assert kept == _filled("fast", blocks, Wishes(keep_order=True))


@pytest.mark.parametrize("count", [0, 1, 2])
def test_next_to_nothing(count: int) -> None:
    """Few pieces, or none, or one as large as the sheet, are no trouble."""
    blocks = [block_of(k, box(0, 0, 120, 90), (0.0,)) for k in range(count)]
    sheets = _filled("tight", blocks, Wishes(seconds=LONG))
    assert len(sheets) == count
    assert proven(sheets, blocks, USABLE, GAP) == ""

"""The time of a search, and what a user may ask for."""

from itertools import count

import pytest

from namebatch.errors import SettingsError
from namebatch.sheet import tight_clock
from namebatch.sheet.tight_clock import Clock, seconds_of
from namebatch.sheet.wishes import Wishes


class _Watch:
    def __init__(self) -> None:
        self.heard: list[tuple[float, float]] = []
        self.seen_enough = False

    def told(self, share: float, sheets: float) -> None:
        self.heard.append((share, sheets))

    def stopped(self) -> bool:
        return self.seen_enough


@pytest.fixture(autouse=True)
def _seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    """A second passes whenever somebody looks."""
    ticks = count()
    monkeypatch.setattr(tight_clock, "monotonic", lambda: float(next(ticks)))


def test_goes_on_until_its_share_is_over() -> None:
    """A search goes on for its share of the time, and is told of."""
    watch = _Watch()
    clock = Clock(Wishes(seconds=10, watch=watch))
    clock.sheets = 3.5
    assert [clock.going_on(0.3) for _ in range(4)] == [True, True, False, False]
    assert clock.going_on()
    clock.over()
    assert watch.heard[0] == (0.1, 3.5)
    assert watch.heard[-1] == (1.0, 3.5)


def test_whoever_watches_may_end_it() -> None:
    """A search ends as soon as the watch has seen enough."""
    watch = _Watch()
    clock = Clock(Wishes(seconds=10, watch=watch))
    assert clock.going_on()
    watch.seen_enough = True
    assert not clock.going_on()


def test_seconds_that_may_be_asked_for() -> None:
    """Only a way with a budget has one, and there is a usual one."""
    assert seconds_of("fast", None, True) is None
    assert seconds_of("tight", None, False) == 30
    assert seconds_of("tight", 36_000, False) == 36_000


@pytest.mark.parametrize(
    ("fill", "seconds", "ordered", "message"),
    [
        ("fast", 20, False, "the fast way takes what it needs"),
        ("tight", 20, True, "cannot keep list order"),
        ("tight", 0, False, "give 1 to 36000 seconds"),
        ("tight", 36_001, False, "give 1 to 36000 seconds"),
        ("tight", float("nan"), False, "give 1 to 36000 seconds"),
    ],
)
def test_seconds_that_may_not(fill: str, seconds: float, ordered: bool, message: str) -> None:
    """What cannot be is refused with the remedy."""
    with pytest.raises(SettingsError, match=message):
        seconds_of(fill, seconds, ordered)

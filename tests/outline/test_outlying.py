"""The farthest of the places on a way along a ring, against looking at every one."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import namebatch.outline.outlying as module
from namebatch.outline.outlying import farthest_of, farthest_on_way, on_along_runs, outlying
from tests.outline.rough import plain


@settings(deadline=None)
@given(st.data(), st.integers(1, 90), st.sampled_from([1, -1]), st.booleans())
def test_the_farthest_on_any_way(data: st.DataObject, size: int, step: int, even: bool) -> None:
    """Over the ring's start or not, forwards or back, the same place; of equal ones the first."""
    before = data.draw(st.integers(0, 40))
    random = np.random.default_rng(size + 100 * before)
    x, y = random.random((2, before + size + 7))
    if even:  # many are equally far
        x, y = np.round(3 * x), np.round(3 * y)
    start, end = (before + data.draw(st.integers(0, size - 1)) for _ in range(2))
    at = (1.0, 0.5)
    way = []
    k = start
    while k != end:
        way.append(k)
        k = before + (k - before + step) % size
    away = (x - at[0]) ** 2 + (y - at[1]) ** 2
    found = farthest_on_way(outlying(x, y), before, before + size, start, end, step, *at)
    expected = way[int(np.argmax(away[way]))] if way else -1
    assert found == (expected, away[expected] if way else -1.0)


@settings(deadline=None)
@given(st.lists(st.lists(st.integers(-1, 2), min_size=1, max_size=12), min_size=1, max_size=3))
def test_how_far_runs_go_on(rings: list[list[int]]) -> None:
    """Places of one run are counted over the ring's start, and once round at most."""
    run = np.concatenate([np.array(ring) for ring in rings])
    first = np.cumsum([0, *map(len, rings)])
    ahead, behind = on_along_runs(run, first)
    for low, ring in zip(first, rings, strict=False):
        for k in range(len(ring)):
            for found, step in ((ahead, 1), (behind, -1)):
                size = len(ring)
                on = [ring[(k + step * i) % size] == ring[k] for i in range(size)]
                assert found[low + k] == (on.index(False) if False in on else size)


def test_few_places_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a long line the farthest place is found by its boxes: what is read hardly grows."""

    class Counted:
        def __init__(self, values: list[float]) -> None:
            self.values, self.read = values, 0

        def __getitem__(self, k: int) -> float:
            self.read += 1
            return self.values[k]

    monkeypatch.setattr(module, "_reach", plain(vars(module)["_reach"]))
    reads = []
    for size in (1_000, 16_000):
        places = outlying(np.arange(size) / 7, np.zeros(size))
        x = Counted(list(places.x))
        places = places._replace(x=x)  # type: ignore[arg-type]
        plain(farthest_of)(places, 1, size - 1, 1, 20.0, 3.0, -1.0)
        reads.append(x.read)
    assert reads[1] < 2 * reads[0] < 100

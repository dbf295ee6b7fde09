"""Strips packed in processes of their own: what comes back, and that nothing else does."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from shapely import Polygon, affinity

from namebatch.sheet import strip
from namebatch.sheet.strip import StripAnswer, StripItem, StripProblem, pack_strips

WORKER = Path(strip.__file__).with_name("strip_worker.py")
HOOK = ((0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0))
QUARTERS = (0.0, 90.0, 180.0, 270.0)
HOOKS = StripProblem(90.0, (StripItem(HOOK, 12, QUARTERS),), (140.0, 125.0), 7, 150)
TOO_LARGE = StripProblem(40.0, (StripItem(HOOK, 1, (0.0,)),), (50.0,), 7, 100)
NOT_A_NUMBER = StripProblem(
    90.0, (StripItem(((0.0, 0.0), (float("nan"), 0.0), (0.0, 9.0)), 1, (0.0,)),), (50.0,), 7, 100
)
ENDLESS = StripProblem(90.0, (StripItem(HOOK, 12, QUARTERS),), (1.0,), 7, 10**9)


def _always() -> bool:
    return True


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[subprocess.Popen[str]]:
    """Every process that is started."""
    processes: list[subprocess.Popen[str]] = []
    popen = subprocess.Popen

    def start(*arguments: object, **options: object) -> subprocess.Popen[str]:
        process: subprocess.Popen[str] = popen(*arguments, **options)  # type: ignore[call-overload]
        processes.append(process)
        return process

    monkeypatch.setattr(subprocess, "Popen", start)
    return processes


def _lying(problem: StripProblem, answer: StripAnswer) -> list[Polygon]:
    return [
        affinity.translate(
            affinity.rotate(Polygon(problem.items[item].points), turn, origin=(0, 0)), x, y
        )
        for item, turn, x, y in answer.placed
    ]


def test_items_lie_in_the_strip_apart() -> None:
    """All items lie in a strip that is no longer than the target, and none on another."""
    [answer] = pack_strips([HOOKS], _always)
    shapes = _lying(HOOKS, answer)
    assert answer.ended
    assert len(shapes) == 12
    assert {turn % 360 for _, turn, _, _ in answer.placed} <= set(QUARTERS)
    for k, shape in enumerate(shapes):
        x0, y0, x1, y1 = shape.bounds
        assert min(x0, y0) >= -1e-3
        assert y1 <= HOOKS.height + 1e-3
        assert x1 <= HOOKS.targets[0] + 1e-3
        assert all(shape.intersection(other).area < 0.1 for other in shapes[:k])


def test_the_same_twice() -> None:
    """The same problem has the same answer: its end is a count of steps, not the clock."""
    assert pack_strips([HOOKS], _always) == pack_strips([HOOKS], _always)


def test_out_of_reach_tells_the_shortest() -> None:
    """What is not reached has no places, but the shortest length that was."""
    problem = StripProblem(90.0, HOOKS.items, (60.0,), 7, 40)  # the items' area alone needs 80
    [answer] = pack_strips([problem], _always)
    assert answer.ended
    assert answer.placed == ()
    assert 80 <= answer.length < 200


@pytest.mark.parametrize("bad", [TOO_LARGE, NOT_A_NUMBER], ids=["too large", "not a number"])
def test_a_breakdown_costs_one_strip(bad: StripProblem, capfd: pytest.CaptureFixture[str]) -> None:
    """A process that breaks down has an empty answer, in silence; the others are packed."""
    first, broken, last = pack_strips([HOOKS, bad, HOOKS], _always)
    assert broken == StripAnswer()
    assert first == last
    assert first.placed
    assert capfd.readouterr() == ("", "")


def test_ends_when_told(
    started: list[subprocess.Popen[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once nobody wants to go on, what was reached stands and every process is gone."""
    heard: list[StripAnswer] = []

    def answer(*values: object) -> StripAnswer:
        heard.append(StripAnswer(*values))  # type: ignore[arg-type]
        return heard[-1]

    monkeypatch.setattr(strip, "StripAnswer", answer)
    problem = StripProblem(90.0, HOOKS.items, (200.0, 1.0), 7, 10**9)
    answers = pack_strips([problem, ENDLESS, HOOKS], lambda: not any(one.placed for one in heard))
    assert [answer.ended for answer in answers] == [False, False, False]
    assert len(answers[0].placed) == 12
    assert answers[2] == StripAnswer()
    assert len(started) == 2
    assert all(process.poll() is not None for process in started)


def test_no_process_survives_an_interruption(started: list[subprocess.Popen[str]]) -> None:
    """Ctrl-C while strips are packed leaves no process behind."""
    asked = 0

    def interrupted() -> bool:
        nonlocal asked
        asked += 1
        if asked == 3:
            raise KeyboardInterrupt
        return True

    with pytest.raises(KeyboardInterrupt):
        pack_strips([ENDLESS, ENDLESS], interrupted)
    assert len(started) == 2
    assert all(process.poll() is not None for process in started)


def test_worker_ends_with_its_starter() -> None:
    """A worker whose starter is gone, and with it its standard input, ends by itself."""
    words = {"height": 90.0, "items": [(HOOK, 12, QUARTERS)], "targets": [1.0], "seed": 7}
    with subprocess.Popen(
        [sys.executable, "-P", str(WORKER)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdin is not None
        process.stdin.write(json.dumps({**words, "steps": 10**9}) + "\n")
        process.stdin.flush()
        with pytest.raises(subprocess.TimeoutExpired):
            process.wait(1)
        process.stdin.close()
        assert process.wait(60) == 1

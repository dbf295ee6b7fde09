"""Packing strips: a band of fixed height that is to become as short as asked. mm and degrees.

Each strip is packed in a process of its own, two at a time: what fails there, however badly, costs
that strip and nothing else.
"""

import json
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Any

PROCESSES = 2
"""So many strips are packed at a time. A fixed number: what is found must not depend on it."""
POLL_S = 0.05

Spot = tuple[int, float, float, float]
"""Number of an item, its turn about its origin, counter-clockwise, and where that lies: x, y."""


@dataclass(frozen=True, slots=True)
class StripItem:
    """A shape to place so many times.

    Attributes:
        points: a simple polygon, first point not repeated.
        demand: how often.
        turns_deg: counter-clockwise about 0, 0.
    """

    points: tuple[tuple[float, float], ...]
    demand: int
    turns_deg: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class StripProblem:
    """What is to be packed.

    Attributes:
        height: of the strip, along y.
        items: what lies in it; all of them.
        targets: lengths along x that are worth hearing of, longest first; the last ends the work.
        seed: of the search.
        steps: so many steps of the search at most.
    """

    height: float
    items: tuple[StripItem, ...]
    targets: tuple[float, ...]
    seed: int
    steps: int


@dataclass(frozen=True, slots=True)
class StripAnswer:
    """What was found.

    Attributes:
        length: the shortest strip; 0 if there was none.
        placed: one spot a piece, of the shortest target that was reached; empty if none was.
        ended: the search came to its own end; else it was cut short or broke down.
    """

    length: float = 0.0
    placed: tuple[Spot, ...] = ()
    ended: bool = False


def pack_strips(
    problems: Sequence[StripProblem], going_on: Callable[[], bool]
) -> list[StripAnswer]:
    """Pack strips, two at a time, in this order.

    Args:
        problems: independent of each other.
        going_on: asked many times a second; once it says no, all ends with what there is.

    Returns:
        One answer a problem. A problem whose process breaks down has an empty one.
    """
    answers = [StripAnswer()] * len(problems)
    waiting = list(range(len(problems)))
    running: dict[int, _Run] = {}
    try:
        while (waiting or running) and going_on():
            while waiting and len(running) < PROCESSES:
                number = waiting.pop(0)
                running[number] = _Run(problems[number])
            for number, run in list(running.items()):
                # those that have just been asked wait for each other
                if run.hear(POLL_S / len(running)):
                    answers[number] = run.answer
                    running.pop(number).close()
    finally:
        for number, run in running.items():
            run.close()
            run.hear(0.0)
            answers[number] = run.answer
    return answers


class _Run:
    """The process of one strip."""

    def __init__(self, problem: StripProblem) -> None:
        self.answer = StripAnswer()
        self._heard: SimpleQueue[dict[str, Any] | None] = SimpleQueue()
        # a group of its own: Ctrl-C on the terminal is not meant for it
        self._process = subprocess.Popen(
            [sys.executable, "-P", str(Path(__file__).with_name("strip_worker.py"))],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            start_new_session=True,
        )
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self._ask(problem)

    def hear(self, wait_s: float) -> bool:
        """Take in what it said; True if it says no more."""
        while True:
            try:
                said = self._heard.get(timeout=wait_s) if wait_s else self._heard.get_nowait()
            except Empty:
                return False
            if said is None:
                return True
            wait_s = 0.0
            placed = said["placed"]
            self.answer = StripAnswer(
                said["length"],
                self.answer.placed if placed is None else tuple(map(tuple, placed)),
                placed is None,
            )

    def close(self) -> None:
        """End the process."""
        self._process.kill()
        self._process.wait()
        self._reader.join()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                _shut(pipe.close)

    def _ask(self, problem: StripProblem) -> None:
        words = json.dumps(
            {
                "height": problem.height,
                "items": [(item.points, item.demand, item.turns_deg) for item in problem.items],
                "targets": problem.targets,
                "seed": problem.seed,
                "steps": problem.steps,
            }
        )
        pipe = self._process.stdin
        if pipe is not None:
            _shut(lambda: (pipe.write(words + "\n"), pipe.flush()))

    def _read(self) -> None:
        if self._process.stdout is not None:
            for line in self._process.stdout:
                # a line that its end cut short tells nothing
                if line.endswith("\n"):
                    self._heard.put(json.loads(line))
        self._heard.put(None)


def _shut(call: Callable[[], object]) -> None:
    """Speak to a process that may have gone."""
    try:
        call()
    except (BrokenPipeError, ConnectionError):
        return

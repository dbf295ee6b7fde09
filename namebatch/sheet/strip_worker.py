"""A process of its own that packs one strip: JSON on standard input, JSON lines on standard output.

Run as a script, so that it loads nothing but the packing library: that may end its process on a
shape which it does not like. It ends as soon as its standard input is closed, so it never outlives
the process that started it.

What it answers depends on the problem alone, not on the clock: the library shortens a strip step
by step, the same steps for the same seed, and the work is limited by counting them. Its second
phase goes by the clock and is not used.
"""

import json
import os
import sys
import threading
import time
from typing import Any, TextIO

import spyrrow

POLL_S = 0.01
HOUR_S = 3600
MOST_HOURS = 100


def main() -> None:
    """Read a problem, answer with every target that is reached, then with the shortest length."""
    answers = _quiet()
    problem = json.loads(sys.stdin.readline())
    threading.Thread(target=_end_with_starter, daemon=True).start()
    queue = spyrrow.ProgressQueue()
    solved = threading.Event()
    solving = threading.Thread(target=_solve, args=(problem, queue, solved), daemon=True)
    solving.start()
    if _followed(problem, queue, solving, answers) or solved.is_set():
        _say(answers, problem["shortest"], None)
    # the library cannot be told to stop
    os._exit(0)


def _quiet() -> TextIO:
    """Keep standard output for the answers; what the library says of itself goes nowhere."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    return answers


def _end_with_starter() -> None:
    sys.stdin.read()
    os._exit(1)


def _solve(problem: dict[str, Any], queue: spyrrow.ProgressQueue, solved: threading.Event) -> None:
    items = [
        spyrrow.Item(str(number), [(x, y) for x, y in points], demand, turns)
        for number, (points, demand, turns) in enumerate(problem["items"])
    ]
    strip = spyrrow.StripPackingInstance("strip", problem["height"], items)
    strip.solve(
        spyrrow.StripPackingConfig(
            early_termination=False,
            quadtree_depth=3,
            total_computation_time=None,
            exploration_time=MOST_HOURS * HOUR_S,
            compression_time=1,
            num_workers=1,
            seed=problem["seed"],
        ),
        queue,
    )
    solved.set()


def _followed(
    problem: dict[str, Any],
    queue: spyrrow.ProgressQueue,
    solving: threading.Thread,
    answers: TextIO,
) -> bool:
    """Watch the strip get shorter; True at the last target or the end of the work."""
    targets = list(problem["targets"])
    problem["shortest"] = 0.0
    steps = 0
    alive = True
    while alive:
        alive = solving.is_alive()
        for kind, found in queue.drain():
            steps += 1
            if kind == spyrrow.ReportType.ExplFeas:
                problem["shortest"] = found.width
                if targets and found.width <= targets[0]:
                    _say(answers, found.width, found)
                targets = [target for target in targets if found.width > target]
            if not targets or steps >= problem["steps"]:
                return True
        time.sleep(POLL_S)
    return False


def _say(answers: TextIO, length: float, found: spyrrow.StripPackingSolution | None) -> None:
    placed = None
    if found is not None:
        placed = [(int(item.id), item.rotation, *item.translation) for item in found.placed_items]
    answers.write(json.dumps({"length": length, "placed": placed}) + "\n")
    answers.flush()


if __name__ == "__main__":
    main()

"""Makes a list in sections again and again, kills it with SIGKILL at some moment, makes it whole.

Run as a program of its own: it prints what it saw as JSON. The kills come at random moments of a
run; the next runs must take what was whole then, as it was, and end with the same bytes.
"""

import json
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

from namebatch.sections import kept_for
from tests.sections import batches

SECTIONS = 3


def command(path: Path, out: Path) -> list[str]:
    """Make the list."""
    return [sys.executable, "-m", "tests.sections.killing", "make", str(path), str(out)]


def whole(out: Path) -> dict[str, int]:
    """Whole sections that lie there, with the moment in which their marker was written."""
    kept = kept_for(out)
    found = sorted(kept.glob("*/section.json")) if kept else []
    return {m.parent.name: m.stat().st_mtime_ns for m in found if m.parent.suffix == ""}


def begun(path: Path, out: Path) -> subprocess.Popen[bytes]:
    """A run whose first section is just about to be made."""
    # a group of its own: the processes that it has started end by themselves
    run = subprocess.Popen(command(path, out), stdout=subprocess.DEVNULL, start_new_session=True)
    while run.poll() is None and not kept_for(out):
        time.sleep(0.005)
    return run


def killed_after(path: Path, out: Path, seconds: float) -> bool:
    """Start a run and kill it so many seconds after its first section has begun.

    Returns:
        True if it was still at it.
    """
    run = begun(path, out)
    until = time.monotonic() + seconds
    while run.poll() is None and time.monotonic() < until:
        time.sleep(0.005)
    run.kill()
    return run.wait() == -signal.SIGKILL


def run(folder: Path, times: int) -> dict[str, object]:
    """Kill so many runs.

    Returns:
        How many were killed, how many sections the runs after them took, and what was wrong.
    """
    path = batches.plain_list(folder)
    # the first one may have loops to compile, which no later one has: its time says nothing
    for name in ("compiled", "whole"):
        first = begun(path, folder / name)
        started = time.perf_counter()
        if first.wait():
            raise RuntimeError("the job cannot be made")
        length = time.perf_counter() - started
    after = batches.files_of(folder / "whole")
    chance, wrong, killed, taken = random.Random(7), list[str](), 0, 0
    for number in range(times):
        place = folder / f"run-{number}"
        place.mkdir()
        out = place / "job"
        killed += killed_after(path, out, length * chance.uniform(0.0, 1.0))
        if out.exists() and (out / "job.json").exists() and batches.files_of(out) != after:
            wrong.append(f"{number}: a half job stands there")
        # once the job stands, what is left of its sections is only being cleared away
        stood, before = (out / "job.json").exists(), whole(out)
        told = subprocess.run(command(path, out), check=True, capture_output=True, text=True)
        made = json.loads(told.stdout)
        taken += len(before)
        if not stood and len(made) != SECTIONS - len(before):
            wrong.append(f"{number}: {sorted(before)} were whole, and {made} were made")
        if batches.files_of(place) != {f"job/{name}": digest for name, digest in after.items()}:
            wrong.append(f"{number}: not the same after the next run")
        shutil.rmtree(place)
    return {"killed": killed, "taken": taken, "wrong": wrong}


def make(path: Path, out: Path) -> list[int]:
    """Make the list; gives the numbers of the sections that were made and not taken."""
    from tests.sections.test_resume import Counting

    crew = Counting()
    batches.made(path, out, crew=crew)
    return crew.numbers


if __name__ == "__main__":
    if sys.argv[1] == "make":
        print(json.dumps(make(Path(sys.argv[2]), Path(sys.argv[3]))))
    else:
        print(json.dumps(run(Path(sys.argv[1]), int(sys.argv[2]))))

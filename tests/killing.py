"""Writes a job again and again, kills it with SIGKILL at some moment, and writes it to the end.

The jobs come into an empty place, take the place of another one, or that of the same one, where
the next run must know the folder for its own without being told to replace it. Kills before each
single step, with small files, are in `tests.output.killing`.

Run as a program of its own, so that forking meets no threads: it prints what it saw as JSON.
"""

import json
import random
import shutil
import sys
import time
from dataclasses import dataclass
from functools import partial
from hashlib import sha256
from pathlib import Path

from namebatch.job import Job
from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.forked import exit_of

NAMES = "name\n" + "".join(f"{name}\n" for name in ("Marlo", "Inka", "Zoë", "Bo"))
OTHER = "name\nOdile\n"


def job_of(names: Path) -> Job:
    """What is written."""
    return make_job(plan_job(names, Settings("key-fob", workers=1)), silent)


def write(job: Job, out: Path, replace: bool) -> None:
    """Write a job.

    Args:
        job: what was made.
        out: its folder.
        replace: another job in it is replaced.
    """
    write_job(job, out, replace=replace, progress=silent)


@dataclass(frozen=True, slots=True)
class Kill:
    """When a writer is killed, and what stands in its folder: nothing, another job, or the same."""

    there: str
    seconds: float


def files_of(folder: Path) -> dict[str, str]:
    """Every file below a folder, hidden ones too, with its digest."""
    return {
        path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def state_of(out: Path, before: dict[str, str], after: dict[str, str]) -> str:
    """What stands under a job's final name: nothing, the job before, the new one, or a mixture."""
    found = files_of(out) if out.exists() else {}
    if found == after:
        return "the new job"
    if found == before:
        return "as before"
    if "job.json" in found:
        return "half, with a manifest"
    whole = all(digest in (before.get(name), after.get(name)) for name, digest in found.items())
    return "without a manifest" if whole else "half a file"


def run(folder: Path, times: int) -> dict[str, object]:
    """Kill so many writers.

    Returns:
        How often each state was seen after a kill, what was wrong, and the files of the job.
    """
    names, other = folder / "names.csv", folder / "other.csv"
    names.write_text(NAMES, encoding="utf-8")
    other.write_text(OTHER, encoding="utf-8")
    job, earlier = job_of(names), job_of(other)
    started = time.perf_counter()
    exit_of(partial(write, job, folder / "whole", False))
    length = time.perf_counter() - started
    exit_of(partial(write, earlier, folder / "before", False))
    after, before = files_of(folder / "whole"), files_of(folder / "before")
    chance, seen, wrong = random.Random(5), dict[str, int](), list[str]()
    kills = [
        Kill(("", "before", "whole")[n % 3], length * chance.uniform(0.0, 1.1))
        for n in range(times)
    ]
    for number, kill in enumerate(kills):
        place = folder / f"run-{number}"
        out, there = place / "job", {"": {}, "before": before, "whole": after}[kill.there]
        place.mkdir()
        if kill.there:
            shutil.copytree(folder / kill.there, out)
        replace = kill.there == "before"
        ended = exit_of(partial(write, job, out, replace), kill.seconds) == 0
        state = "ended" if ended else state_of(out, there, after)
        seen[state] = seen.get(state, 0) + 1
        if state.startswith("half"):
            wrong.append(f"{kill}: {state}")
        if exit_of(partial(write, job, out, replace)) or files_of(place) != {
            f"job/{name}": digest for name, digest in after.items()
        }:
            wrong.append(f"{kill}: not the same after the next run")
        shutil.rmtree(place)
    return {"seen": seen, "wrong": wrong, "files": len(after), "kills": len(kills)}


if __name__ == "__main__":
    print(json.dumps(run(Path(sys.argv[1]), int(sys.argv[2]))))

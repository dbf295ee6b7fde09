"""Commands run to their end, with their time and the memory of all their processes."""

import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

EVERY_S = 0.5
"""So often memory is looked at, which takes time from what is measured."""
SYLLABLES = [consonant + vowel for consonant in "bdlmnrstv" for vowel in "aeiou"]


@dataclass(frozen=True, slots=True)
class Run:
    """A command that ended.

    Attributes:
        seconds: on the clock.
        peak_mib: the most memory that its processes had together, shared pages counted once; 0
            where nobody looked.
        status: of its exit.
    """

    seconds: float
    peak_mib: float
    status: int


def run(command: Sequence[str], watched: bool = False) -> Run:
    """Run a command; its memory is watched on Linux only, where ``/proc`` tells it."""
    begun = time.monotonic()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    peak = 0.0
    while watched and process.poll() is None:
        peak = max(peak, sum(map(_share_kib, _tree(process.pid))))
        time.sleep(EVERY_S)
    process.wait()
    return Run(time.monotonic() - begun, peak / 1024, process.returncode)


def best_cpu_seconds(command: Sequence[str], times: int = 9) -> float:
    """Processor time of the quickest of several runs of a short command."""
    found = []
    for _ in range(times):
        before = _spent()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        found.append(_spent() - before)
    return min(found)


def made_up_names(count: int) -> list[str]:
    """So many different names of two to four syllables; always the same."""
    random = Random(7)
    names: dict[str, None] = {}
    while len(names) < count:
        parts = random.choices(SYLLABLES, k=random.randint(2, 4))
        name = "".join(parts).capitalize()
        if name in names:  # the short ones run out
            name = f"{name} {''.join(random.choices(SYLLABLES, k=2)).capitalize()}"
        names[name] = None
    return list(names)


def made(folder: Path, template: str, count: int, *options: str, watched: bool = False) -> Run:
    """Run ``namebatch make`` over so many names into a folder of its own.

    Raises:
        RuntimeError: it did not make every row.
    """
    listed = folder / f"{count}.csv"
    if not listed.exists():
        listed.write_text("name\n" + "\n".join(made_up_names(count)) + "\n", encoding="utf-8")
    out = folder / f"{template}-{count}{''.join(options)}"
    done = run(
        [
            sys.executable, "-m", "namebatch", "make", str(listed), "--template", template,
            "--out", str(out), *options,
        ],
        watched,
    )  # fmt: skip
    if done.status not in (0, 1):
        raise RuntimeError(f"making {count} of {template} ended with {done.status}")
    return done


def _spent() -> float:
    times = resource.getrusage(resource.RUSAGE_CHILDREN)  # finer than `os.times`
    return times.ru_utime + times.ru_stime


def _tree(process: int) -> list[int]:
    found = [process]
    try:
        told = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii")
    except OSError:  # it has just ended
        return found
    for child in told.split():
        found += _tree(int(child))
    return found


def _share_kib(process: int) -> float:
    try:
        told = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="ascii")
    except OSError:
        return 0.0
    return float(next(line.split()[1] for line in told.splitlines() if line.startswith("Pss:")))

"""Workers whose parent is killed."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

PATIENCE_S = 120.0
SOON_S = 30.0
"""Far more than it takes, for machines that are busy."""
ROOT = Path(__file__).parents[1]

RUN = """
import sys, time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from namebatch.orphans import end_with_parent
from namebatch.standby import worker_context
import os

if __name__ == "__main__":
    with ProcessPoolExecutor(2, CONTEXT, end_with_parent) as pool:
        asked = [pool.submit(os.getpid) for _ in range(8)]
        print(*sorted({one.result() for one in asked}), flush=True)
        time.sleep(600)
"""


def runs(process: int) -> bool:
    """True while a process is there and no mere entry in the table."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are seen by /proc")
@pytest.mark.parametrize("context", ['get_context("spawn")', "worker_context()"])
def test_workers_end_when_their_parent_is_killed(tmp_path: Path, context: str) -> None:
    """Killed without a word, it leaves nobody waiting for work behind."""
    script = tmp_path / "run.py"
    script.write_text(RUN.replace("CONTEXT", context))
    parent = subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True)
    assert parent.stdout is not None
    workers = [int(word) for word in parent.stdout.readline().split()]
    assert workers
    assert all(map(runs, workers))
    os.kill(parent.pid, signal.SIGKILL)
    parent.communicate(timeout=PATIENCE_S)
    until = time.monotonic() + PATIENCE_S
    while any(map(runs, workers)) and time.monotonic() < until:
        time.sleep(0.05)
    assert not any(map(runs, workers))


BUSY = """
import os, sys, time
from pathlib import Path
{what}

if __name__ == "__main__":
    start(Path(sys.argv[1]))
    time.sleep(600)
"""
HAND = """
from namebatch.desk.hand import Hand
from tests.desk.workers import warms_for_ever

def start(told):
    os.environ["NAMEBATCH_TOLD"] = str(told)
    hand = Hand(warms_for_ever)
    globals()["hand"] = hand
"""
APART = """
from namebatch.desk.apart import Apart
from tests.desk.workers import reads_for_ever

def start(told):
    apart = Apart()
    globals()["apart"] = apart
    apart.run(reads_for_ever, told)
"""
BEGINNING = """
from namebatch.desk.hand import Hand

def start(told):
    from tests.desk.slow_start import run
    hand = Hand(run)
    globals()["hand"] = hand
"""


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are seen by /proc")
@pytest.mark.parametrize("what", [HAND, APART, BEGINNING], ids=["worker", "reader", "importing"])
def test_whoever_is_busy_ends_with_a_killed_parent(tmp_path: Path, what: str) -> None:
    """A worker that is warming up, or still being imported, and a reader over a picture."""
    script, told = tmp_path / "run.py", tmp_path / "told"
    script.write_text(BUSY.format(what=what))
    env = {**os.environ, "PYTHONPATH": str(ROOT), "NAMEBATCH_TOLD": str(told)}
    parent = subprocess.Popen([sys.executable, str(script), str(told)], env=env)
    try:
        until = time.monotonic() + PATIENCE_S
        while not (told.exists() and told.read_text().isdecimal()) and time.monotonic() < until:
            time.sleep(0.02)
        worker = int(told.read_text())
        assert runs(worker)
    finally:
        os.kill(parent.pid, signal.SIGKILL)
        parent.wait(PATIENCE_S)
    until = time.monotonic() + SOON_S
    while runs(worker) and time.monotonic() < until:
        time.sleep(0.02)
    left = runs(worker)
    if left:
        os.kill(worker, signal.SIGKILL)
    assert not left

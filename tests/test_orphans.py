"""Workers whose parent is killed."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

PATIENCE_S = 120.0

RUN = """
import sys, time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from namebatch.orphans import end_with_parent
import os

if __name__ == "__main__":
    with ProcessPoolExecutor(2, get_context("spawn"), end_with_parent) as pool:
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
def test_workers_end_when_their_parent_is_killed(tmp_path: Path) -> None:
    """Killed without a word, it leaves nobody waiting for work behind."""
    script = tmp_path / "run.py"
    script.write_text(RUN)
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

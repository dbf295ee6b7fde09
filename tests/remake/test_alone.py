"""One remake of a job at a time, whatever lies where the manifest should."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

PROGRAM = """
import sys
from pathlib import Path
from namebatch.remake.alone import alone
with alone(Path(sys.argv[1])):
    print("alone")
"""


def entered(job: Path) -> str:
    """What a process tells that was let in."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(job)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    return done.stdout


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_in_place_of_the_manifest(tmp_path: Path) -> None:
    """Nobody waits for a pipe to be written to: that it is no manifest is told later."""
    os.mkfifo(tmp_path / "job.json")
    assert entered(tmp_path) == "alone\n"


def test_a_folder_or_nothing_in_place_of_the_manifest(tmp_path: Path) -> None:
    """What is no manifest needs no lock."""
    assert entered(tmp_path) == "alone\n"
    (tmp_path / "job.json").mkdir()
    assert entered(tmp_path) == "alone\n"

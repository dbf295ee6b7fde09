"""A tight filling as a user runs it: time, progress, Ctrl-C."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.searching import Searching

ListFile = Callable[..., Path]
NAMES = "name,year\n" + "".join(
    f"{name},2026\n" for name in ("Wren", "Teal", "Marlo", "Bruna", "Ottilie", "Finch", "Isa")
)


def _started(list_file: Path, out: Path, *options: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-u", "-m", "namebatch", "make", str(list_file)]
    return subprocess.Popen(
        [*command, "--template", "ornament", "--out", str(out), "--fill", "tight", *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        env={"PYTHONWARNINGS": "error", **os.environ, "COLUMNS": "160"},
    )


def _until(process: subprocess.Popen[str], word: str) -> str:
    """What is said up to the first line with a word."""
    said = ""
    assert process.stdout is not None
    for line in process.stdout:
        said += line
        if word in line:
            return said
    pytest.fail(f'"{word}" was not said, but: {said}')


def test_time_is_recorded(list_file: ListFile, tmp_path: Path) -> None:
    """A tight job tells what it needs, takes the time that it is given, and records it."""
    out = tmp_path / "job"
    with _started(list_file(NAMES), out, "--seconds", "2") as process:
        said, wrong = process.communicate()
    assert process.returncode == 0, wrong
    assert " of 1 s" in said  # shared between printed sheets and boards
    settings = json.loads((out / "job.json").read_text(encoding="utf-8"))["settings"]
    assert (settings["fill"], settings["seconds"]) == ("tight", 2.0)


def test_ctrl_c_ends_the_search(list_file: ListFile, tmp_path: Path) -> None:
    """The first Ctrl-C ends the search, says so, and the job is finished with the best so far."""
    out = tmp_path / "job"
    with _started(list_file(NAMES), out, "--seconds", "7200") as process:
        _until(process, "of 3600 s")
        process.send_signal(signal.SIGINT)
        said, wrong = process.communicate()
    assert process.returncode == 0, wrong
    assert "the search for fewer sheets ends here" in said
    assert (out / "job.json").is_file()


def test_ctrl_c_again_ends_the_job(list_file: ListFile, tmp_path: Path) -> None:
    """The second Ctrl-C stops the job, and nothing is left."""
    out = tmp_path / "job"
    with _started(list_file(NAMES), out, "--seconds", "7200") as process:
        _until(process, "of 3600 s")
        process.send_signal(signal.SIGINT)
        _until(process, "Ctrl-C again stops the job")
        process.send_signal(signal.SIGINT)
        process.communicate()
    assert process.returncode == 130
    assert not out.exists()


def test_ctrl_c_is_given_back() -> None:
    """Only while a search tells of itself is Ctrl-C its own; then it ends the job again."""
    said: list[str] = []
    before = signal.getsignal(signal.SIGINT)
    watch = Searching(lambda share, sheets: None, said.append)
    try:
        watch.told(0.1, 2.5)
        assert signal.getsignal(signal.SIGINT) is not before
        assert not watch.stopped()
        signal.raise_signal(signal.SIGINT)
        assert watch.stopped()
        assert "the best so far is kept" in said[0]
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
        watch.told(1.0, 2.5)
        assert signal.getsignal(signal.SIGINT) is before
    finally:
        watch.close()
        signal.signal(signal.SIGINT, before)

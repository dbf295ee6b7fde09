"""Worker processes that are there soon."""

import signal
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import forkserver
from pathlib import Path

import pytest

from namebatch.rehearsal import rehearse
from namebatch.standby import LONG_BYTES, NEEDED, stand_by, worker_context

LINUX = pytest.mark.skipif(sys.platform != "linux", reason="processes are split on Linux only")


READY = f"{{'{NEEDED}', 'namebatch.output.workcard'}} <= set(__import__('sys').modules)"
"""Asked without a function of this module, which would import them itself."""


@LINUX
def test_workers_have_all_in_memory() -> None:
    """They are split off a process that has imported everything, also where this one has not."""
    with ProcessPoolExecutor(1, worker_context()) as pool:
        assert pool.submit(eval, READY).result()


def test_the_rehearsal_is_played_through() -> None:
    """What would be passed over in silence where it counts raises nothing."""
    rehearse()


@LINUX
def test_without_a_socket_processes_begin_from_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder whose name is too long for a socket is no reason to make nothing."""

    def too_long() -> None:
        raise OSError("AF_UNIX path too long")

    monkeypatch.setattr(forkserver, "ensure_running", too_long)
    assert worker_context().get_start_method() == "spawn"


def test_elsewhere_nothing_is_split(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only where it is safe."""
    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(forkserver, "ensure_running", lambda: pytest.fail("it was begun"))
    assert worker_context().get_start_method() == "spawn"


@LINUX
def test_only_long_lists_have_somebody_stand_by(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A short list is made here; one that is not there is told of when it is read."""
    begun: list[bool] = []
    monkeypatch.setattr(forkserver, "ensure_running", lambda: begun.append(True))
    listed = tmp_path / "names.csv"
    listed.write_text("name\n" * (LONG_BYTES // 5 - 1))
    for path in (listed, tmp_path / "none.csv", tmp_path / "nul\0.csv"):
        stand_by(path)
    assert not begun
    listed.write_text("name\n" * (LONG_BYTES // 5))
    stand_by(listed)
    assert begun == [True]


def hears_of_ctrl_c() -> bool:
    """False in a process that Ctrl-C does not reach."""
    return signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, ())


@LINUX
def test_ctrl_c_is_for_whoever_began_it() -> None:
    """What workers are split off prints no tracebacks of imports that were broken off."""
    with ProcessPoolExecutor(1, worker_context()) as pool:
        assert not pool.submit(hears_of_ctrl_c).result()


WAITING = """
import os, signal
from namebatch.standby import uninterrupted

signal.signal(signal.SIGINT, signal.default_int_handler)
try:
    with uninterrupted():
        os.kill(os.getpid(), signal.SIGINT)
        print("to the end")
    print("and on")
except KeyboardInterrupt:
    print("then broken off")
"""


@LINUX
def test_ctrl_c_waits_and_is_not_lost() -> None:
    """It comes through at the end of what must not be broken off."""
    told = subprocess.run(
        [sys.executable, "-c", WAITING], check=True, capture_output=True, text=True
    )
    assert told.stdout.splitlines() == ["to the end", "then broken off"]

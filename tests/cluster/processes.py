"""A scheduler and workers of dask on loopback, each a process of its own, without dashboards."""

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from namebatch.cluster.connect import connected

TOP = Path(__file__).parents[2]
START_S = 60.0


class Dask:
    """A running scheduler with its workers.

    Attributes:
        address: of the scheduler.
        workers: those that were started and not yet ended.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._started = 0
        self.workers: list[subprocess.Popen[bytes]] = []
        self._scheduler = self._start("scheduler", "--port", "0", "--scheduler-file", self._told)
        until = time.monotonic() + START_S
        while not Path(self._told).exists() and time.monotonic() < until:
            time.sleep(0.02)
        time.sleep(0.05)  # it is written at once, but not by another name
        self.address: str = json.loads(Path(self._told).read_bytes())["address"]

    @property
    def _told(self) -> str:
        return str(self._folder / "scheduler.json")

    def start_worker(self, before: str = "") -> None:
        """Start a worker, without waiting for it.

        Args:
            before: a module that it imports first.
        """
        words = ["worker", self.address, "--nthreads", "1", "--no-nanny"]
        words += ["--local-directory", str(self._folder)]
        self.workers.append(self._start(*words, *(["--preload", before] if before else [])))

    def fill(self, number: int) -> None:
        """Start as many as lack, and wait until all are there."""
        self.workers = [one for one in self.workers if one.poll() is None]
        for _ in range(number - len(self.workers)):
            self.start_worker()
        self.wait()

    def wait(self) -> None:
        """Wait until exactly those that were started are there."""
        client = connected(self.address)
        until = time.monotonic() + START_S
        try:
            while len(client.nthreads()) != len(self.workers):
                if time.monotonic() > until:
                    raise TimeoutError("the workers do not come")
                time.sleep(0.05)
        finally:
            client.close()

    def end_scheduler(self) -> None:
        """End the scheduler as a failure of power would."""
        self._scheduler.kill()

    def close(self) -> None:
        """End all, workers first."""
        for process in (*self.workers, self._scheduler):
            process.kill()
            process.wait()

    def _start(self, *words: str) -> subprocess.Popen[bytes]:
        self._started += 1
        path = filter(None, (str(TOP), os.environ.get("PYTHONPATH")))
        environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path)}
        command = [sys.executable, "-m", "dask", *words, "--host", "127.0.0.1", "--no-dashboard"]
        with (self._folder / f"log-{self._started}").open("wb") as log:
            return subprocess.Popen(command, stdout=log, stderr=log, env=environment, cwd=TOP)


@contextmanager
def dask(folder: Path, workers: int = 0) -> Iterator[Dask]:
    """A scheduler and so many workers."""
    cluster = Dask(folder)
    try:
        cluster.fill(workers)
        yield cluster
    finally:
        cluster.close()

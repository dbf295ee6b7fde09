"""Who makes rows: a worker process, started again when it is gone; or this very process."""

from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from threading import Lock
from time import monotonic
from typing import Final

from namebatch.desk.bench import Bench, set_up
from namebatch.desk.shown import Shown
from namebatch.desk.worker import BENCHES, Batch, run
from namebatch.names.row import Row
from namebatch.orphans import ending_with_parent

SECONDS_A_ROW: Final = 60.0
"""After so long a worker is taken to be stuck."""
SECONDS_TO_START: Final = 180.0
"""The first start after installing compiles what later ones find compiled."""
_LOOK_UP: Final = 0.2

Starter = Callable[[Connection], None]


class GoneError(Exception):
    """A worker ended unasked, or is stuck; it is ended for good by then."""


class NeverCameError(GoneError):
    """A worker ended before it was ready for anything."""


class Hand:
    """A worker process and the line to it.

    Args:
        starter: what the process runs.
        at_once: start it now; else `begin` does.
    """

    def __init__(self, starter: Starter = run, *, at_once: bool = True) -> None:
        self._starter = starter
        self._leaving = False
        self._benches: OrderedDict[str, None] = OrderedDict()
        self._ready = False
        self._process: SpawnProcess | None = None
        if at_once:
            self._start()

    @property
    def keys(self) -> tuple[str, ...]:
        """Dockets whose tools it has."""
        return tuple(self._benches)

    @property
    def process_id(self) -> int | None:
        """Number of the process; None once it has ended."""
        process = self._process
        return process.pid if process is not None and process.is_alive() else None

    def begin(self) -> None:
        """Start it, where that was put off."""
        if self._process is None and not self._leaving:
            self._start()

    def comes(self, seconds: float) -> bool:
        """Wait until it is ready; False if it ended, is to leave, or takes longer."""
        try:
            if not self._ready:
                self._heard(seconds)
                self._ready = True
        except (EOFError, OSError):  # a timeout is an OSError
            return False
        return True

    def make(self, key: str, tools: bytes, rows: Sequence[Row]) -> Iterator[tuple[Row, Shown]]:
        """Make rows one by one.

        Args:
            key: of the docket's tools.
            tools: `bench.packed_tools`.
            rows: changes by hand applied.

        Raises:
            NeverCameError: it could not be started.
            GoneError: it ended over the row that was next, or waiting is over.
        """
        try:
            if not self._ready:
                self._heard(SECONDS_TO_START)
                self._ready = True
            known = key in self._benches
            self._remember(key)
            self._line.send(Batch(key, None if known else tools, tuple(rows)))
            for row in rows:
                yield row, self._heard(SECONDS_A_ROW)
        except (EOFError, OSError, TimeoutError) as error:
            self.end()
            raise (GoneError if self._ready else NeverCameError) from error

    def start_again(self) -> None:
        """Another process in the place of one that is gone."""
        self._benches.clear()
        self._ready = False
        self._start()

    def leave(self) -> None:
        """Whoever waits for it waits no longer; for another thread to call."""
        self._leaving = True

    def end(self) -> None:
        """Hang up, and end the process."""
        if self._process is None:
            return
        with suppress(OSError):
            self._line.close()
        self._process.kill()
        self._process.join()

    def _start(self) -> None:
        # a process of its own from the ground up: what threads of the server hold is not copied
        context = get_context("spawn")
        self._line, theirs = context.Pipe()
        target, work = ending_with_parent(self._starter)
        self._process = context.Process(target=target, args=(work, theirs), daemon=True)
        self._process.start()
        theirs.close()

    def _remember(self, key: str) -> None:
        """Keep count of what the worker keeps open, in the same way as it does."""
        self._benches[key] = None
        self._benches.move_to_end(key)
        while len(self._benches) > BENCHES:
            self._benches.popitem(last=False)

    def _heard(self, seconds: float) -> Shown:
        until = monotonic() + seconds
        while not self._line.poll(_LOOK_UP):
            if self._leaving or monotonic() > until:
                raise TimeoutError
        found: Shown = self._line.recv()
        return found


class AtHome:
    """Makes rows in this process, for where there are no workers.

    Args:
        making: held while a piece is made.
    """

    def __init__(self, making: Lock) -> None:
        self._making = making
        self._benches: OrderedDict[str, Bench] = OrderedDict()

    @property
    def keys(self) -> tuple[str, ...]:
        """Dockets whose tools it has."""
        return tuple(self._benches)

    def make(self, key: str, tools: bytes, rows: Sequence[Row]) -> Iterator[tuple[Row, Shown]]:
        """Make rows one by one."""
        if key not in self._benches:
            self._benches[key] = set_up(tools)
            while len(self._benches) > BENCHES:
                self._benches.popitem(last=False)
        for row in rows:
            with self._making:
                made = self._benches[key].make(row)
            yield row, made

    def start_again(self) -> None:
        """Nothing is lost here."""

    def leave(self) -> None:
        """Nobody is waited for."""

    def end(self) -> None:
        """Nothing is left to end."""

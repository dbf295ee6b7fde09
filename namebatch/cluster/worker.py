"""What runs in a worker of the cluster: one task at a time, its words sent to whoever asked.

What it has to say goes to the host by an event of dask's scheduler, what it is told comes in a
queue of its own, one for each time a task is given. A task that waits gives its place free:
an earlier one may have to be made here, if another worker was lost.
"""

import pickle
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from time import monotonic
from typing import Any, Final

from namebatch.cluster.makeup import Makeup, makeup
from namebatch.errors import ClusterError, NamebatchError
from namebatch.sections.section import packed
from namebatch.sections.task import Laid, Task

TOPIC: Final = "namebatch"
"""One for all runs: the scheduler keeps no more than its last thousand or so events."""
ANSWER, ENOUGH, WAIT, OVER = "answer", "enough", "wait", "over"
"""What a task is told."""
LOOK_S: Final = 1.0
PATIENCE_S: Final = 60.0
"""A host that says nothing for so long is gone; it says `WAIT` much more often."""
_KEPT: Final = 2
"""Kits kept of runs that did not say that they are over."""


class NotSetUpError(Exception):
    """This process does not know the run: it was started after it was asked for."""


class OverError(Exception):
    """The run is over; nobody waits for the task."""


@dataclass(slots=True)
class _Run:
    """What tasks of a run are done with."""

    kit: bytes
    do: Any = None


_runs: dict[str, _Run] = {}
_at_work = Lock()
"""Whoever computes; typefaces that are open serve one thread at a time."""


def receive(run: str, kit: bytes, names: list[str]) -> Makeup:
    """Take what a run's tasks are done with.

    Args:
        run: name of the run.
        kit: opener and kit, pickled.
        names: of packages whose versions are asked for.
    """
    _, content = pickle.loads(kit)
    found = dict(makeup(names, content))
    for old in list(_runs)[: max(0, len(_runs) + 1 - _KEPT)]:
        del _runs[old]
    _runs[run] = _Run(kit)
    return found


def forget(run: str) -> None:
    """The run is over."""
    _runs.pop(run, None)


def do(run: str, name: str, data: bytes) -> tuple[Any, bytes]:
    """Do a task.

    Args:
        run: name of the run.
        name: of this attempt, and of the queue for what it is told.
        data: the task, pickled.

    Returns:
        What came of it, and its files.

    Raises:
        NotSetUpError: the process is another one than that which received the kit.
    """
    line = _ClusterLine(run, name)
    task = pickle.loads(data)
    place = import_module("distributed").get_worker().local_directory
    try:
        with _at_work:
            make = _opened(run)
            with TemporaryDirectory(prefix="section-", dir=place) as folder:
                if isinstance(task, Task):
                    task = replace(task, folder=folder)
                return make(task, line), packed(Path(folder))
    finally:
        line.close()


def _opened(run: str) -> Any:
    """What does the tasks of a run; opened once."""
    known = _runs.get(run)
    if known is None:
        raise NotSetUpError(run)
    if known.do is None:
        opener, kit = pickle.loads(known.kit)
        try:
            known.do = opener(kit)
        except NamebatchError as error:
            address = import_module("distributed").get_worker().address
            raise ClusterError(
                f"The worker {address} cannot open what the job needs: {error}"
            ) from None
    return known.do


class _ClusterLine:
    """From a task to the host."""

    def __init__(self, run: str, name: str) -> None:
        dask = import_module("distributed")
        self._worker = dask.get_worker()
        self._queue = dask.Queue(name, client=dask.get_client())
        self._run = run
        self._name = name
        self._enough = False
        self._looked = monotonic()

    def tell(self, word: object) -> None:
        if not isinstance(word, Laid):  # nobody looks at sheets while a cluster makes them
            self._say("tell", word)
        self._look()

    def ask(self, question: object) -> Any:
        self._say("ask", question)
        with _aside():
            while True:
                try:
                    kind, data = self._queue.get(timeout=PATIENCE_S)
                except TimeoutError:
                    raise OverError from None
                if kind == ANSWER:
                    return pickle.loads(data)
                self._take(kind)

    def enough(self) -> bool:
        self._look()
        return self._enough

    def close(self) -> None:
        self._queue.close()

    def _say(self, kind: str, what: object) -> None:
        word = {"run": self._run, "name": self._name, "kind": kind, "what": pickle.dumps(what)}
        self._worker.log_event(TOPIC, word)

    def _look(self) -> None:
        """Hear what was said meanwhile; each time is a way to the scheduler and back."""
        if monotonic() - self._looked >= LOOK_S:
            for kind, _ in self._queue.get(batch=True):
                self._take(kind)
            self._looked = monotonic()

    def _take(self, kind: str) -> None:
        if kind == OVER:
            raise OverError
        self._enough = self._enough or kind == ENOUGH


@contextmanager
def _aside() -> Iterator[None]:
    """Let others compute here in the meantime."""
    dask = import_module("distributed")
    _at_work.release()
    try:
        dask.secede()
        yield
    finally:
        dask.rejoin()
        _at_work.acquire()

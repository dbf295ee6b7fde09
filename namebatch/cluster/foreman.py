"""Gives the tasks of a run to the workers of a cluster, and hears what they say."""

import pickle
from collections.abc import Iterator, Sequence
from concurrent.futures import CancelledError
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from heapq import heapify, heappop, heappush
from importlib import import_module
from pathlib import Path
from queue import Empty, SimpleQueue
from time import monotonic
from types import TracebackType
from typing import Any, Final, Self
from uuid import uuid4

from namebatch.cluster import worker
from namebatch.cluster.connect import KEPT, gone, reaching
from namebatch.cluster.hands import Hands
from namebatch.crew import TICK_S, Host, Work
from namebatch.errors import ClusterError
from namebatch.sections.section import digests_below, unpack
from namebatch.sections.task import Task, Whole

LOOK_S: Final = 1.0
"""So often it is seen which workers there are."""
WAIT_S: Final = 10.0
"""So often one that waits hears that somebody is still there."""
MOST_LOST: Final = 3
"""A task that so many workers were lost at is not given again."""


@dataclass(slots=True, eq=False)
class _Given:
    """A task that a worker is at.

    Attributes:
        number: of the task.
        name: of this attempt.
        address: of the worker.
        queue: for what it is told.
        future: dask's.
        question: that it waits to have answered.
    """

    number: int
    name: str
    address: str
    queue: Any
    future: Any = None
    question: list[object] = field(default_factory=list)


class Foreman:
    """One run; a context, at whose end no worker is at it any more.

    Args:
        client: of the scheduler.
        scheduler: its address.
        gone_s: so long is waited for a worker when there is none.
        work: how tasks are done.
        tasks: number and task, numbers rising.
        host: hears and answers.
    """

    def __init__(
        self,
        client: Any,
        scheduler: str,
        gone_s: float,
        work: Work[Any, Any, Any],
        tasks: Sequence[tuple[int, Any]],
        host: Host,
    ) -> None:
        self._client = client
        self._scheduler = scheduler
        self._gone_s = gone_s
        self._host = host
        self._run = uuid4().hex
        kit = (pickle.dumps((work.opener, work.kit)), work.kit)
        self._hands = Hands(client, scheduler, gone_s, self._run, kit)
        self._tasks = dict(tasks)
        self._todo = [number for number, _ in tasks]
        heapify(self._todo)
        self._lost = dict.fromkeys(self._todo, 0)
        self._given: dict[str, _Given] = {}
        self._inbox: SimpleQueue[tuple[str, str, Any]] = SimpleQueue()
        self._told_enough = False
        self._looked = self._waited = monotonic()

    def __enter__(self) -> Self:
        """Begin to listen."""
        self._client.subscribe_topic(worker.TOPIC, self._hear)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        """Let all that are still at a task stop, and forget the run."""
        if self._client.status != "running":
            return  # a scheduler that is gone has nothing to forget
        with suppress(Exception):
            for given in list(self._given.values()):
                self._put_away(given, stop=True)
            if error is None:
                self._hands.end()
            self._client.unsubscribe_topic(worker.TOPIC)

    def done(self) -> Iterator[tuple[int, Any]]:
        """Number and what came of a task, as they end.

        Raises:
            ClusterError: there is nobody to do them.
        """
        self._hands.first()
        while self._todo or self._given:
            self._give()
            yield from self._heard()
            self._answer()
            if monotonic() - self._looked >= LOOK_S:
                self._look()

    def _look(self) -> None:
        """See who has come and who has gone; tell those who wait that somebody is still there."""
        for address in self._hands.look():
            self._lose(address)
        self._looked = monotonic()
        if self._looked - self._waited > WAIT_S:
            self._waited = self._looked
            self._tell(worker.WAIT, *self._given.values())

    def _lose(self, address: str) -> None:
        """A worker is gone: what it was at is to be done by another."""
        self._hands.forget(address)
        for given in [one for one in self._given.values() if one.address == address]:
            self._again(given)

    def _again(self, given: _Given) -> None:
        """Give a task back."""
        number = given.number
        self._put_away(given)
        self._lost[number] += 1
        heappush(self._todo, number)
        if self._lost[number] >= MOST_LOST:
            raise ClusterError(
                f"{MOST_LOST} times a worker ended or ran out of memory at "
                f"{_words(number, self._tasks[number])}. {KEPT} Give the workers more memory "
                "first, or make the job without --cluster."
            )

    def _give(self) -> None:
        """Give tasks out as long as somebody can take the next."""
        while self._todo:
            address = self._free(self._todo[0])
            if address is None:
                return
            number = heappop(self._todo)
            with reaching(self._scheduler):
                self._give_to(address, number)

    def _give_to(self, address: str, number: int) -> None:
        name = f"namebatch-{self._run}-{number}-{self._lost[number]}"
        queue = import_module("distributed").Queue(name, client=self._client)
        given = _Given(number, name, address, queue)
        self._given[name] = given
        if self._told_enough:
            self._tell(worker.ENOUGH, given)
        given.future = self._client.submit(
            worker.do,
            self._run,
            name,
            pickle.dumps(self._tasks[number]),
            key=name,
            workers=[address],
            allow_other_workers=False,
            pure=False,
        )
        given.future.add_done_callback(partial(self._came, name))

    def _free(self, number: int) -> str | None:
        """Who can take a task: one who has none, or waits until it is done by somebody."""
        busy: dict[str, list[_Given]] = {}
        for given in self._given.values():
            busy.setdefault(given.address, []).append(given)
        waiting = [
            address
            for address in self._hands.fit
            if all(given.question and given.number > number for given in busy.get(address, ()))
        ]
        # one that waits holds a whole section in memory; a second one only if it must be
        idle = [address for address in waiting if address not in busy]
        return next(iter(idle or (waiting if self._lost[number] else ())), None)

    def _put_away(self, given: _Given, stop: bool = False) -> None:
        self._given.pop(given.name, None)
        with reaching(self._scheduler):
            if stop:
                self._tell(worker.OVER, given)
            given.queue.close()
            if stop or not given.future.done():
                given.future.cancel()
            given.future.release()

    def _tell(self, kind: str, *some: _Given, what: object = None) -> None:
        """Say something to those who are at tasks."""
        with reaching(self._scheduler):
            for given in some:
                given.queue.put([kind, pickle.dumps(what)])

    def _hear(self, event: tuple[float, dict[str, Any]]) -> None:
        """A word from any run on this cluster; in a thread of the client."""
        word = event[1]
        if word.get("run") == self._run:
            self._inbox.put((word["kind"], word["name"], word["what"]))

    def _came(self, name: str, future: Any) -> None:
        """A task ended, or was taken back; in a thread of the client's, which fetches the files."""
        try:
            self._inbox.put(("done", name, future.result()))
        except BaseException as error:
            self._inbox.put(("failed", name, error))

    def _heard(self) -> Iterator[tuple[int, Any]]:
        """What comes in next."""
        with suppress(Empty):
            kind, name, what = self._inbox.get(timeout=TICK_S)
            while True:
                given = self._given.get(name)
                if given is not None and kind == "done":
                    self._put_away(given)
                    yield given.number, self._unpacked(given.number, *what)
                elif given is not None and kind == "failed":
                    self._fail(given, what)
                elif given is not None and kind == "ask":
                    given.question[:] = [pickle.loads(what)]
                elif given is not None:
                    self._host.told(given.number, pickle.loads(what))
                kind, name, what = self._inbox.get_nowait()

    def _unpacked(self, number: int, done: Any, files: bytes) -> Any:
        task = self._tasks[number]
        if isinstance(task, Task) and isinstance(done, Whole):
            unpack(files, Path(task.folder))
            if digests_below(Path(task.folder)) != dict(done.files):
                raise ClusterError(
                    f"What a worker sent of {_words(number, task)} is not what it made. {KEPT}"
                )
        return done

    def _fail(self, given: _Given, error: BaseException) -> None:
        """A task that ended otherwise: another tries if that was the worker's fault."""
        if isinstance(error, worker.NotSetUpError):
            self._lose(given.address)  # it was started anew where the old one was
        elif isinstance(error, CancelledError) or not isinstance(error, Exception):
            raise gone(self._scheduler) from error  # nobody here has taken it back
        elif isinstance(error, MemoryError | worker.OverError) or _of_dask(error):
            self._again(given)
        elif isinstance(error, OSError):
            raise ClusterError(
                f"The worker {given.address} cannot work: {error}. {KEPT} See to its disk first."
            ) from error
        else:
            raise error

    def _answer(self) -> None:
        for given in sorted(self._given.values(), key=lambda one: one.number):
            if given.question:
                answer = self._host.asked(given.number, given.question[0])
                if answer is not None:
                    given.question.clear()
                    self._tell(worker.ANSWER, given, what=answer)
        if not self._told_enough and self._host.enough():
            self._told_enough = True
            self._tell(worker.ENOUGH, *self._given.values())


def _of_dask(error: BaseException) -> bool:
    return type(error).__module__.startswith("distributed.")


def _words(number: int, task: object) -> str:
    """A task as people call it."""
    if isinstance(task, Task) and task.rows:
        first, last = task.rows[0], task.rows[-1]
        return f"{first.place.lower()}s {first.line} to {last.line}"
    return f"task {number}"

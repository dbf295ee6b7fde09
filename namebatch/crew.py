"""Whoever does a job's tasks: this process, several on this machine, or others that speak the same.

A crew is given numbered tasks. While one is done its `Line` carries words to the `Host` and
questions whose answers may take until earlier tasks have told theirs. So tasks are begun in their
order, whatever the crew, and the earliest that is being done never waits.
"""

import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from traceback import format_exc
from typing import Any, Final, Generic, Protocol, TypeAlias, TypeVar

from namebatch.orphans import end_with_parent
from namebatch.standby import worker_context

Kit = TypeVar("Kit")
Task = TypeVar("Task")
Done = TypeVar("Done")

TICK_S: Final = 0.2
"""So often the host is asked whether it has seen enough."""
SECONDS_TO_END: Final = 5.0


class Line(Protocol):
    """From whoever does a task to the host."""

    def tell(self, word: object) -> None:
        """Say something that needs no answer."""

    def ask(self, question: object) -> Any:
        """Ask, and wait for the answer."""

    def enough(self) -> bool:
        """True once the host has seen enough of a search."""


class Host(Protocol):
    """Whoever has the tasks done."""

    def told(self, number: int, word: object) -> None:
        """Hear a word of a task."""

    def asked(self, number: int, question: object) -> object | None:
        """Answer a task's question; None: not yet, ask again when something has happened."""

    def enough(self) -> bool:
        """True once a search has been long enough; asked again and again."""

    def lost(self, numbers: Sequence[int]) -> Exception:
        """What to raise where one who was at these tasks is gone without a word."""


@dataclass(frozen=True, slots=True)
class Work(Generic[Kit, Task, Done]):
    """How tasks are done.

    Attributes:
        opener: a function of a module: makes, once in each process, what does a task.
        kit: what it is given; it goes to other processes, so no open typeface is in it.
        here: does a task in this process.
    """

    opener: Callable[[Kit], Callable[[Task, Line], Done]]
    kit: Kit
    here: Callable[[Task, Line], Done]


class Crew(Protocol):
    """Does tasks."""

    def run(
        self, work: Work[Kit, Task, Done], tasks: Sequence[tuple[int, Task]], host: Host
    ) -> Iterator[tuple[int, Done]]:
        """Do tasks, begun in their order.

        Args:
            work: how.
            tasks: number and task, numbers rising.
            host: hears and answers.

        Yields:
            Number and what came of a task, as soon as it is done, in whatever order.

        Raises:
            Exception: what a task raised; the others are ended.
        """


def offered() -> int:
    """How many processes the machine offers this one."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1


@dataclass(frozen=True, slots=True)
class Here:
    """One task after the other, in this process."""

    def run(
        self, work: Work[Kit, Task, Done], tasks: Sequence[tuple[int, Task]], host: Host
    ) -> Iterator[tuple[int, Done]]:
        """See `Crew.run`."""
        for number, task in tasks:
            yield number, work.here(task, _HereLine(number, host))


@dataclass(frozen=True, slots=True)
class _HereLine:
    """Straight to the host."""

    number: int
    host: Host

    def tell(self, word: object) -> None:
        self.host.told(self.number, word)

    def ask(self, question: object) -> Any:
        answer = self.host.asked(self.number, question)
        if answer is None:
            raise RuntimeError("a task that is done alone waits for another")
        return answer

    def enough(self) -> bool:
        return self.host.enough()


ENOUGH: Final = "enough"
Message: TypeAlias = tuple[str, Any]
"""From a process: `tell`, `ask`, `done` or `failed`, and what."""


@dataclass(frozen=True, slots=True)
class Processes:
    """Several tasks at a time, each process one.

    Attributes:
        number: of processes; no more are started than there are tasks.
    """

    number: int

    def run(
        self, work: Work[Kit, Task, Done], tasks: Sequence[tuple[int, Task]], host: Host
    ) -> Iterator[tuple[int, Done]]:
        """See `Crew.run`."""
        left = deque(tasks)
        hands: list[_Hand] = []
        try:
            for _ in range(min(self.number, len(tasks))):
                hands.append(_Hand.started(work))
            room = _Room(hands, host)
            for hand in hands:
                room.give(hand, left)
            while any(hand.task is not None for hand in hands):
                for hand, result in room.heard():
                    number = hand.task
                    hand.task = None
                    room.give(hand, left)
                    if number is not None:
                        yield number, result
        finally:
            for hand in hands:
                hand.end()


@dataclass(slots=True)
class _Hand:
    """One process.

    Attributes:
        process: it.
        line: to it.
        task: number of the task that it is at; None while it has none.
        question: that it waits to have answered.
    """

    process: BaseProcess
    line: Connection
    task: int | None = None
    question: list[object] = field(default_factory=list)

    @classmethod
    def started(cls, work: Work[Any, Any, Any]) -> "_Hand":
        context = worker_context()
        ours, theirs = context.Pipe()
        process = context.Process(target=_work, args=(work.opener, work.kit, theirs))
        with theirs:
            process.start()
        return cls(process, ours)

    def end(self) -> None:
        """End it at once, whatever it is at: nothing half done stands under a final name."""
        self.process.kill()
        self.process.join(SECONDS_TO_END)
        self.line.close()


@dataclass(slots=True)
class _Room:
    """The processes at work, and the host."""

    hands: Sequence[_Hand]
    host: Host
    told_enough: bool = False

    def give(self, hand: _Hand, left: deque[tuple[int, Any]]) -> None:
        """Hand out the next task, if there is one."""
        if left:
            number, task = left.popleft()
            hand.task = number
            self._send(hand, (number, task))

    def heard(self) -> Iterator[tuple[_Hand, Any]]:
        """What comes in next: words and questions are dealt with, results are given."""
        lines = {hand.line: hand for hand in self.hands if hand.task is not None}
        for line in wait(list(lines), TICK_S):
            hand = lines[line]  # type: ignore[index]
            try:
                kind, what = hand.line.recv()
            except (EOFError, OSError):
                raise self._lost(hand) from None
            if kind == "done":
                yield hand, what
            elif kind == "failed":
                raise what
            elif kind == "ask":
                hand.question.append(what)
            elif hand.task is not None:
                self.host.told(hand.task, what)
        self._answer()

    def _answer(self) -> None:
        for hand in self.hands:
            if hand.question and hand.task is not None:
                answer = self.host.asked(hand.task, hand.question[0])
                if answer is not None:
                    hand.question.clear()
                    self._send(hand, answer)
        if not self.told_enough and self.host.enough():
            self.told_enough = True
            for hand in self.hands:
                self._send(hand, ENOUGH)

    def _send(self, hand: _Hand, what: object) -> None:
        try:
            hand.line.send(what)
        except OSError:
            raise self._lost(hand) from None

    def _lost(self, hand: _Hand) -> Exception:
        return self.host.lost([] if hand.task is None else [hand.task])


@dataclass(slots=True)
class _PipeLine:
    """From a process to the host."""

    line: Connection
    seen_enough: bool = False

    def tell(self, word: object) -> None:
        self.line.send(("tell", word))

    def ask(self, question: object) -> Any:
        self.line.send(("ask", question))
        return self.next()

    def next(self) -> Any:
        """What the host says next, apart from that it has seen enough."""
        while (said := self.line.recv()) == ENOUGH:
            self.seen_enough = True
        return said

    def enough(self) -> bool:
        # while a task is done nothing else comes without being asked for
        while self.line.poll() and not self.seen_enough:
            self.seen_enough = self.line.recv() == ENOUGH
        return self.seen_enough


def _work(opener: Callable[[Any], Callable[[Any, Line], Any]], kit: Any, line: Connection) -> None:
    """A process of a crew: task after task, until it is ended."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the host, which then ends this
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    end_with_parent()
    ours = _PipeLine(line)
    do = None
    try:
        while True:
            _, task = ours.next()
            try:
                do = do or opener(kit)
                result = do(task, ours)
            except MemoryError:
                os._exit(1)
            except Exception as error:
                error.add_note(format_exc())
                line.send(("failed", error))
            else:
                line.send(("done", result))
    except (EOFError, OSError):
        pass  # the host is gone

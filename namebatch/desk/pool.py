"""Worker processes, each served by a thread that asks for rows and passes on what comes of them.

A worker that ends unasked, mostly for want of memory, or that sticks to one row, costs nothing but
that row: it is tried once more alone in a new one, and if that ends too, the row is held.
"""

import logging
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import Condition, Thread
from typing import Final, Protocol

from namebatch.desk.bench import broken_down
from namebatch.desk.hand import AtHome, GoneError, Hand, NeverCameError
from namebatch.desk.shown import Shown
from namebatch.desk.warmth import COLD_SECONDS, Warmth
from namebatch.names.row import Row

log = logging.getLogger("namebatch.desk")

GONE: Final = "the process that made it ended, mostly as the memory was full"


@dataclass(frozen=True, slots=True)
class Work:
    """Rows to be made for one docket.

    Attributes:
        key: of its tools.
        tools: `bench.packed_tools` of its plan.
        rows: changes by hand applied.
        give: takes a row and what is shown of it, in a thread of the pool.
    """

    key: str
    tools: bytes
    rows: tuple[Row, ...]
    give: Callable[[Row, Shown], None]


class Source(Protocol):
    """Where the workers get their rows."""

    def take(self) -> Work | None:
        """The rows that come next; None if there is nothing to do. May not wait."""


class Pool:
    """Workers that are started at once and make what a source has until they are closed.

    Args:
        source: asked for every idle worker.
        hands: who makes rows; they are ended with it.
        home: makes them instead of workers that cannot be started.
        warmth: until it is ready the first of the hands is the only one that is started.
    """

    def __init__(
        self,
        source: Source,
        hands: Sequence[Hand | AtHome],
        home: AtHome,
        warmth: Warmth | None = None,
    ) -> None:
        self._source = source
        self._warmth = warmth or Warmth(cold=False)
        self._home = home
        self._idle = Condition()
        self._closed = False
        self._keys: dict[int, tuple[str, ...]] = {}
        self._hands = tuple(hands)
        self._threads = [
            Thread(target=self._serve, args=(hand,), daemon=True, name="desk worker")
            for hand in self._hands
        ]
        for thread in self._threads:
            thread.start()

    def wake(self) -> None:
        """There may be something to do."""
        with self._idle:
            self._idle.notify_all()

    def knows(self, key: str) -> bool:
        """Whether a worker has made rows of a docket, so that its typefaces are open there."""
        return any(key in keys for keys in self._keys.values())

    def close(self) -> None:
        """End all workers; what they were making is lost."""
        with self._idle:
            self._closed = True
            self._idle.notify_all()
        for hand in self._hands:
            hand.leave()
        for thread in self._threads:
            thread.join()

    def _serve(self, hand: Hand | AtHome) -> None:
        try:
            if isinstance(hand, Hand):
                self._prepare(hand)
            while (work := self._next()) is not None:
                hand = self._make(hand, work)
        finally:
            hand.end()

    def _prepare(self, hand: Hand) -> None:
        """Have a worker started; compiling is for the first alone, and the others wait for it."""
        if hand is self._hands[0]:
            if not self._warmth.ready:
                hand.comes(COLD_SECONDS)
                self._warmth.done()
            return
        self._warmth.wait()
        if not self._closed:
            hand.begin()

    def _next(self) -> Work | None:
        """What comes next; waits for it, and comes back with None once all is closed."""
        with self._idle:
            while not self._closed:
                work = self._source.take()
                if work is not None:
                    return work
                self._idle.wait()
        return None

    def _make(self, hand: Hand | AtHome, work: Work) -> Hand | AtHome:
        """Make rows; returns who is to make the next ones."""
        left = deque(work.rows)
        alone = False
        while left and not self._closed:
            rows = (left[0],) if alone else tuple(left)
            try:
                for row, made in hand.make(work.key, work.tools, rows):
                    self._keys[id(hand)] = hand.keys
                    left.popleft()
                    work.give(row, made)
                    alone = False
            except GoneError as gone:
                if self._closed:
                    break
                log.warning("a worker ended over %s", left[0].where)
                if alone and isinstance(gone, NeverCameError):
                    log.warning("workers cannot be started; pieces are made by the server")
                    hand = self._home
                    continue
                hand.start_again()
                if alone:
                    lost = left.popleft()
                    work.give(lost, broken_down(lost, GONE))
                alone = not alone
        return hand

"""Jobs that are being made: begun, watched, told to be content with what there is, stopped."""

import logging
import os
import signal
from collections import Counter
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import datetime
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from threading import Condition, RLock, Thread
from time import time

from namebatch.desk.made_model import MakeView, SheetMap
from namebatch.desk.make_process import (
    COLD,
    ENOUGH,
    NOTED,
    Laid,
    Order,
    Refused,
    Word,
    Written,
    run,
)
from namebatch.desk.model import Problem
from namebatch.desk.plainly import plainly, problem_of
from namebatch.desk.underway import broken_off, clear_left, clear_strays, note_broken_off
from namebatch.errors import DeskError, NamebatchError, NoDocketError, NotThereError
from namebatch.sections import Searched, Step
from namebatch.store import Store, dockets, made

log = logging.getLogger("namebatch.desk")

AT_ONCE = 2
"""Jobs that are made at a time; others wait for their turn."""
SECONDS_TO_END = 10.0
STAGES = {
    "waiting": "Waiting for another job that is being made",
    "starting": "Getting ready",
    COLD: "Getting ready, half a minute, once after installing",
    "reading": "Reading the list",
    "pieces": "Making the pieces",
    "sheets": "Filling the sheets",
    "search": "Looking for fewer sheets",
    "sections": "Making and writing a long list in parts",
    "putting together": "Putting the parts together",
}
"""What stages are called for people; others are kinds of files that are written."""
ENDED = Problem(
    "The making ended before it was done, and nothing was written. Mostly the memory was full: "
    "close other programs and try again, or split the list."
)


class Makings:
    """The jobs that are made for a store's dockets, at most one a docket; shared by threads.

    Args:
        store: what is kept.
        heard: is told of every step, with the docket's number, in whatever thread it happens.
        now: the time, with its zone.
    """

    def __init__(
        self,
        store: Store,
        heard: Callable[[int, MakeView], None],
        now: Callable[[], datetime],
    ) -> None:
        self._store = store
        self._heard = heard
        self._now = now
        self._lock = RLock()
        self._turn = Condition()
        self._going = 0
        self._runs: dict[int, _Run] = {}
        self._leaving: Counter[int] = Counter()
        self._closed = False
        clear_strays(store.dockets_folder, partial(dockets.deleted, store))
        self._broken_off: dict[int, MakeView] = {}
        for docket in dockets.all_dockets(store):
            folder = store.docket_folder(docket.number)
            begun = broken_off(folder)
            cleared = clear_left(folder, job_folders(store, docket.number))
            if begun is not None and cleared:
                self._broken_off[docket.number] = _told_broken_off(begun, now())

    def state(self, docket: int) -> MakeView:
        """How far the job of a docket is; of one that ended, or was broken off before, how."""
        with self._lock:
            one = self._runs.get(docket)
            return one.view if one else self._broken_off.get(docket, MakeView())

    def laid(self, docket: int, place: int) -> SheetMap:
        """A sheet of the job that is being made, from the first one, 1, on.

        Raises:
            NotThereError: it is not filled yet, or the job is not being made any more.
        """
        with self._lock:
            one = self._runs.get(docket)
        sheets = one.laid if one else ()
        if not 1 <= place <= len(sheets):
            raise NotThereError("This sheet is not filled yet, or its job is done.")
        return sheets[place - 1]

    def start(self, docket: int, order: Order) -> MakeView:
        """Begin to make a job.

        Raises:
            DeskError: one is being made for this docket already, or all are being closed.
            NoDocketError: the docket is gone, or is being deleted.
        """
        with self._lock:
            if self._closed:
                raise DeskError("namebatch is being closed. Start it again, then make the job.")
            if self._leaving[docket]:
                raise NoDocketError(f"Docket {docket:04d} is being deleted.")
            dockets.docket(self._store, docket)
            before = self._runs.get(docket)
            if before is not None and before.view.state == "running":
                raise DeskError(
                    "A job of this docket is being made already. Wait until it is done, or stop it."
                )
            one = _Run(self, docket, order)
            one.begin()  # under the lock: whoever finds it can wait for its end
            self._runs[docket] = one
        return one.view

    def enough(self, docket: int) -> MakeView:
        """Be content with the sheets that a search has found so far."""
        with self._lock:
            one = self._runs.get(docket)
        if one:
            one.enough()
        return self.state(docket)

    def stop(self, docket: int) -> MakeView:
        """End the making of a docket's job at once; nothing of it is left.

        What was done already stays done.
        """
        with self._lock:
            one = self._runs.get(docket)
        if one:
            one.stop()
        return self.state(docket)

    @contextmanager
    def leaving(self, docket: int) -> Iterator[None]:
        """Stop what is made for a docket, and begin nothing for it while it is deleted."""
        with self._lock:
            self._leaving[docket] += 1
        try:
            self.stop(docket)
            with self._lock:
                self._runs.pop(docket, None)
            yield
        finally:
            with self._lock:
                self._leaving[docket] -= 1

    def close(self) -> None:
        """Stop all of them; none begins any more."""
        with self._lock:
            self._closed = True
            runs = dict(self._runs)
        for docket, one in runs.items():
            running = one.view.state == "running"
            if self.stop(docket).state == "stopped" and running:
                note_broken_off(self._store.docket_folder(docket), one.begun)

    # for the runs

    def take_turn(self, stopping: Callable[[], bool]) -> bool:
        """Wait until few enough others are at work; False if it was stopped meanwhile."""
        with self._turn:
            self._turn.wait_for(lambda: stopping() or self._going < AT_ONCE)
            if stopping():
                return False
            self._going += 1
            return True

    def give_turn(self) -> None:
        """Let the next one begin."""
        with self._turn:
            self._going -= 1
            self._turn.notify_all()

    def wake(self) -> None:
        """Let those that wait look whether they were stopped."""
        with self._turn:
            self._turn.notify_all()

    def is_full(self) -> bool:
        """True while a new one has to wait."""
        with self._turn:
            return self._going >= AT_ONCE

    def note(self, docket: int, folder: str, digest: str) -> int:
        """Keep a job that was written; returns its number."""
        job = made.add_job(self._store, docket, folder, digest, self._now())
        return job.number

    def clear(self, docket: int) -> None:
        """Remove what a make that was ended left."""
        clear_left(self._store.docket_folder(docket), job_folders(self._store, docket))

    def tell(self, docket: int, view: MakeView) -> None:
        """Tell whoever watches."""
        self._heard(docket, view)


def _told_broken_off(begun: float, now: datetime) -> MakeView:
    """What is told of a make that the end of the program broke off."""
    at = datetime.fromtimestamp(begun).astimezone()
    today = at.date() == now.astimezone().date()
    when = f"{at:%H:%M}" if today else f"{at.day} {at:%B %Y}, {at:%H:%M}"
    return MakeView(
        "failed",
        problem=Problem(
            f"The make of {when} was broken off when the program ended; nothing of it is kept. "
            "Make it again."
        ),
    )


def job_folders(store: Store, docket: int) -> Collection[str]:
    """Where the jobs of a docket lie that are noted, below its folder."""
    return frozenset(job.folder for job in made.jobs(store, docket))


class _Run:
    """One job that is being made: its process, and the thread that listens to it."""

    def __init__(self, all_of_them: Makings, docket: int, order: Order) -> None:
        self._all = all_of_them
        self._docket = docket
        self._order = order
        self._lock = RLock()
        self._stopping = False
        self._line: Connection | None = None
        self._process: SpawnProcess | None = None
        self._laid: list[SheetMap] = []
        self._thread = Thread(target=self._go, name=f"making {docket:04d}", daemon=True)
        stage = "waiting" if all_of_them.is_full() else "starting"
        self.view = MakeView("running", STAGES[stage], remake=order.wish is not None)
        self.begun = time()

    @property
    def laid(self) -> tuple[SheetMap, ...]:
        """Sheets that are filled."""
        return tuple(self._laid)

    def begin(self) -> None:
        """Start it."""
        self._thread.start()

    def enough(self) -> None:
        """Pass it on."""
        with self._lock, suppress(OSError):
            if self._line is not None:
                self._line.send(ENOUGH)

    def stop(self) -> None:
        """End it and wait until it has ended."""
        with self._lock:
            if self.view.state == "running":
                self._stopping = True
                self._kill()
        self._all.wake()
        self._thread.join(SECONDS_TO_END)

    def _go(self) -> None:
        """The thread: from the first step to the last."""
        try:
            self._tell(self.view)
            if not self._all.take_turn(lambda: self._stopping):
                self._end(MakeView("stopped"))
                return
            try:
                last = self._made()
            finally:
                self._all.give_turn()
            self._end(last)
        except Exception as error:
            log.exception("a make of docket %04d came to a fault", self._docket)
            self._end(self._failed(Problem(ENDED.what, (f"{type(error).__name__}: {error}",))))

    def _made(self) -> MakeView:
        """Let a process of its own make the job; what comes of it."""
        context = get_context("spawn")
        ours, theirs = context.Pipe()
        with ours:
            process = context.Process(target=run, args=(self._order, theirs))
            with self._lock, theirs:
                if self._stopping:
                    return MakeView("stopped")
                process.start()
                self._process, self._line = process, ours
            last = self._followed(ours)
            with self._lock:
                self._line = None
                if last.state != "done":
                    self._kill()
            wait([process.sentinel], SECONDS_TO_END)  # it is not taken notice of before the next
            self._kill()  # whoever it has left behind goes, too
            process.join()
        if last.state != "done":
            self._all.clear(self._docket)
        return last

    def _followed(self, line: Connection) -> MakeView:
        """Listen until the last word."""
        with suppress(EOFError, OSError):
            while True:
                word: Word = line.recv()
                if isinstance(word, Laid):
                    self._laid.append(word.map)
                    self._tell(replace(self.view, laid=len(self._laid)))
                elif isinstance(word, Step | Searched):
                    self._tell(self._on(word))
                elif isinstance(word, Refused):
                    told = Problem(plainly(word.what), tuple(map(plainly, word.problems)))
                    return self._failed(told, word.changed)
                elif isinstance(word, Written):
                    return self._noted(word, line)
        with self._lock:
            return MakeView("stopped") if self._stopping else self._failed(ENDED)

    def _noted(self, word: Written, line: Connection) -> MakeView:
        """Keep the job, unless it was stopped in the last moment."""
        with self._lock:
            if self._stopping:
                return MakeView("stopped")
            folder = self._order.out.relative_to(self._order.docket).as_posix()
            try:
                number = self._all.note(self._docket, folder, word.digest)
            except NamebatchError as error:
                return self._failed(problem_of(error))
            # from here on it cannot be stopped
            self.view = MakeView("done", job=number, remake=self.view.remake)
        with suppress(OSError):
            line.send(NOTED)
        return self.view

    def _on(self, word: Step | Searched) -> MakeView:
        """The view after a step."""
        if isinstance(word, Searched):
            share = min(word.share, 1.0)
            stage = STAGES["search"]
            return replace(self.view, stage=stage, share=share, sheets=round(word.sheets, 2))
        stage = STAGES.get(word.stage) or f"Writing: {word.stage[:1].lower()}{word.stage[1:]}"
        return replace(self.view, stage=stage, done=word.done, total=word.total, share=None)

    def _failed(self, problem: Problem, changed: bool = False) -> MakeView:
        return MakeView("failed", problem=problem, remake=self.view.remake, changed=changed)

    def _end(self, last: MakeView) -> None:
        self._laid.clear()  # from here on they are the job's
        self._tell(replace(last, remake=self.view.remake))

    def _tell(self, view: MakeView) -> None:
        self.view = view
        self._all.tell(self._docket, view)

    def _kill(self) -> None:
        """End the process and those that it has started."""
        process = self._process
        if process is None or process.pid is None:
            return
        # also where it has ended by itself: those that it has started may not have
        if hasattr(os, "killpg"):
            with suppress(ProcessLookupError, PermissionError):
                os.killpg(process.pid, signal.SIGKILL)
        process.kill()

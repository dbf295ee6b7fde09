"""Work in a process of its own, which may be ended: for files that nobody vouches for.

A picture that makes a reader hang, eat all memory or break down costs that one request, and
nothing else of the page.
"""

import contextlib
import signal
from collections.abc import Callable
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from threading import Lock, Thread
from typing import Any, Final, TypeVar

from namebatch.errors import DeskError, NamebatchError
from namebatch.orphans import ending_with_parent

try:
    import resource
except ImportError:  # a system without such limits: there only time is bounded
    resource = None  # type: ignore[assignment]

MOST_SECONDS: Final = 120.0
MOST_MEMORY: Final = 6 * 1024**3
"""Address space of the process, libraries and their arenas included."""
START_SECONDS: Final = 120.0
_READY: Final = "ready"
_ENDING: Final = "The program is being ended. Start it again first."

T = TypeVar("T")


class Apart:
    """A process that does one thing after the other; started when it is needed first.

    Args:
        most_seconds: that one thing may take.
    """

    def __init__(self, most_seconds: float = MOST_SECONDS) -> None:
        self._most_seconds = most_seconds
        self._lock = Lock()
        self._process: SpawnProcess | None = None
        self._line: Connection | None = None
        self._closed = False

    def run(self, work: Callable[..., T], *given: object) -> T:
        """Do something there and give what came of it; others wait meanwhile.

        Args:
            work: a function of a module.
            given: what it takes; has to be picklable, as its result.

        Raises:
            NamebatchError: as `work` raised it.
            DeskError: it took too long, or the process broke down; the next one is a fresh one.
        """
        with self._lock:
            line = self._started()
            try:
                line.send((work, given))
                if not line.poll(self._most_seconds):
                    self._ended()
                    raise DeskError(
                        f"This was not done after {self._most_seconds:g} seconds and was broken "
                        "off. Take a simpler or a smaller picture."
                    )
                done, result = line.recv()
            except (EOFError, OSError):
                self._ended()
                raise DeskError(
                    "The reader broke down over this picture; nothing else was harmed. Save it "
                    "again with another program, or smaller."
                ) from None
        if not done:
            raise result
        found: T = result
        return found

    def warm(self, work: Callable[[], object]) -> None:
        """Start the process and let it do something first, without waiting for it."""
        Thread(target=self._warm, args=(work,), daemon=True, name="warming").start()

    def _warm(self, work: Callable[[], object]) -> None:
        with contextlib.suppress(NamebatchError):  # whoever wants something there will be told
            self.run(work)

    def close(self) -> None:
        """End the process at once, whatever it is at; nothing is done there any more."""
        self._closed = True
        process = self._process
        if process is not None:
            # whoever waits for it holds the lock; the end of the process wakes him
            with contextlib.suppress(ValueError):
                process.kill()
        with self._lock:
            self._ended()

    def _started(self) -> Connection:
        """The line to a process that is ready."""
        if self._line is not None and self._process is not None and self._process.is_alive():
            return self._line
        self._ended()
        if self._closed:
            raise DeskError(_ENDING)
        context = get_context("spawn")
        ours, theirs = context.Pipe()
        target, work = ending_with_parent(_serve)
        process = context.Process(target=target, args=(work, theirs), daemon=True)
        process.start()
        theirs.close()
        self._process, self._line = process, ours
        if self._closed:  # while it was started: `close` has not seen it
            self._ended()
            raise DeskError(_ENDING)
        with contextlib.suppress(EOFError, OSError):
            if ours.poll(START_SECONDS) and ours.recv() == _READY:
                return ours
        self._ended()
        raise DeskError("The process that reads pictures could not be started. Try again.")

    def _ended(self) -> None:
        if self._line is not None:
            self._line.close()
        if self._process is not None:
            self._process.kill()
            self._process.join(5.0)
            self._process.close()
        self._process = self._line = None


def _serve(line: Connection) -> None:
    """Do what comes until nobody is at the other end."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever stops the server ends this, too
    if resource is not None:
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        line.send(_READY)
        while True:
            work, given = line.recv()
            line.send(_done(work, given))


def _done(work: Callable[..., Any], given: tuple[object, ...]) -> tuple[bool, object]:
    try:
        return True, work(*given)
    except NamebatchError as error:
        # of one class that keeps all it was given on the way
        return False, DeskError(error.what, error.problems)
    except MemoryError:
        return False, DeskError(
            "There is not enough memory for this picture. Take one with fewer pixels or lines."
        )
    except Exception as error:
        return False, DeskError(
            f"The picture could not be worked on ({type(error).__name__}). Save it again with "
            "another program; if it stays so, please report it."
        )

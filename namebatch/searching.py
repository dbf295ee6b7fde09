"""A search that is watched at a terminal: Ctrl-C ends it once, and the job the second time."""

import signal
import threading
from collections.abc import Callable
from types import FrameType

ENOUGH = (
    "Ctrl-C: the search for fewer sheets ends here; the best so far is kept and the job is "
    "finished with it. Ctrl-C again stops the job."
)


class Searching:
    """Hears how far a search is and ends it when the user has seen enough.

    Only while a search tells of itself, Ctrl-C is not the end of the job.

    Args:
        tell: is handed how far it is, see `sheet.wishes.Watch.told`.
        say: shows a line to the user.
    """

    def __init__(self, tell: Callable[[float, float], None], say: Callable[[str], None]) -> None:
        self._tell = tell
        self._say = say
        self._stopped = False
        self._before: object = None
        self._on = False

    def told(self, share: float, sheets: float) -> None:
        """Pass on how far it is; from the first word to the last Ctrl-C ends the search only."""
        if share >= 1.0:
            self.close()
        elif not self._on and threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._interrupted)
            self._on = True
        self._tell(share, sheets)

    def stopped(self) -> bool:
        """True once Ctrl-C was pressed."""
        return self._stopped

    def close(self) -> None:
        """Let Ctrl-C end the job again."""
        if self._on:
            signal.signal(signal.SIGINT, self._before)  # type: ignore[arg-type]
            self._on = False

    def _interrupted(self, signum: int, frame: FrameType | None) -> None:
        if self._stopped:
            raise KeyboardInterrupt
        self._stopped = True
        self._say(ENOUGH)

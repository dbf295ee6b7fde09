"""The end of the server, told to whoever waits for news."""

from collections.abc import Callable
from threading import Lock


class Ending:
    """Told once; may be shared by threads."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._begun = False
        self._calls: list[Callable[[], None]] = []

    @property
    def begun(self) -> bool:
        """Whether the server is ending."""
        return self._begun

    def listen(self, call: Callable[[], None]) -> Callable[[], None]:
        """Hear of the end.

        Args:
            call: is called in any thread, at once if the end has begun; it may not wait.

        Returns:
            To be called by whoever does not wait any longer.
        """
        with self._lock:
            if not self._begun:
                self._calls.append(call)
                return lambda: self._leave(call)
        call()
        return lambda: None

    def begin(self) -> None:
        """Tell all who listen; once."""
        with self._lock:
            calls, self._calls = self._calls, []
            self._begun = True
        for call in calls:
            call()

    def _leave(self, call: Callable[[], None]) -> None:
        with self._lock:
            if call in self._calls:
                self._calls.remove(call)

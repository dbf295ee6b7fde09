"""Who watches a docket is told what happens to it."""

from collections.abc import Callable
from contextlib import suppress
from threading import Lock

from namebatch.desk.model import Event

Hear = Callable[[Event], None]


class Hub:
    """Those who watch dockets; may be shared by threads."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._ears: dict[int, list[Hear]] = {}

    def listen(self, docket: int, hear: Hear) -> Callable[[], None]:
        """Hear of a docket.

        Args:
            docket: its number.
            hear: is called in whatever thread something happens; it must come back at once and
                may not raise (an event loop is reached by ``loop.call_soon_threadsafe``).

        Returns:
            To be called when nobody listens any more.
        """
        with self._lock:
            self._ears.setdefault(docket, []).append(hear)

        def leave() -> None:
            with self._lock, suppress(ValueError):
                self._ears.get(docket, []).remove(hear)

        return leave

    def tell(self, docket: int, event: Event) -> None:
        """Tell all who listen to a docket."""
        with self._lock:
            ears = tuple(self._ears.get(docket, ()))
        for hear in ears:
            hear(event)

    def watched(self, docket: int) -> bool:
        """Whether anybody listens."""
        with self._lock:
            return bool(self._ears.get(docket))

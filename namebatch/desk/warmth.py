"""Whether what is compiled once is there; whoever would compile it again waits meanwhile."""

from threading import Event
from typing import Final

COLD_SECONDS: Final = 600.0
"""After so long nobody waits any more, and compiles for himself."""


class Warmth:
    """One process compiles, the others find what it kept; may be shared by threads.

    Args:
        cold: nothing is compiled yet.
    """

    def __init__(self, cold: bool) -> None:
        self._there = Event()
        if not cold:
            self._there.set()

    @property
    def ready(self) -> bool:
        """True if nobody need wait."""
        return self._there.is_set()

    def done(self) -> None:
        """It is there, or whoever was at it has ended."""
        self._there.set()

    def wait(self) -> None:
        """Until it is there."""
        self._there.wait(COLD_SECONDS)

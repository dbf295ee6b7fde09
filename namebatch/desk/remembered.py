"""What was known of dockets that do not lie open: their counts, and what came next."""

from dataclasses import asdict
from threading import Lock
from typing import Final

from namebatch.desk.model import Counts, DocketView, Next
from namebatch.store import Store, counted

_FORGOTTEN: Final = "forgotten"


class Remembered:
    """Keeps it in the store, and writes only what is another than before; shared by threads.

    Args:
        store: where.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = Lock()
        self._noted: dict[int, object] = {}

    def note(self, view: DocketView) -> None:
        """Remember a docket as it is shown while it lies open."""
        known = None
        if view.counts is not None:
            known = {"counts": asdict(view.counts), "next": asdict(view.next)}
        with self._lock:
            if self._noted.get(view.number, _FORGOTTEN) == known:
                return
            counted.note(self._store, view.number, known)
            self._noted[view.number] = known

    def of(self, number: int) -> tuple[Counts, Next] | None:
        """What is remembered of a docket; None if it never lay open with pieces to count."""
        known = counted.known(self._store, number)
        if known is None:
            return None
        try:
            return Counts(**known["counts"]), Next(**known["next"])
        except (KeyError, TypeError):
            return None  # of a version that counted otherwise

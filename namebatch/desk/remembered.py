"""What was known of dockets that do not lie open: counts, what came next, the job made last."""

from dataclasses import asdict, dataclass, replace
from threading import Lock
from typing import Final

from namebatch.desk.model import Counts, DocketView, Latest, Next
from namebatch.store import Store, counted

_FORGOTTEN: Final = "forgotten"


_SAVED: Final = Next("open it: the workshop file or the template was saved anew since", "look")


@dataclass(frozen=True, slots=True)
class Known:
    """What is remembered of a docket; see `DocketView`."""

    counts: Counts
    next: Next
    latest_job: Latest


class Remembered:
    """Keeps it in the store, and writes only what is another than before; shared by threads.

    Args:
        store: where.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = Lock()
        self._noted: dict[int, object] = {}

    def note(self, view: DocketView, stamp: object) -> None:
        """Remember a docket as it is shown while it lies open.

        Args:
            view: of it.
            stamp: of workshop file and template, see `Tabletop.stamp`.
        """
        known = None
        if view.counts is not None:
            known = {
                "counts": asdict(view.counts),
                "next": asdict(view.next),
                "latest_job": view.latest_job,
                "stamp": repr(stamp),
            }
        with self._lock:
            if self._noted.get(view.number, _FORGOTTEN) == known:
                return
            counted.note(self._store, view.number, known)
            self._noted[view.number] = known

    def of(self, number: int, stamp: object) -> Known | None:
        """What is remembered of a docket; None if it never lay open with pieces to count.

        A job is not sent to be cut where workshop file or template may be others than it was
        made with; only opening the docket shows that.
        """
        known = counted.known(self._store, number)
        if known is None:
            return None
        try:
            found = Known(Counts(**known["counts"]), Next(**known["next"]), known["latest_job"])
            same = known["stamp"] == repr(stamp)
        except (KeyError, TypeError):
            return None  # of a version that counted otherwise
        if found.latest_job == "current" and not same:
            return replace(found, next=_SAVED, latest_job="unsure")
        return found

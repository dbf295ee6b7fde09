"""Desks over a store of their own, and lists to lay on them."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from namebatch.desk import Desk
from namebatch.store import KeptList, open_store

START = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
PLACES = KeptList(
    "cards.csv",
    "name,table,colour,quantity\nWren Teasel,Gull table,teal,2\nTeal,Tern table,,1\n"
    "Zoë 𓅯,Gull table,,1\nInka,Gull table,mauvish,3\nOdile Quill,Gull table,,many\n".encode(),
)
"""Line 4 is held: no typeface has the hieroglyph. Line 5 names no colour that there is, line 6 no
quantity: both are held."""
FOBS = KeptList("crew.csv", b"name,team\nMarlo,Terns\nInka,Terns\nOdile,Gulls\n")
BARE = KeptList("bare.csv", b"who,squad\nMarlo,Terns\nInka,Gulls\n")
"""Headers that no template knows."""


class Clock:
    """A minute later each time it is asked."""

    def __init__(self) -> None:
        self.asked = 0

    def __call__(self) -> datetime:
        """The time."""
        self.asked += 1
        return START + timedelta(minutes=self.asked)


@contextmanager
def desk_in(folder: Path, workers: int = 0) -> Iterator[Desk]:
    """A desk over the store in a folder; it makes its pieces in this process."""
    store = open_store(folder)
    try:
        with Desk(store, workers, Clock()) as opened:
            yield opened
    finally:
        store.close()


def all_made(desk: Desk, number: int) -> None:
    """Wait until every row of a docket was tried."""
    for row in desk.rows(number).rows:
        desk.row(number, row.line)

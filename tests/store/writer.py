"""A process that changes a docket again and again, and says what was saved only once it is.

Run: ``python -m tests.store.writer FOLDER DOCKET FIRST COUNT``: settings ``n<FIRST>`` … are set.
"""

import sys
from datetime import UTC, datetime
from pathlib import Path

from namebatch.store import Change, history, open_store


def main(folder: str, docket: str, first: str, count: str) -> None:
    """Write and tell."""
    store = open_store(Path(folder))
    for number in range(int(first), int(first) + int(count)):
        at = datetime(2031, 5, 4, tzinfo=UTC)
        padding = "Teasel " * (number % 40)
        change = Change(settings={f"n{number}": number, "last": padding})
        history.change(store, int(docket), f"step {number}", at, change)
        print(number, flush=True)
    store.close()


if __name__ == "__main__":
    main(*sys.argv[1:])

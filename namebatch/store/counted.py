"""What was known of a docket's pieces when it lay open last; looking is no change of it."""

from collections.abc import Mapping
from typing import Any

from namebatch.store.database import Store
from namebatch.store.values import as_json, from_json


def note(store: Store, docket: int, known: Mapping[str, object] | None) -> None:
    """Note it in place of what was known before; None forgets it.

    Nothing is noted of a docket that is not there (any more).

    Raises:
        StoreError: it is no JSON value, or cannot be written.
    """
    value = None if known is None else as_json(known)
    with store.writing() as connection:
        if value is None:
            connection.execute("DELETE FROM counted WHERE docket = ?", (docket,))
        else:
            connection.execute(
                "INSERT OR REPLACE INTO counted SELECT number, ? FROM docket WHERE number = ?",
                (value, docket),
            )


def known(store: Store, docket: int) -> Mapping[str, Any] | None:
    """What was noted last; None if nothing was."""
    with store.reading() as connection:
        row = connection.execute("SELECT value FROM counted WHERE docket = ?", (docket,)).fetchone()
    if row is None:
        return None
    value: Mapping[str, Any] = from_json(row[0])
    return value

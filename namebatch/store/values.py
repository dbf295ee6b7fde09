"""Times, texts and tables as they stand in the database."""

import json
from datetime import UTC, datetime
from typing import Any

from namebatch.errors import StoreError


def said_at(at: datetime) -> str:
    """A time as text that sorts by time: in the world's common one.

    Raises:
        StoreError: it does not say in which zone it is.
    """
    if at.tzinfo is None:
        raise StoreError(f"The time {at.isoformat()} does not say in which zone it is.")
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def moment(text: str) -> datetime:
    """The time of a text that `said_at` made."""
    return datetime.fromisoformat(text)


def plain_text(text: str) -> str:
    """A text that a database can hold: halves of signs become U+FFFD."""
    return (
        text.encode("utf-16", "surrogatepass").decode("utf-16", "replace").replace("\x00", "\ufffd")
    )


def as_json(value: object) -> str:
    """A value as text, the same for equal ones.

    Raises:
        StoreError: it is no JSON value.
    """
    try:
        return json.dumps(value, sort_keys=True, allow_nan=False)
    except (TypeError, ValueError, RecursionError) as error:
        raise StoreError(f"This cannot be kept: {error}.") from error


def from_json(text: str) -> Any:
    """The value of a text that `as_json` made."""
    return json.loads(text)

"""The lists of a docket: the one that counts, and former ones as long as a step leads to them."""

import sqlite3
from typing import Final

from namebatch.errors import StoreError
from namebatch.names.limits import FILE_BYTES
from namebatch.store.model import KeptList
from namebatch.store.values import plain_text

KIND: Final = "list"
"""What is kept of a docket under this kind is the key of its list."""


def add(connection: sqlite3.Connection, docket: int, names: KeptList) -> str:
    """Lay a list beside those that a docket has.

    Returns:
        Its key; that of the list that counts if it is the very same.

    Raises:
        StoreError: it is too large.
    """
    if len(names.data) > FILE_BYTES:
        raise StoreError(
            f"The list is larger than {FILE_BYTES // 2**20} MiB, more than any list of names "
            "needs. Save the list alone, without pictures, or split it."
        )
    name = plain_text(names.name)
    found = _now(connection, docket)
    if found is not None and found[1] == KeptList(name, names.data, names.pasted):
        return found[0]
    (key,) = connection.execute(
        "SELECT coalesce(max(key), 0) + 1 FROM list WHERE docket = ?", (docket,)
    ).fetchone()
    connection.execute(
        "INSERT INTO list (docket, key, name, pasted, data) VALUES (?, ?, ?, ?, ?)",
        (docket, key, name, names.pasted, names.data),
    )
    return str(key)


def begin_with(connection: sqlite3.Connection, docket: int, names: KeptList) -> None:
    """Give a new docket its list; no step leads back from it.

    Raises:
        StoreError: it is too large.
    """
    key = add(connection, docket, names)
    connection.execute("INSERT INTO kept VALUES (?, ?, '', ?)", (docket, KIND, key))


def now(connection: sqlite3.Connection, docket: int) -> KeptList | None:
    """The list that counts, byte for byte as it came; None as long as there is none."""
    found = _now(connection, docket)
    return None if found is None else found[1]


def prune(connection: sqlite3.Connection, docket: int) -> None:
    """Drop lists that neither count nor are named by a step."""
    connection.execute(
        "DELETE FROM list WHERE docket = :docket AND CAST(key AS TEXT) NOT IN ("
        "SELECT value FROM kept WHERE docket = :docket AND kind = :kind UNION "
        "SELECT coalesce(before, '') FROM part WHERE docket = :docket AND kind = :kind UNION "
        "SELECT coalesce(after, '') FROM part WHERE docket = :docket AND kind = :kind)",
        {"docket": docket, "kind": KIND},
    )


def _now(connection: sqlite3.Connection, docket: int) -> tuple[str, KeptList] | None:
    row = connection.execute(
        "SELECT kept.value, list.name, data, pasted FROM kept JOIN list "
        "ON list.docket = kept.docket AND CAST(list.key AS TEXT) = kept.value "
        "WHERE kept.docket = ? AND kept.kind = ?",
        (docket, KIND),
    ).fetchone()
    return None if row is None else (row[0], KeptList(row[1], bytes(row[2]), bool(row[3])))

"""Dockets: made, listed, opened, copied, renamed, deleted with everything that they hold."""

import shutil
import sqlite3
from collections.abc import Mapping
from datetime import datetime

from namebatch.errors import DiskFullError, NoDocketError, StoreError
from namebatch.names.characters import without_controls
from namebatch.store import lists
from namebatch.store.database import Store
from namebatch.store.model import Deleted, Docket, KeptList, Setting, State
from namebatch.store.values import as_json, moment, plain_text, said_at

LONGEST_TITLE = 200

_SUMMARY = """
SELECT number, title, created, changed, state, coalesce((
        SELECT list.name FROM kept JOIN list
        ON list.docket = kept.docket AND CAST(list.key AS TEXT) = kept.value
        WHERE kept.docket = number AND kind = 'list'
    ), '') AS list_name, done,
    (SELECT count(*) FROM kept WHERE docket = number AND kind = 'mend') AS mends,
    (SELECT count(*) FROM kept WHERE docket = number AND kind = 'approval') AS approvals,
    (SELECT count(*) FROM job WHERE job.docket = docket.number) AS jobs,
    (SELECT count(*) FROM spoiled WHERE spoiled.docket = docket.number) AS spoiled,
    (SELECT count(*) FROM step WHERE step.docket = docket.number) AS steps
FROM docket
"""


def create(
    store: Store,
    title: str,
    at: datetime,
    names: KeptList | None = None,
    settings: Mapping[str, Setting] | None = None,
) -> Docket:
    """A new docket.

    Args:
        store: where.
        title: for people.
        at: when.
        names: its list, if there is one yet.
        settings: what it begins with; its history begins after that.

    Raises:
        StoreError: it has no title, the list is too large, or the database cannot be written.
    """
    title, when = plain_title(title), said_at(at)
    with store.writing() as connection:
        number = _insert(connection, title, when, State.LIST)
        if names is not None:
            lists.begin_with(connection, number, names)
        connection.executemany(
            "INSERT INTO kept (docket, kind, name, value) VALUES (?, 'setting', ?, ?)",
            [(number, name, as_json(value)) for name, value in (settings or {}).items()],
        )
        return _docket(connection, number)


def all_dockets(store: Store) -> tuple[Docket, ...]:
    """All dockets, the one that was changed last first."""
    with store.reading() as connection:
        rows = connection.execute(f"{_SUMMARY} ORDER BY changed DESC, number DESC").fetchall()
    return tuple(_of(row) for row in rows)


def docket(store: Store, number: int) -> Docket:
    """One docket.

    Raises:
        StoreError: there is none of this number.
    """
    with store.reading() as connection:
        return _docket(connection, number)


def deleted(store: Store, number: int) -> bool:
    """Whether there was a docket of this number here, and there is none any more."""
    with store.reading() as connection:
        row = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'docket'").fetchone()
        last = int(row[0]) if row else 0  # numbers are never given twice
        there = connection.execute("SELECT 1 FROM docket WHERE number = ?", (number,)).fetchone()
    return 1 <= number <= last and there is None


def kept_list(store: Store, number: int) -> KeptList | None:
    """The list of a docket, byte for byte as it came; None as long as there is none.

    Raises:
        StoreError: there is no such docket.
    """
    with store.reading() as connection:
        _docket(connection, number)
        return lists.now(connection, number)


def set_state(store: Store, number: int, state: State, at: datetime) -> Docket:
    """Say where a docket stands.

    Raises:
        StoreError: there is no such docket.
    """
    with store.writing() as connection:
        touch(connection, number, at)
        connection.execute("UPDATE docket SET state = ? WHERE number = ?", (state.value, number))
        return _docket(connection, number)


def copy(store: Store, number: int, title: str, at: datetime) -> Docket:
    """A docket with the same list, settings and changes by hand.

    It begins a history of its own; approvals and jobs stay with the first one.

    Raises:
        StoreError: there is no such docket, or the title is empty.
    """
    title, when = plain_title(title), said_at(at)
    with store.writing() as connection:
        _docket(connection, number)
        new = _insert(connection, title, when, State.LOOK)
        names = lists.now(connection, number)
        if names is not None:
            lists.begin_with(connection, new, names)
        connection.execute(
            "INSERT INTO kept SELECT ?, kind, name, value FROM kept "
            "WHERE docket = ? AND kind NOT IN ('approval', 'list')",
            (new, number),
        )
        return _docket(connection, new)


def delete(store: Store, number: int) -> Deleted:
    """Delete a docket with all its data: list, choices, history, and the files of its jobs.

    Raises:
        StoreError: there is no such docket, or the database cannot be written.
    """
    try:
        _delete(store, number)
    except DiskFullError as error:
        raise DiskFullError(
            f"{error.what} Remove the folder {store.docket_folder(number) / 'jobs'} by hand, with "
            "the files of its jobs; then delete the docket again."
        ) from error
    return finish_deleting(store)


def _delete(store: Store, number: int) -> None:
    with store.writing() as connection:
        _docket(connection, number)
        # noted first, so that what is interrupted here is ended at the next start
        connection.execute("INSERT INTO leaving VALUES (?)", (number,))
        connection.execute("DELETE FROM docket WHERE number = ?", (number,))


def finish_deleting(store: Store) -> Deleted:
    """Remove what deleted dockets have left on the disk; done at every start, too.

    Returns:
        What still could not be removed.
    """
    with store.reading() as connection:
        numbers = [number for (number,) in connection.execute("SELECT docket FROM leaving")]
    left = [told for number in numbers for told in _remove_files(store, number)]
    if numbers and not store.scrub():
        left.append("another namebatch still reads or writes the database")
    if numbers and not left:
        with store.writing() as connection:
            some = [(number,) for number in numbers]
            connection.executemany("DELETE FROM leaving WHERE docket = ?", some)
    return Deleted(not left, tuple(left))


def touch(connection: sqlite3.Connection, number: int, at: datetime) -> None:
    """Say when a docket was changed.

    Raises:
        StoreError: there is no such docket.
    """
    done = connection.execute(
        "UPDATE docket SET changed = ? WHERE number = ?", (said_at(at), number)
    )
    if not done.rowcount:
        raise _none(number)


def _remove_files(store: Store, number: int) -> list[str]:
    folder = store.docket_folder(number)
    try:
        shutil.rmtree(folder)
    except FileNotFoundError:
        return []
    except OSError as error:
        return [f"{folder}: {error.strerror}"]
    return []


def _insert(connection: sqlite3.Connection, title: str, when: str, state: State) -> int:
    done = connection.execute(
        "INSERT INTO docket (title, created, changed, state) VALUES (?, ?, ?, ?)",
        (title, when, when, state.value),
    )
    return int(done.lastrowid or 0)


def _docket(connection: sqlite3.Connection, number: int) -> Docket:
    row = connection.execute(f"{_SUMMARY} WHERE number = ?", (number,)).fetchone()
    if row is None:
        raise _none(number)
    return _of(row)


def _of(row: tuple[object, ...]) -> Docket:
    number, title, created, changed, state, name, done, *counts, steps = row
    mends, approvals, jobs, spoiled = (int(str(count)) for count in counts)
    return Docket(
        number=int(str(number)),
        title=str(title),
        created=moment(str(created)),
        changed=moment(str(changed)),
        state=State(str(state)),
        list_name=str(name),
        mends=mends,
        approvals=approvals,
        jobs=jobs,
        spoiled=spoiled,
        can_undo=int(str(done)) > 0,
        can_redo=int(str(done)) < int(str(steps)),
    )


def _none(number: int) -> StoreError:
    return NoDocketError(f"There is no docket {number:04d}. It may have been deleted.")


def plain_title(title: str) -> str:
    """A title in one line, as it is kept: without control signs and turned reading.

    Raises:
        StoreError: there is nothing in it.
    """
    title = " ".join(plain_text(without_controls(title)).split())[:LONGEST_TITLE].rstrip()
    if not title:
        raise StoreError("The docket has no title. Give it one, for example what is made for whom.")
    return title

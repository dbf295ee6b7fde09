"""What was done in a docket, step by step; every step can be taken back and taken again."""

import sqlite3
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from namebatch.names.mend import mend_of, plain_mend
from namebatch.store import lists
from namebatch.store.database import Store
from namebatch.store.dockets import plain_title, touch
from namebatch.store.model import Change, Choices, Step
from namebatch.store.values import as_json, from_json, moment, plain_text, said_at

SETTING, MEND, APPROVAL = "setting", "mend", "approval"
TITLE = "title"
"""Stands with the docket itself, not with what is kept of it."""

_Part = tuple[str, str, str | None, str | None]
"""Kind, name, value before, value after; None where there is none."""


def choices(store: Store, docket: int) -> Choices:
    """What is chosen now; nothing for a docket that is not there."""
    with store.reading() as connection:
        return _choices(connection, docket)


def steps(store: Store, docket: int) -> tuple[Step, ...]:
    """All steps, those that were taken back too, in order."""
    with store.reading() as connection:
        rows = connection.execute(
            "SELECT step.number, told, at, step.number <= done FROM step "
            "JOIN docket ON docket.number = step.docket WHERE docket = ? ORDER BY step.number",
            (docket,),
        ).fetchall()
    return tuple(Step(n, told, moment(at), bool(done)) for n, told, at, done in rows)


def change(store: Store, docket: int, told: str, at: datetime, wanted: Change) -> Choices:
    """Change something in one step; steps that were taken back are gone for good then.

    Args:
        store: where.
        docket: its number.
        told: what is done, for the history.
        at: when.
        wanted: what is changed; if it is so already, there is no step.

    Returns:
        What is chosen then.

    Raises:
        StoreError: there is no such docket, the title is empty, the list is too large, or it
            cannot be written; nothing was changed.
    """
    values = dict(_values(wanted))
    with store.writing() as connection:
        touch(connection, docket, at)
        if wanted.names is not None:
            values[(lists.KIND, "")] = lists.add(connection, docket, wanted.names)
        parts = [
            (kind, name, before, after)
            for (kind, name), after in values.items()
            if (before := _value(connection, docket, kind, name)) != after
        ]
        if parts:
            _record(connection, docket, plain_text(told), at, parts)
            for kind, name, _, after in parts:
                _put(connection, docket, kind, name, after)
            lists.prune(connection, docket)
        return _choices(connection, docket)


def undo(store: Store, docket: int, at: datetime) -> Step | None:
    """Take the last step back.

    Returns:
        The step, or None if there is none to take back.

    Raises:
        StoreError: there is no such docket.
    """
    with store.writing() as connection:
        touch(connection, docket, at)
        done = _done(connection, docket)
        return _walk(connection, docket, done, done - 1) if done else None


def redo(store: Store, docket: int, at: datetime) -> Step | None:
    """Take the step again that was taken back last.

    Returns:
        The step, or None if there is none.

    Raises:
        StoreError: there is no such docket.
    """
    with store.writing() as connection:
        touch(connection, docket, at)
        done = _done(connection, docket)
        return _walk(connection, docket, done + 1, done + 1)


def _walk(connection: sqlite3.Connection, docket: int, number: int, done: int) -> Step | None:
    """Put the values before or after a step in place; `done` is the last step that counts then."""
    row = connection.execute(
        "SELECT told, at FROM step WHERE docket = ? AND number = ?", (docket, number)
    ).fetchone()
    if row is None:
        return None
    back = done < number
    parts = connection.execute(
        "SELECT kind, name, before, after FROM part WHERE docket = ? AND step = ?",
        (docket, number),
    ).fetchall()
    for kind, name, before, after in parts:
        _put(connection, docket, kind, name, before if back else after)
    connection.execute("UPDATE docket SET done = ? WHERE number = ?", (done, docket))
    return Step(number, row[0], moment(row[1]), not back)


def _record(
    connection: sqlite3.Connection, docket: int, told: str, at: datetime, parts: list[_Part]
) -> None:
    done = _done(connection, docket)
    connection.execute("DELETE FROM step WHERE docket = ? AND number > ?", (docket, done))
    number = done + 1
    connection.execute("INSERT INTO step VALUES (?, ?, ?, ?)", (docket, number, told, said_at(at)))
    connection.executemany(
        "INSERT INTO part VALUES (?, ?, ?, ?, ?, ?)",
        [(docket, number, *part) for part in parts],
    )
    connection.execute("UPDATE docket SET done = ? WHERE number = ?", (number, docket))


def _values(wanted: Change) -> Iterator[tuple[tuple[str, str], str | None]]:
    if wanted.title is not None:
        yield (TITLE, ""), plain_title(wanted.title)
    for name, setting in wanted.settings.items():
        yield (SETTING, plain_text(name)), None if setting is None else as_json(setting)
    for line, mend in wanted.mends.items():
        gone = mend is None or mend.is_empty
        yield (MEND, str(line)), None if mend is None or gone else as_json(plain_mend(mend))
    for line, digest in wanted.approvals.items():
        yield (APPROVAL, str(line)), None if digest is None else as_json(digest)


def _choices(connection: sqlite3.Connection, docket: int) -> Choices:
    rows = connection.execute(
        "SELECT kind, name, value FROM kept WHERE docket = ? ORDER BY kind, name", (docket,)
    ).fetchall()
    of: dict[str, list[tuple[str, Any]]] = {}
    for kind, name, value in rows:
        of.setdefault(kind, []).append((name, from_json(value)))
    return Choices(
        settings=dict(of.get(SETTING, [])),
        mends={line: mend_of(v) for line, v in _by_line(of.get(MEND, []))},
        approvals={line: str(v) for line, v in _by_line(of.get(APPROVAL, []))},
    )


def _by_line(found: list[tuple[str, Any]]) -> list[tuple[int, Any]]:
    return sorted(((int(line), value) for line, value in found), key=lambda pair: pair[0])


def _done(connection: sqlite3.Connection, docket: int) -> int:
    (done,) = connection.execute("SELECT done FROM docket WHERE number = ?", (docket,)).fetchone()
    return int(done)


def _value(connection: sqlite3.Connection, docket: int, kind: str, name: str) -> str | None:
    if kind == TITLE:
        row = connection.execute("SELECT title FROM docket WHERE number = ?", (docket,)).fetchone()
    else:
        row = connection.execute(
            "SELECT value FROM kept WHERE docket = ? AND kind = ? AND name = ?",
            (docket, kind, name),
        ).fetchone()
    return None if row is None else str(row[0])


def _put(
    connection: sqlite3.Connection, docket: int, kind: str, name: str, value: str | None
) -> None:
    if kind == TITLE:
        connection.execute("UPDATE docket SET title = ? WHERE number = ?", (value, docket))
    elif value is None:
        connection.execute(
            "DELETE FROM kept WHERE docket = ? AND kind = ? AND name = ?", (docket, kind, name)
        )
    else:
        connection.execute(
            "INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", (docket, kind, name, value)
        )

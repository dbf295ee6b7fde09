"""What came of a docket: jobs that were written, pieces that were spoiled, marks as measured."""

import sqlite3
from collections.abc import Iterable, Sequence
from datetime import datetime

from namebatch.errors import StoreError
from namebatch.store.database import Store
from namebatch.store.dockets import touch
from namebatch.store.model import MadeJob, MeasuredMark, SpoiledPiece
from namebatch.store.values import moment, said_at


def add_job(store: Store, docket: int, folder: str, digest: str, at: datetime) -> MadeJob:
    """Note a job that was written.

    Args:
        store: where.
        docket: its number.
        folder: name below the docket's folder.
        digest: of the job's manifest.
        at: when.

    Raises:
        StoreError: there is no such docket.
    """
    with store.writing() as connection:
        touch(connection, docket, at)
        (number,) = connection.execute(
            "SELECT coalesce(max(number), 0) + 1 FROM job WHERE docket = ?", (docket,)
        ).fetchone()
        connection.execute(
            "INSERT INTO job VALUES (?, ?, ?, ?, ?)", (docket, number, folder, digest, said_at(at))
        )
    return MadeJob(int(number), folder, digest, at)


def jobs(store: Store, docket: int) -> tuple[MadeJob, ...]:
    """The jobs of a docket in the order in which they were made."""
    with store.reading() as connection:
        rows = connection.execute(
            "SELECT number, folder, digest, at FROM job WHERE docket = ? ORDER BY number",
            (docket,),
        ).fetchall()
    return tuple(MadeJob(n, folder, digest, moment(at)) for n, folder, digest, at in rows)


def set_spoiled(
    store: Store, docket: int, job: int, pieces: Iterable[str], at: datetime
) -> tuple[SpoiledPiece, ...]:
    """Say which pieces of a job are spoiled; those named before and not now are not any more.

    Raises:
        StoreError: there is no such job.
    """
    wanted = dict.fromkeys(pieces)
    with store.writing() as connection:
        touch(connection, docket, at)
        _find_job(connection, docket, job)
        before = {piece.piece for piece in _spoiled(connection, docket) if piece.job == job}
        gone = [(docket, job, piece) for piece in sorted(before - set(wanted))]
        connection.executemany(
            "DELETE FROM spoiled WHERE docket = ? AND job = ? AND piece = ?", gone
        )
        new = [(docket, job, piece, said_at(at)) for piece in wanted if piece not in before]
        connection.executemany("INSERT INTO spoiled VALUES (?, ?, ?, ?)", new)
        return _spoiled(connection, docket)


def spoiled(store: Store, docket: int) -> tuple[SpoiledPiece, ...]:
    """The spoiled pieces of all jobs of a docket."""
    with store.reading() as connection:
        return _spoiled(connection, docket)


def set_measured(
    store: Store, docket: int, job: int, marks: Sequence[MeasuredMark], at: datetime
) -> None:
    """Put the marks of the sheets named there in place of what was measured on them before.

    Raises:
        StoreError: there is no such job, or a mark belongs to another.
    """
    if any(mark.job != job for mark in marks):
        raise StoreError(f"A mark that was measured belongs to another job than {job}.")
    with store.writing() as connection:
        touch(connection, docket, at)
        _find_job(connection, docket, job)
        connection.executemany(
            "DELETE FROM measured WHERE docket = ? AND job = ? AND sheet = ?",
            [(docket, job, sheet) for sheet in dict.fromkeys(mark.sheet for mark in marks)],
        )
        connection.executemany(
            "INSERT OR REPLACE INTO measured VALUES (?, ?, ?, ?, ?, ?)",
            [(docket, job, mark.sheet, mark.mark, mark.x_mm, mark.y_mm) for mark in marks],
        )


def measured(store: Store, docket: int, job: int) -> tuple[MeasuredMark, ...]:
    """Marks as they were measured on the sheets of a job."""
    with store.reading() as connection:
        rows = connection.execute(
            "SELECT job, sheet, mark, x_mm, y_mm FROM measured WHERE docket = ? AND job = ? "
            "ORDER BY sheet, mark",
            (docket, job),
        ).fetchall()
    return tuple(MeasuredMark(*row) for row in rows)


def _spoiled(connection: sqlite3.Connection, docket: int) -> tuple[SpoiledPiece, ...]:
    rows = connection.execute(
        "SELECT job, piece, at FROM spoiled WHERE docket = ? ORDER BY job, at, piece", (docket,)
    ).fetchall()
    return tuple(SpoiledPiece(job, piece, moment(at)) for job, piece, at in rows)


def _find_job(connection: sqlite3.Connection, docket: int, job: int) -> None:
    row = connection.execute(
        "SELECT 1 FROM job WHERE docket = ? AND number = ?", (docket, job)
    ).fetchone()
    if row is None:
        raise StoreError(f"Docket {docket:04d} has no job {job}.")

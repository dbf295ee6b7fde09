"""The file itself: opening it, refusing what is not ours, transactions that last.

Write-ahead log, so that a reader never waits for a writer. ``synchronous = FULL``: a commit comes
back only once the log is on the disk. With ``NORMAL`` the last commits could be lost when the
power fails, and the page would have shown them as saved. `secure_delete` writes zeros over what is
deleted; temporary tables stay in memory, so that no name is left in a file of theirs.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from threading import RLock
from time import monotonic, sleep
from typing import Final

from platformdirs import user_data_path

from namebatch.errors import DiskFullError, StoreError
from namebatch.store.schema import APPLICATION_ID, MIGRATIONS

FILE: Final = "namebatch.sqlite3"
WAIT_SECONDS: Final = 5.0
"""For another process to finish writing."""
PAUSE_SECONDS: Final = 0.02
PRAGMAS: Final = (
    "foreign_keys = ON",
    "synchronous = FULL",
    "fullfsync = ON",  # without it macOS leaves a commit in the disk's own memory
    "checkpoint_fullfsync = ON",
    "secure_delete = ON",
    "temp_store = MEMORY",
    "trusted_schema = OFF",
    "cell_size_check = ON",
)


def default_folder() -> Path:
    """The folder for what is kept of whoever runs the program."""
    return user_data_path("namebatch", appauthor=False)


class Store:
    """An open database and the folder that it lies in; may be shared by threads.

    Args:
        folder: where everything is kept.
        connection: to the database in it.
    """

    def __init__(self, folder: Path, connection: sqlite3.Connection) -> None:
        self.folder = folder
        self._connection = connection
        self._lock = RLock()
        self._closed = False

    @property
    def path(self) -> Path:
        """The database file."""
        return self.folder / FILE

    @property
    def dockets_folder(self) -> Path:
        """Where the folders of all dockets lie."""
        return self.folder / "dockets"

    def docket_folder(self, number: int) -> Path:
        """Where the files of a docket lie."""
        return self.dockets_folder / f"{number:04d}"

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """One state of the database, whatever others write meanwhile.

        Raises:
            StoreError: it cannot be read.
        """
        with self._transaction("BEGIN") as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """All or nothing; once this is left in peace, what was written lasts.

        Raises:
            StoreError: it cannot be written; nothing was changed.
        """
        with self._transaction("BEGIN IMMEDIATE") as connection:
            yield connection

    def scrub(self) -> bool:
        """Write the database file anew and empty its log, so that nothing deleted is left in them.

        `secure_delete` alone does not do it: where pages were split or merged before, copies of
        what stood on them are left in the unused part of others.

        Returns:
            False while somebody else still reads what stands in the log, or writes.
        """
        with self._lock, _told(self.path):
            try:
                self._connection.execute("VACUUM")
            except sqlite3.OperationalError as error:
                if "locked" not in str(error):
                    raise
                return False
            busy, _, _ = self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        return not busy

    def close(self) -> None:
        """End the connection."""
        with self._lock:
            self._closed = True
            self._connection.close()

    @contextmanager
    def _transaction(self, begin: str) -> Iterator[sqlite3.Connection]:
        with self._lock, _told(self.path):
            if self._closed:
                raise StoreError("namebatch is being closed; nothing was changed. Start it again.")
            self._connection.execute(begin)
            try:
                yield self._connection
                self._connection.execute("COMMIT")
            except BaseException:
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise


def open_file(folder: Path | None = None, migrations: Sequence[str] = MIGRATIONS) -> Store:
    """Open the database of a folder; a new folder begins empty.

    Args:
        folder: None for that of whoever runs the program.
        migrations: of the tables.

    Raises:
        StoreError: the folder cannot be used, or what lies there is damaged, of a newer version or
            of another program; nothing there was touched then.
    """
    folder = default_folder() if folder is None else folder
    path = folder / FILE
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise StoreError(
            f"The folder {folder} for what is kept cannot be made: {error.strerror}. Name another "
            "one with --data DIR."
        ) from error
    with _told(path):
        _refuse_others(path, len(migrations))
        connection = sqlite3.connect(
            path, timeout=WAIT_SECONDS, isolation_level=None, check_same_thread=False
        )
        try:
            for pragma in PRAGMAS:
                connection.execute(f"PRAGMA {pragma}")
            _keep_private(path)
            _log_ahead(connection)
            _migrate(connection, path, migrations)
        except BaseException:
            connection.close()
            raise
    return Store(folder, connection)


def _keep_private(path: Path) -> None:
    """For nobody else to read; SQLite gives its log the rights that the database has."""
    for file in (path, *(path.with_name(path.name + end) for end in ("-wal", "-shm"))):
        with suppress(OSError):  # it is not there, or another's
            file.chmod(0o600)


def _log_ahead(connection: sqlite3.Connection) -> None:
    """Turn the write-ahead log on; SQLite itself does not wait for others in this one thing."""
    until = monotonic() + WAIT_SECONDS
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or monotonic() > until:
                raise
            sleep(PAUSE_SECONDS)


def _refuse_others(path: Path, newest: int) -> None:
    """Look at the file without writing a byte."""
    if not path.exists() or path.stat().st_size == 0:
        return
    uri = f"{path.resolve().as_uri()}?mode=ro"
    with closing(sqlite3.connect(uri, uri=True, timeout=WAIT_SECONDS)) as connection:
        found = _number(connection, "application_id")
        if found != APPLICATION_ID and (found or _number(connection, "schema_version")):
            raise StoreError(
                f"{path} is the database of another program. Name another folder with --data DIR."
            )
        _refuse_newer(path, _number(connection, "user_version"), newest)
        (told,) = connection.execute("PRAGMA quick_check(1)").fetchone()
        if told != "ok":
            raise StoreError(_damaged(path))


def _refuse_newer(path: Path, version: int, newest: int) -> None:
    if version > newest:
        raise StoreError(
            f"{path} was written by a newer version of namebatch ({version}; this one knows "
            f"{newest}) and was left as it is. Install the newer version, or name another folder "
            "with --data DIR."
        )


def _migrate(connection: sqlite3.Connection, path: Path, migrations: Sequence[str]) -> None:
    """Bring the tables up to date in one transaction; two that start at once do it once."""
    if _number(connection, "user_version") == len(migrations):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        version = _number(connection, "user_version")
        _refuse_newer(path, version, len(migrations))
        for script in migrations[version:]:
            for statement in filter(str.strip, script.split(";")):
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {len(migrations)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    (value,) = connection.execute(f"PRAGMA {pragma}").fetchone()
    return int(value)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Errors of the database in the words of the trade."""
    try:
        yield
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            what = (
                f"Another namebatch has been writing into {path} for {WAIT_SECONDS:g} s. Nothing "
                "was changed; try again, or close the other one."
            )
        elif "full" in str(error):
            raise DiskFullError(
                f"The disk that {path} lies on is full. Nothing was changed; make room on it."
            ) from error
        elif "readonly" in str(error) or "unable to open" in str(error):
            what = (
                f"{path} may not be written, or not be opened. Nothing was changed. Change the "
                "rights of its folder, or name another folder with --data DIR."
            )
        else:
            what = f"{path} cannot be used: {error}. Nothing was changed."
        raise StoreError(what) from error
    except (sqlite3.IntegrityError, sqlite3.ProgrammingError):
        raise  # a fault of ours and none of the file
    except sqlite3.DatabaseError as error:
        raise StoreError(_damaged(path)) from error


def _damaged(path: Path) -> str:
    return (
        f"{path} is damaged, or no database at all, and was left as it is. Put a copy from a "
        "backup in its place; or move it away, and namebatch begins anew."
    )

"""A store in a folder of its own."""

import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from namebatch.store import KeptList, Store, open_store

START = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
LIST = KeptList("crew.csv", "name\nMarlo Teasel\nZoë Marram\n".encode())


def later(minutes: int) -> datetime:
    """So long after the first docket was made."""
    return START + timedelta(minutes=minutes)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Open for one test."""
    opened = open_store(tmp_path / "data")
    yield opened
    opened.close()


@pytest.fixture(autouse=True)
def all_closed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Close what a test has opened; Python 3.13 warns of what is left to the collector."""
    opened: list[sqlite3.Connection] = []
    connect = sqlite3.connect

    def noted(*args: Any, **options: Any) -> sqlite3.Connection:
        connection: sqlite3.Connection = connect(*args, **options)
        opened.append(connection)
        return connection

    monkeypatch.setattr(sqlite3, "connect", noted)
    yield
    for connection in opened:
        with suppress(sqlite3.ProgrammingError):  # another thread's, which has ended
            connection.close()

"""A store in a folder of its own."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

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

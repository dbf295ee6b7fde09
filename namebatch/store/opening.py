"""Opening what is kept, and ending what was interrupted when it was closed last."""

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from namebatch.errors import StoreError
from namebatch.store.database import Store, open_file
from namebatch.store.dockets import finish_deleting
from namebatch.store.schema import MIGRATIONS


def open_store(folder: Path | None = None, migrations: Sequence[str] = MIGRATIONS) -> Store:
    """Open what is kept in a folder; a new folder begins empty.

    Args:
        folder: None for that of whoever runs the program.
        migrations: of the tables.

    Raises:
        StoreError: the folder cannot be used, or what lies there is damaged, of a newer version or
            of another program; nothing there was touched then.
    """
    store = open_file(folder, migrations)
    with suppress(StoreError):  # on a full disk it is left for another start; nobody is kept out
        finish_deleting(store)
    return store

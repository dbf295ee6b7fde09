"""One server for a folder of dockets: a second one would not see what the first has changed."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from namebatch.errors import StoreError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

FILE: Final = "serving"
_LONGEST: Final = 100
_FAR: Final = 1 << 20  # what Windows locks cannot be read, so it locks where nothing stands


@contextmanager
def alone_in(folder: Path, address: str) -> Iterator[None]:
    """Hold a folder for one server; given back however the process ends.

    Args:
        folder: where dockets are kept; it must exist.
        address: of the page, told to a second one.

    Raises:
        StoreError: another server holds it.
    """
    path = folder / FILE
    try:
        file = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    except OSError as error:
        raise StoreError(
            f"{path} cannot be written: {error.strerror}. Name another folder with --data DIR."
        ) from error
    try:
        if not _lock(file):
            os.lseek(file, 0, os.SEEK_SET)
            there = os.read(file, _LONGEST).decode("ascii", "replace") or "the page that is open"
            raise StoreError(
                f"namebatch is open already for the dockets in {folder}: look at {there}. Use that "
                "one, or name another folder with --data DIR."
            )
        with suppress(OSError):  # on a full disk the address is not noted; the folder is held
            os.ftruncate(file, 0)
            os.write(file, address.encode())
        yield
        with suppress(OSError):
            os.ftruncate(file, 0)
    finally:
        os.close(file)


def _lock(file: int) -> bool:
    """Whether nobody else holds it; the system lets go of it when the process ends."""
    try:
        if sys.platform == "win32":
            os.lseek(file, _FAR, os.SEEK_SET)
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
            os.lseek(file, 0, os.SEEK_SET)
        else:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True

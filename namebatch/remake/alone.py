"""One remake of a job at a time: two at once would take the same folder and the same sheet ids."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from namebatch.errors import RemakeError
from namebatch.measured.jobsheet import REMAKES

try:
    import fcntl
except ImportError:  # a system without such locks: two at once are not kept apart there
    fcntl = None  # type: ignore[assignment]

LOCK: Final = ".remaking"


@contextmanager
def alone(job: Path) -> Iterator[None]:
    """Be the only one that makes pieces of a job again, from choosing the folder to its last file.

    The system lets go of the lock when the run ends, however it ends. A job on a disk that cannot
    be written, or that knows no locks, is made again all the same.

    Args:
        job: folder of the first job.

    Raises:
        RemakeError: another run is at it.
    """
    lock = _opened(job / REMAKES)
    try:
        if lock is not None and fcntl is not None:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise RemakeError(
                    f"Pieces of {job} are being made again by another run. Wait until it is done, "
                    "so that no sheet number is given twice."
                ) from error
            except OSError:
                pass
        yield
    finally:
        if lock is not None:
            os.close(lock)


def _opened(folder: Path) -> int | None:
    """The lock file, made if need be; None where none can be had."""
    with suppress(OSError):
        if folder.parent.is_dir():
            folder.mkdir(exist_ok=True)
            return os.open(folder / LOCK, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
    return None

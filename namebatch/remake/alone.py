"""One remake of a job at a time: two at once would take the same folder and the same sheet ids."""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from pathlib import Path
from typing import BinaryIO

from namebatch.errors import RemakeError
from namebatch.ordinary import open_ordinary
from namebatch.output.manifest import FILE as MANIFEST

try:
    import fcntl
except ImportError:  # a system without such locks: two at once are not kept apart there
    fcntl = None  # type: ignore[assignment]


@contextmanager
def alone(job: Path) -> Iterator[None]:
    """Be the only one that makes pieces of a job again, from choosing the folder to its last file.

    The system lets go of the lock when the run ends, however it ends. Nothing is written for
    it; a job on a disk that knows no locks is made again all the same.

    Args:
        job: folder of the first job.

    Raises:
        RemakeError: another run is at it.
    """
    with _opened(job / MANIFEST) as lock:
        if lock is not None and fcntl is not None:
            try:
                fcntl.flock(lock.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise RemakeError(
                    f"Pieces of {job} are being made again by another run. Wait until it is done, "
                    "so that no sheet number is given twice."
                ) from error
            except OSError:
                pass
        yield


def _opened(manifest: Path) -> AbstractContextManager[BinaryIO | None]:
    """The first job's manifest, which is locked; None where there is none, or it is no file."""
    with suppress(OSError, ValueError):
        return open_ordinary(manifest)
    return nullcontext()

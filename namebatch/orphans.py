"""Worker processes that end with the process that started them, however that ended."""

import os
from multiprocessing import connection, parent_process
from threading import Thread


def end_with_parent() -> None:
    """From now on end at once when the parent process is gone; call it in a worker process.

    A pool's workers wait for work in a pipe whose other end they hold themselves, so that a parent
    that was killed would leave them waiting for ever.
    """
    parent = parent_process()
    if parent is not None:
        Thread(target=_wait_for, args=(parent.sentinel,), daemon=True).start()


def _wait_for(sentinel: int) -> None:
    connection.wait([sentinel])
    os._exit(1)

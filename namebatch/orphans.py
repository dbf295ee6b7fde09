"""Worker processes that end with the process that started them, however that ended."""

import os
from multiprocessing import connection, parent_process, resource_tracker
from threading import Thread


def end_with_parent() -> None:
    """From now on end at once when the parent process is gone; call it in a worker process.

    A pool's workers wait for work in a pipe whose other end they hold themselves, so that a parent
    that was killed would leave them waiting for ever.
    """
    parent = parent_process()
    if parent is not None:
        Thread(target=_wait_for, args=(parent.sentinel,), daemon=True).start()


def count_silently() -> None:
    """Let what killed processes leave be cleared without a word; call it before any is started.

    A process of Python's own clears it, and would warn of it on standard error at the end.
    """
    key = "PYTHONWARNINGS"
    before = os.environ.get(key)
    os.environ[key] = ",".join(filter(None, (before, "ignore:resource_tracker:UserWarning")))
    try:
        resource_tracker.ensure_running()
    finally:
        if before is None:
            del os.environ[key]
        else:
            os.environ[key] = before


def _wait_for(sentinel: int) -> None:
    connection.wait([sentinel])
    os._exit(1)

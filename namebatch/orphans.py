"""Worker processes that end with the process that started them, however that ended."""

import os
import pickle
from collections.abc import Callable
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


def ending_with_parent(work: Callable[..., object]) -> tuple[Callable[..., None], bytes]:
    """What a process is to run in the place of some work, so that it ends with its parent.

    What the work itself needs is imported only once that is seen to: importing and compiling take
    long enough to be left behind in the middle.

    Args:
        work: a function of a module.

    Returns:
        ``target`` and first of the ``args`` of a process; the arguments of the work come after it.
    """
    return _run, pickle.dumps(work)


def _run(work: bytes, *given: object) -> None:
    end_with_parent()
    pickle.loads(work)(*given)


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

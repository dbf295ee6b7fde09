"""A call in a process of its own, which may be killed."""

import os
import signal
import time
from collections.abc import Callable


def exit_of(call: Callable[[], object], seconds: float | None = None) -> int:
    """Call something in a forked process.

    Args:
        call: what it does.
        seconds: after which it is killed; None to let it end.

    Returns:
        0 if it came to its end, 1 after an exception, the signal's number below 0 if it was killed.
    """
    child = os.fork()
    if not child:
        code = 1
        try:
            call()
            code = 0
        finally:
            os._exit(code)
    if seconds is not None:
        time.sleep(seconds)
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status)

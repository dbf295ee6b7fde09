"""Leaving the process while threads in it still compute."""

import atexit
import gc
import logging
import os
import sys
from threading import active_count


def leave() -> None:
    """End the process, if anything in it still computes; come back if nothing does.

    Python shuts down under threads that cannot be joined, and geometry that is being computed in
    one then breaks down. All that is kept has to be closed by now.
    """
    gc.freeze()  # nothing is left to be closed; Python would look through all for seconds
    if active_count() > 1:
        logging.disable()  # whoever computes finds closed what it would hand its work to
        atexit._run_exitfuncs()  # lists that lie in temporary folders are removed
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(0)

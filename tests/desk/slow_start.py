"""A worker whose modules take for ever to import, as where all is compiled first."""

import os
import time
from multiprocessing import parent_process
from multiprocessing.connection import Connection
from pathlib import Path


def run(line: Connection) -> None:
    """Never comes to this."""


if parent_process() is not None:
    Path(os.environ["NAMEBATCH_TOLD"]).write_text(f"{os.getpid()}")
    time.sleep(600)

"""Workers that end or stick while they make a row; run in processes of their own."""

import os
import time
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path

from namebatch.desk.shown import Shown
from namebatch.names.row import Row

FALLS = "falls over"
STICKS = "sticks"
ONCE = "once:"
"""Before the name of a file that is written before falling over; where it is there all is well."""


def run(line: Connection) -> None:
    """Give rows back as they are; some end the process."""
    with suppress(EOFError, OSError):
        line.send(None)
        while True:
            for row in line.recv().rows:
                _meet(row)
                line.send(Shown(row))


def cannot_start(line: Connection) -> None:
    """End before anything was made."""
    os._exit(9)


def _meet(row: Row) -> None:
    name = row.fields["name"]
    if name == FALLS:
        os._exit(9)
    if name == STICKS:
        time.sleep(600)
    if name.startswith(ONCE) and not Path(name.removeprefix(ONCE)).exists():
        Path(name.removeprefix(ONCE)).touch()
        os._exit(9)


def warms_for_ever(line: Connection) -> None:
    """Never get ready; note which process that is."""
    Path(os.environ["NAMEBATCH_TOLD"]).write_text(f"{os.getpid()}")
    time.sleep(600)


def reads_for_ever(told: Path) -> None:
    """Never come to an end with a picture; note which process that is."""
    told.write_text(f"{os.getpid()}")
    time.sleep(600)

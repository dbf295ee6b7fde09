"""A program that makes a job and waits to be killed: ``python -m tests.desk.killed DATA``."""

import sys
import time
from multiprocessing import active_children
from pathlib import Path

from tests.desk.owner import Waiter, opened

if __name__ == "__main__":
    with opened(Path(sys.argv[1])) as (owner, work):
        docket = owner.docket(template="bag-tag", fill="tight", seconds=600)
        waiter = Waiter(owner, docket)
        work.make(docket)
        waiter.until("stage", "Looking for fewer sheets")
        print(*(child.pid for child in active_children()), flush=True)
        time.sleep(600)

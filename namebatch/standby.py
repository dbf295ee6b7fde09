"""Worker processes that are there soon: split off one that has all in memory already.

Elsewhere than on Linux, where splitting is not safe with every library, each is started from
nothing. What a process does is the same either way.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing import forkserver, get_context
from pathlib import Path
from typing import TYPE_CHECKING, Final

from namebatch.orphans import count_silently

if TYPE_CHECKING:
    from multiprocessing.context import ForkServerContext, SpawnContext

NEEDED: Final = "namebatch.rehearsal"
"""Module that stands by: importing it takes most of the time that a worker needs to begin."""
LONG_BYTES: Final = 4_000
"""A list file from this size on may have rows enough for several processes."""


def worker_context() -> ForkServerContext | SpawnContext:
    """How worker processes are started; what they are split off begins to get ready."""
    if _can_split():
        context = get_context("forkserver")
        context.set_forkserver_preload([NEEDED])
        count_silently()  # what counts has signals its own way, and would undo ours
        try:
            with uninterrupted():  # it stays so there: Ctrl-C is for whoever began it
                forkserver.ensure_running()
        except OSError:
            pass  # for one: the folder of its socket may have too long a name
        else:
            return context
    return get_context("spawn")


def stand_by(list_file: Path) -> None:
    """Get ready what workers are split off, beside whatever this process goes on to do.

    Args:
        list_file: of the job; for a short one no other process will be needed, and what is the
            matter with one that cannot be read is told later.
    """
    try:
        short = list_file.stat().st_size < LONG_BYTES
    except (OSError, ValueError):
        return
    if not short:
        worker_context()


@contextmanager
def uninterrupted() -> Iterator[None]:
    """Let Ctrl-C wait for a while: it comes through afterwards.

    Libraries turn it into faults of their own while they are imported. Processes that are begun
    meanwhile never hear of it.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _can_split() -> bool:
    return sys.platform == "linux"

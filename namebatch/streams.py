"""Standard input, output and errors as a program needs them, whatever it was started with."""

import errno
import os
import sys
from io import BufferedWriter, FileIO, TextIOWrapper
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer as Buffer

_LEFT = (errno.EPIPE, errno.EINVAL)
"""Errors of a pipe whose reader has gone: on Windows it is the second one."""


class Listened(FileIO):
    """A file that goes on where it cannot be written any more, and keeps the reason.

    So a job is made though nobody listens to its words, and a library that ends the process at an
    error while it tidies up hears of none.

    Attributes:
        error: the first one.
    """

    error: OSError | None = None

    def write(self, data: "Buffer") -> int:
        """Write all of it, or do as if."""
        left = memoryview(data).cast("B")
        size = len(left)
        while left and self.error is None:
            try:
                left = left[super().write(left) :]
            except OSError as error:
                self.error = error
        return size


def with_streams() -> Listened | None:
    """Open what is closed, and let a reader of standard output go whenever it likes.

    Returns:
        What standard output is written to; None if it is a terminal.
    """
    closed = _opened()
    if sys.stdin is None:
        sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    if sys.stdout is not None and sys.stdout.isatty():
        return None
    if sys.stdout is None and 1 not in closed:
        return None
    heard = Listened(1, "w", closefd=False)
    if sys.stdout is None:
        sys.stdout = TextIOWrapper(BufferedWriter(heard), "utf-8", "replace")
        return heard
    sys.stdout.flush()
    at_once = bool(getattr(sys.stdout, "write_through", False))
    sys.stdout = TextIOWrapper(
        heard if at_once else BufferedWriter(heard),
        sys.stdout.encoding,
        sys.stdout.errors,
        line_buffering=bool(getattr(sys.stdout, "line_buffering", False)),
        write_through=at_once,
    )
    return heard


def _opened() -> list[int]:
    """Numbers of standard streams that were closed; nothing else can get these numbers now."""
    closed = []
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            closed.append(os.open(os.devnull, os.O_RDWR))
    return closed


def lost_words(heard: Listened | None) -> str:
    """Why words did not reach standard output; empty if they did, or if the reader went away."""
    if heard is None:
        return ""
    sys.stdout.flush()
    if heard.error is None or heard.error.errno in _LEFT:
        return ""
    why = "the disk is full" if heard.error.errno == errno.ENOSPC else heard.error.strerror
    return f"What is said here could not be written to where it is sent: {why}."

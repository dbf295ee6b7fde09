"""Opening files that nobody vouches for: ordinary ones, never a pipe or a device.

Opening a pipe waits for somebody to write to it, and a device may have no end.
"""

import errno
import os
import stat
from pathlib import Path
from typing import BinaryIO

NOT_A_FILE = "it is a pipe or a device, not a file"


def open_ordinary(path: Path) -> BinaryIO:
    """Open a file for reading bytes; links are followed.

    Raises:
        IsADirectoryError: it is a folder.
        OSError: it is a pipe, a socket or a device (`NOT_A_FILE`), is not there, or may not be
            read.
        ValueError: no file can have that name.
    """
    _check(path, path.stat().st_mode)
    waiting = getattr(os, "O_NONBLOCK", 0)  # should a pipe have taken its place since
    descriptor = os.open(path, os.O_RDONLY | waiting | getattr(os, "O_BINARY", 0))
    try:
        _check(path, os.fstat(descriptor).st_mode)
    except OSError:
        os.close(descriptor)
        raise
    return os.fdopen(descriptor, "rb")


def _check(path: Path, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "it is a folder", str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, NOT_A_FILE, str(path))

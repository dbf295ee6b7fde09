"""What to do where something cannot be written: a full disk and a want of rights differ."""

import errno
from pathlib import Path
from typing import Final

_FULL: Final = frozenset({errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)})
_RIGHTS: Final = frozenset({errno.EACCES, errno.EPERM})


def remedy_for(error: OSError, folder: Path) -> str:
    """What to do, as a sentence.

    Args:
        error: as the system gave it.
        folder: where something was to be written.
    """
    if error.errno in _FULL:
        return "Make room on the disk, then try again."
    if error.errno in _RIGHTS:
        return (
            f"Whoever runs namebatch has to be allowed to write in {folder}: change the rights of "
            "that folder, or name another one with --data DIR."
        )
    if error.errno == errno.EROFS:
        return (
            f"The disk that {folder} lies on can be read only: free it for writing, or name "
            "another folder with --data DIR."
        )
    return f"See to the disk that {folder} lies on, or name another folder with --data DIR."

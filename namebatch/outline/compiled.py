"""Compiles loops over vertices where numba is there; without it they run as plain Python."""

import os
from collections.abc import Callable
from functools import cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import Any, TypeVar, cast

F = TypeVar("F", bound=Callable[..., Any])

ROOMS = ("outline", "sheet")
"""Rooms that have compiled loops."""


def compiled(function: F) -> F:
    """Compile a function of numbers and arrays; the machine code is kept for the next run.

    Numbers stay exact as written (no fast maths), so that compiled and plain results agree
    and do not change from one process to the next.
    """
    try:
        from numba import njit
    except ImportError:
        return function
    try:
        kept = njit(cache=True)(function)
    except RuntimeError:
        # nowhere to keep the machine code: compile again in every process
        return cast(F, njit(function))
    _renew_with_all(kept)
    return cast(F, kept)


def _renew_with_all(kept: Any) -> None:
    """Have kept machine code made anew when any compiled loop has changed.

    One function's code holds that of others which it calls, but numba looks only whether the
    module of the function itself has changed: after an update code of both could be mixed.
    """
    file: Any = getattr(getattr(kept, "_cache", None), "_cache_file", None)
    if hasattr(file, "_source_stamp"):
        file._source_stamp = (file._source_stamp, stamp_of(Path(__file__).parent.parent))


@cache
def stamp_of(package: Path) -> str:
    """What all modules with compiled loops are, in one digest.

    Args:
        package: folder of the rooms.
    """
    return sha256(b"".join(module.read_bytes() for module in _modules(package))).hexdigest()


def _modules(package: Path) -> list[Path]:
    """All modules with compiled loops."""
    found = [module for room in ROOMS for module in sorted((package / room).glob("*.py"))]
    return [module for module in found if b"@compiled" in module.read_bytes()]


def is_cold() -> bool:
    """True if nothing has been compiled and kept yet, so that a first run takes longer.

    What was kept before any of these modules changed, as by an update, counts for nothing.
    """
    if find_spec("numba") is None:
        return False
    chosen = os.environ.get("NUMBA_CACHE_DIR")
    kept = Path(chosen) if chosen else Path(__file__).parent / "__pycache__"
    try:
        changed = max(module.stat().st_mtime for module in _modules(Path(__file__).parent.parent))
        return not any(index.stat().st_mtime >= changed for index in kept.rglob("*.nbi"))
    except OSError:
        return True

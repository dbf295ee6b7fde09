"""The folder of cut files that were moved onto a print, and which of them are out of date."""

import json
from pathlib import Path
from typing import Final

from namebatch.output.target import digest_of, is_plain, unchanged_files

FOLDER: Final = "aligned"
_LARGEST: Final = 1 << 20


def outdated(out: Path, fresh: Path) -> tuple[str, ...]:
    """Aligned files in a job folder that belong to other cut files than those about to come.

    Only files that still are as they were written are named: whatever a note beside them claims,
    nobody's own file has its digest.

    Args:
        out: the job folder as it is.
        fresh: where the new files of the job stand.

    Returns:
        Paths below the job folder, sorted.
    """
    found: set[str] = set()
    folder = out / FOLDER
    if folder.is_symlink() or not folder.is_dir():
        return ()
    for path in sorted(folder.glob("*.json")):
        note = _note(path)
        source, digest = note.get("cut_file"), note.get("cut_sha256")
        if not isinstance(source, str) or not is_plain(source):
            continue
        if not (fresh / source).is_file() or digest_of(fresh / source) != digest:
            found.update(unchanged_files(out, note))
            found.add(f"{FOLDER}/{path.name}")
    return tuple(sorted(found))


def _note(path: Path) -> dict[str, object]:
    """What stands beside an aligned file; empty when that makes no sense."""
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST:
            return {}
        content = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return content if isinstance(content, dict) else {}

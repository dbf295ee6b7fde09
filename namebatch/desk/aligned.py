"""Cut files of a job that were moved onto a print, told by the records that lie beside them."""

import json
from collections.abc import Mapping
from typing import Final

from namebatch.desk.jobfolder import JobFolder
from namebatch.output.aligned import FOLDER
from namebatch.output.target import is_plain

_MOST_BYTES: Final = 1 << 20


def aligned_files(folder: JobFolder) -> dict[str, str]:
    """Path → digest of the aligned cut files that belong to a job's cut files as they are.

    Args:
        folder: the job.
    """
    found: dict[str, str] = {}
    for sheet in folder.sheets:
        for path, digest in _recorded(folder, sheet.id).items():
            stem, _, ending = path.rpartition(".")
            if is_plain(path) and stem == f"{FOLDER}/{sheet.id}" and ending in ("svg", "dxf"):
                found[path] = digest
    return found


def _recorded(folder: JobFolder, sheet: str) -> Mapping[str, str]:
    """The files of one sheet's record; none if it is of another cut file."""
    path = folder.folder / FOLDER / f"{sheet}.json"
    try:
        if path.parent.is_symlink() or path.is_symlink() or path.stat().st_size > _MOST_BYTES:
            return {}
        content = json.loads(path.read_bytes())
        same = folder.files.get(content["cut_file"]) == content["cut_sha256"]
        return {str(name): str(digest) for name, digest in content["files"].items() if same}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}

"""The files of a template folder: found by name, never outside of it, and their digest."""

import hashlib
import os
from collections.abc import Mapping
from pathlib import Path, PurePosixPath, PureWindowsPath

from namebatch.template.problems import FileProblem, did_you_mean, shown

MOST_FILES = 1000
MOST_BYTES = 256 * 1024 * 1024
TOML_NAME = "template.toml"


def listed(folder: Path) -> dict[str, Path]:
    """All files of a template by their name inside the folder, ``/`` between parts, sorted.

    Hidden files (a leading dot) do not belong to the template.

    Raises:
        FileProblem: a link leads out of the folder, or there is too much in it.
    """
    root = folder.resolve()
    found: dict[str, Path] = {}
    total = 0
    for where, folders, files in os.walk(root):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted([*files, *folders]):
            path = Path(where) / name
            key = path.relative_to(root).as_posix()
            if name.startswith("."):
                continue
            if path.is_symlink() and not _inside(path, root):
                raise FileProblem(
                    shown(key),
                    "is a link that leads out of the template's folder or nowhere; put the "
                    "file itself there.",
                )
            if not path.is_file():
                continue
            found[key] = path
            total += path.stat().st_size
            if len(found) > MOST_FILES or total > MOST_BYTES:
                raise FileProblem(
                    shown(folder.name),
                    f"holds more than {MOST_FILES} files or {MOST_BYTES >> 20} MiB; keep only "
                    "what the template needs in it.",
                )
    return dict(sorted(found.items()))


def _inside(path: Path, root: Path) -> bool:
    """True if a link ends inside a folder; one that ends nowhere does not."""
    try:
        return path.resolve(strict=True).is_relative_to(root)
    except (OSError, RuntimeError):
        return False


def digest(files: Mapping[str, Path]) -> str:
    """SHA-256 over names and bytes of the files, in order of the names, hexadecimal.

    Lengths go in before what they measure, so that no two folders run together.
    """
    total = hashlib.sha256()
    for name, path in sorted(files.items()):
        key = name.encode("utf-8", "surrogateescape")
        total.update(f"{len(key)}:".encode() + key)
        data = path.read_bytes()
        total.update(f"{len(data)}:".encode() + data)
    return total.hexdigest()


def member(files: Mapping[str, Path], name: str, place: str) -> Path:
    """The file of that name inside the folder.

    Raises:
        FileProblem: the name leads out of the folder, or there is no such file.
    """
    posix = PurePosixPath(name)
    outside = posix.is_absolute() or PureWindowsPath(name).is_absolute() or ".." in posix.parts
    if outside or "\\" in name or ":" in name:
        raise FileProblem(
            place,
            f"{shown(name)} must be a file name inside the template's folder, without .. and "
            "without a drive, / between folders.",
        )
    path = files.get(posix.as_posix())
    if path is None:
        raise FileProblem(
            place, f"there is no file {shown(name)} in the folder; {did_you_mean(name, files)}"
        )
    return path

"""The folder that a job is to be written into: may it be, and which files there are ours."""

import errno
import json
import os
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path, PurePosixPath

from namebatch.errors import OutputError
from namebatch.output.difference import difference
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.swap import put_back

_LARGEST_MANIFEST = 512 * 1024 * 1024
_LONGEST_PATH = 1024
_OURS = (
    *("print.pdf", "proof.pdf", "customer-proof.pdf", "labels.pdf", "workcard.pdf"),
    *("held.csv", "jig.svg", "jig.dxf"),
)
"""Files of every job: found without a manifest, they belong to nobody we know."""


def check_target(
    out: Path,
    replace: bool,
    identity: Mapping[str, object],
    keep_out: Sequence[Path] = (),
) -> None:
    """Refuse a folder that must not be written into.

    Cheap, so that a refusal comes before the work and not after it. Writes nothing, but for what
    a killed run had taken out of the folder: that is put back first.

    Args:
        out: the job folder.
        replace: whether another job in it may be replaced.
        identity: `manifest.identity` of the job to come.
        keep_out: folders that the job folder must neither be nor lie inside, such as the
            template's: what is written there would be read as part of it.

    Raises:
        OutputError: when `out` is no folder, cannot be written, lies where it must not, holds
            another job, or holds files of ours without a manifest.
    """
    out = out.resolve()
    try:
        _check_outside(out, keep_out)
        if not out.exists():
            _check_parent(out)
            return
        put_back(out)
        if not out.is_dir():
            raise OutputError(f"{out} is a file, not a folder. Choose another folder for the job.")
        if not os.access(out, os.W_OK | os.X_OK):
            raise OutputError(f"{out} cannot be written into. Change its rights or choose another.")
        if not replace:
            _check_holds_nothing_else(out, identity)
    except OSError as error:
        raise cannot_write(out, error) from error


def _check_outside(out: Path, keep_out: Sequence[Path]) -> None:
    """Not even with leave to replace: the folders given are what the job is made from."""
    for given in keep_out:
        folder = given.resolve()
        if out == folder or folder in out.parents:
            how = "is" if out == folder else "lies inside"
            raise OutputError(
                f"{out} {how} {folder}, which this job is made from. Choose a folder for the job "
                "outside of it."
            )


def _check_parent(out: Path) -> None:
    """The nearest folder above that exists must take a new one."""
    above = next(folder for folder in out.parents if folder.exists())
    if not above.is_dir():
        raise OutputError(f"{above} is a file, so {out} cannot be made. Choose another folder.")
    if not os.access(above, os.W_OK | os.X_OK):
        raise OutputError(
            f"{out} cannot be made: {above} cannot be written into. "
            "Change its rights or choose another folder."
        )


def _check_holds_nothing_else(out: Path, identity: Mapping[str, object]) -> None:
    """Without leave to replace: our own earlier job, or none at all."""
    manifest = out / MANIFEST
    if manifest.exists() or manifest.is_symlink():
        old = read_manifest(out)
        if any(old.get(key) != value for key, value in identity.items()):
            what = difference(old, identity)
            raise OutputError(
                f"{out} holds another job{_title_of(old)}{': ' if what else ''}{what}. Choose "
                "another folder, or say --replace to make it anew with this job."
            )
        return
    refuse_unknown(out, [name for name in _OURS if os.path.lexists(out / name)])


def refuse_unknown(out: Path, paths: list[str]) -> None:
    """Refuse to write over files that no manifest names as ours.

    Raises:
        OutputError: when `paths` is not empty.
    """
    if paths:
        named = ", ".join(paths[:3]) + (f" and {len(paths) - 3} more" if len(paths) > 3 else "")
        raise OutputError(
            f"{out} already has {named}, which no job.json there lists: from a run that was "
            "broken off, or put there by someone. Move such files away, choose another folder, "
            "or say --replace to write over them."
        )


def refuse_blocked(out: Path, paths: Iterable[str]) -> None:
    """Refuse to write where a folder stands for a file, or a file or link for a folder.

    Not even with leave to replace: a link would take our files elsewhere, and a folder may
    hold anything.

    Raises:
        OutputError: naming the first such place.
    """
    for path in paths:
        folders = [out / parent for parent in PurePosixPath(path).parents][:-1]
        for folder in folders:
            if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
                raise OutputError(
                    f"{folder} is a link or a file where the job needs a folder of its own. "
                    "Move it away or choose another folder."
                )
        if (out / path).is_dir() and not (out / path).is_symlink():
            raise OutputError(
                f"{out / path} is a folder where the job needs a file. "
                "Move it away or choose another folder."
            )


def read_manifest(out: Path) -> dict[str, object]:
    """The manifest that lies in a folder; empty when there is none or it makes no sense."""
    path = out / MANIFEST
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST_MANIFEST:
            return {}
        content = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return content if isinstance(content, dict) else {}


def listed_files(out: Path, old: Mapping[str, object]) -> dict[str, str]:
    """Path → digest of the files that a manifest names and that are there.

    The manifest may come from anywhere: paths that lead out of the folder, through links or to
    anything but a plain file are left out.
    """
    files = old.get("files")
    if not isinstance(files, dict):
        return {}
    return {
        path: digest.lower()
        for path, digest in sorted(files.items())
        if isinstance(digest, str) and is_plain(path) and _is_plain_file(out, path)
    }


def unchanged_files(out: Path, old: Mapping[str, object]) -> tuple[str, ...]:
    """Those of the listed files that are still as they were written.

    Only they may be removed without being written anew: whatever else a manifest claims,
    nobody's own file has its digest.
    """
    listed = listed_files(out, old)
    return tuple(path for path, digest in listed.items() if digest_of(out / path) == digest)


def _is_plain_file(out: Path, path: str) -> bool:
    """True for a file inside the folder with no link on the way to it."""
    try:
        steps = [out / path, *(out / parent for parent in PurePosixPath(path).parents)][:-1]
        return not any(step.is_symlink() for step in steps) and (out / path).is_file()
    except (OSError, ValueError):
        return False


def is_plain(path: str) -> bool:
    """True for a relative path with ``/`` that cannot lead out of a folder on any system."""
    pure = PurePosixPath(path)
    clean = not any(mark in path for mark in ("\\", ":", "\0"))
    inside = not pure.is_absolute() and bool(pure.parts) and ".." not in pure.parts
    return clean and inside and len(path) <= _LONGEST_PATH


def digest_of(file: Path) -> str:
    """SHA-256 of a file, hexadecimal."""
    digest = sha256()
    with file.open("rb") as stream:
        while block := stream.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()


def _title_of(old: Mapping[str, object]) -> str:
    """Which job that is, if it says so."""
    name = old.get("template")
    return f' (template "{name[:60]}")' if isinstance(name, str) and name.isprintable() else ""


def cannot_write(out: Path, error: OSError) -> OutputError:
    """The system's refusal in plain words."""
    return OutputError(f"The job cannot be written to {out}: {_reason(error)}")


def _reason(error: OSError) -> str:
    where = f" ({error.filename})" if error.filename else ""
    match error.errno:
        case errno.ENOSPC | errno.EDQUOT:
            return "the disk is full. Make room or choose a folder on another disk."
        case errno.EACCES | errno.EPERM:
            return f"it may not be written{where}. Change the rights or choose another folder."
        case errno.EROFS:
            return "that disk can only be read. Choose a folder on another disk."
        case errno.ENAMETOOLONG:
            return "the folder's name is too long. Choose a shorter one."
        case errno.ENOTEMPTY | errno.EEXIST:
            return f"something else was put there meanwhile{where}. Make the job again."
        case _:
            return f"{error.strerror or error}{where}. Choose another folder."

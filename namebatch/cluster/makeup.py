"""What files depend on beside the job: the program, what it is built on, the typefaces."""

import platform
import re
import sys
import zlib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from importlib import metadata
from pathlib import Path
from typing import Final, TypeAlias

from namebatch import __version__
from namebatch.errors import FontError
from namebatch.output.target import digest_of
from namebatch.sections.task import Kit
from namebatch.text.catalogue import load_catalogue

Makeup: TypeAlias = Mapping[str, str]
"""What → its version, or the SHA-256 of its file; empty if it is missing."""

_NAME: Final = re.compile(r"[A-Za-z0-9._-]+")
_ELSEWHERE: Final = {
    "charset-normalizer",
    "fastapi",
    "platformdirs",
    "python-calamine",
    "python-multipart",
    "rich",
    "typer",
    "uvicorn",
}
"""They read lists or serve pages: no worker uses them."""
_TYPEFACE: Final = "typeface"
_FACES: Final = ("fontpkg", "manimgx-fonts")
"""Packages of typefaces: their files are compared, not their versions."""


def packages() -> tuple[str, ...]:
    """Names of all packages that files may depend on."""
    try:
        asked = metadata.requires("namebatch") or []
    except metadata.PackageNotFoundError:
        return ()
    names = [match[0] for text in asked if "extra ==" not in text and (match := _NAME.match(text))]
    return tuple(
        sorted(name for name in names if name not in _ELSEWHERE and not name.startswith(_FACES))
    )


def makeup(names: Sequence[str], kit: object) -> Makeup:
    """What is installed in this process.

    Args:
        names: of packages.
        kit: whose typefaces are looked at, if it is one of sections.
    """
    found = {
        "namebatch": __version__,
        "Python": ".".join(map(str, sys.version_info[:2])),
        "processor": platform.machine(),
        "C library": " ".join(platform.libc_ver()),
        "zlib": zlib.ZLIB_RUNTIME_VERSION,
    }
    found |= {name: _version(name) for name in names}
    return found | (_typefaces(kit) if isinstance(kit, Kit) else {})


def differences(there: Makeup, here: Makeup) -> list[str]:
    """What a worker has otherwise than this machine, in words; nothing if it is the same.

    With another namebatch no more than that is told.
    """
    own = here["namebatch"]
    if there["namebatch"] != own:
        return [f"namebatch {there['namebatch']}, here {own}"]
    return [
        _difference(what, there.get(what, ""), here.get(what, ""))
        for what in (*here, *(what for what in there if what not in here))
        if there.get(what, "") != here.get(what, "")
    ]


def _difference(what: str, there: str, here: str) -> str:
    if not there:
        return f"{what} is missing"
    if not here:
        return f"{what} is there, and missing here"
    if what.startswith(_TYPEFACE):
        return f"{what} is another file than here"
    return f"{what} {there}, here {here}"


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


def _typefaces(kit: Kit) -> dict[str, str]:
    """Every typeface that could be taken, with the digest of its file."""
    catalogue = load_catalogue(Path(kit.template.folder), kit.font)
    paths = {info.name: info.path for info in catalogue.infos}
    names = [kit.font, *(name for box in kit.template.boxes for name in box.fonts)]
    for name in dict.fromkeys(filter(None, names)):
        try:
            paths[name] = catalogue.info(name).path
        except FontError:
            paths.pop(name, None)
    return {f'{_TYPEFACE} "{name}"': _digest(path) for name, path in sorted(paths.items())}


def _digest(path: Path) -> str:
    try:
        told = path.stat()
        return _digest_once(path, told.st_mtime_ns, told.st_size)
    except OSError:
        return ""


@lru_cache(maxsize=4096)
def _digest_once(path: Path, changed: int, size: int) -> str:
    return digest_of(path)

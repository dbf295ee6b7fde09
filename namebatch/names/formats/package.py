"""The ZIP package that an XLSX or ODS file is, unpacked within limits.

The parts are read here, by the sizes that the directory states and no further, and handed on
in a new package without compression: whatever reads that cannot be made to unpack more.
"""

import io
import zipfile
from collections.abc import Mapping
from typing import Final

from namebatch.errors import ListError
from namebatch.names import limits

_KEPT: Final = (".xml", ".rels")
_METHODS: Final = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_NO_STARTS: Final = (b"</", b"<!", b"<?")
"""What begins with the sign of an element and is none."""
_EPOCH: Final = (1980, 1, 1, 0, 0, 0)


def part_names(data: bytes) -> frozenset[str]:
    """Names of the parts of a package; empty if the bytes are no ZIP package."""
    if not data.startswith(b"PK"):
        return frozenset()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            return frozenset(package.namelist())
    except Exception:  # any damage at all means the same here: not a package
        return frozenset()


def part_start(data: bytes, part: str, size: int = 200) -> bytes:
    """The first bytes of one part; empty if there is no such part or no package."""
    if not data.startswith(b"PK"):
        return b""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package, package.open(part) as stream:
            return stream.read(size)
    except Exception:  # as above: not a package, or not one with that part
        return b""


def unpack(data: bytes, name: str) -> Mapping[str, bytes]:
    """The XML parts of a package, by name; pictures and the like are left out.

    Args:
        data: the file.
        name: of the file, for messages.

    Raises:
        ListError: if it is damaged, encrypted, or larger unpacked than the limits allow.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            entries = package.infolist()
            _refuse_bombs(entries, name)
            parts = {
                entry.filename: _content(package, entry)
                for entry in entries
                if entry.filename.endswith(_KEPT) or entry.filename == "mimetype"
            }
    except (ListError, MemoryError):
        raise
    except Exception as error:  # zipfile raises a dozen kinds for damaged packages
        raise damaged(name) from error
    _refuse_markup(parts, name)
    return parts


def repack(parts: Mapping[str, bytes]) -> io.BytesIO:
    """The parts in a package of stored, never compressed, entries."""
    stored = io.BytesIO()
    with zipfile.ZipFile(stored, "w") as package:
        for part, content in parts.items():
            package.writestr(zipfile.ZipInfo(part, _EPOCH), content)
    stored.seek(0)
    return stored


def damaged(name: str) -> ListError:
    """The error for a spreadsheet that cannot be opened."""
    return ListError(
        f'"{name}" is damaged or not a complete spreadsheet. Open it in the program it was made '
        "with, save it again, or save the list as CSV."
    )


def _content(package: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    """One part; asked for its size, the reader unpacks no more than that."""
    with package.open(entry) as stream:
        return stream.read(entry.file_size)


def _refuse_markup(parts: Mapping[str, bytes], name: str) -> None:
    signs = sum(content.count(b"<") for content in parts.values())
    others = sum(content.count(sign) for content in parts.values() for sign in _NO_STARTS)
    if signs > limits.MARKUP or signs - others > limits.ELEMENTS:
        raise ListError(
            f'"{name}" has more cells and other elements in it than any list needs. Delete columns '
            "and sheets that are not needed, or save the list alone as CSV."
        )


def _refuse_bombs(entries: list[zipfile.ZipInfo], name: str) -> None:
    if len(entries) > limits.ZIP_PARTS:
        raise ListError(
            f'"{name}" is packed from {len(entries):,} parts; a list has at most '
            f"{limits.ZIP_PARTS:,}. Save the list as CSV."
        )
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > limits.UNZIPPED_BYTES:
        raise ListError(
            f'"{name}" would unpack to {unpacked / 2**20:,.0f} MiB; at most '
            f"{limits.UNZIPPED_BYTES // 2**20} MiB are read. Save the list alone as CSV."
        )
    if any(entry.compress_type not in _METHODS for entry in entries):
        raise ListError(
            f'"{name}" is packed in a way that spreadsheets do not use. Save the list as CSV.'
        )
    if any(entry.flag_bits & 1 for entry in entries):
        raise ListError(f'"{name}" has a password. Save it without one, or as CSV.')

"""All files of a job in one ZIP, written while it is sent."""

import zipfile
from collections.abc import Iterator, Mapping
from io import RawIOBase
from pathlib import Path
from typing import Any, Final

from namebatch.errors import OutputError

EARLIEST: Final = (1980, 1, 1, 0, 0, 0)
"""Of every file: what is the same is to come out the same."""
READABLE: Final = 0o644 << 16
BLOCK: Final = 1 << 18
PACKED: Final = frozenset({".pdf"})
"""What is compressed in itself."""


def zipped(files: Mapping[str, Path]) -> Iterator[bytes]:
    """A ZIP of files, piece by piece.

    Args:
        files: path in the ZIP → file.

    Raises:
        OutputError: a file can no longer be read; what was sent is no ZIP then.
    """
    sink = _Sink()
    try:
        with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
            for name, path in files.items():
                info = zipfile.ZipInfo(name, EARLIEST)
                info.external_attr = READABLE
                info.create_system = 3
                stored = path.suffix in PACKED
                info.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
                info.file_size = path.stat().st_size
                with path.open("rb") as source, archive.open(info, "w") as target:
                    while block := source.read(BLOCK):
                        target.write(block)
                        yield from sink.taken()
        yield from sink.taken()
    except OSError as error:
        raise OutputError(f"{error.filename} cannot be read: {error.strerror}.") from error


class _Sink(RawIOBase):
    """A file that can only be written to, and from which what was written is taken away."""

    def __init__(self) -> None:
        self._blocks: list[bytes] = []

    def writable(self) -> bool:
        """It is, and cannot be read or sought."""
        return True

    def write(self, data: Any, /) -> int:
        """Keep it till it is taken."""
        block = bytes(data)
        self._blocks.append(block)
        return len(block)

    def taken(self) -> list[bytes]:
        """What was written since the last time."""
        blocks, self._blocks = self._blocks, []
        return blocks
